'use client'

import { useState } from 'react'
import type { PhotoMark } from '../../../../../lib/shop/photo-marks'
import { shrunk } from '../../../../_ui/shrink-photo'
import type { SeenCheck } from './as-seen-here'
import { MarkDialog } from './mark-dialog'
import { PhotoTile } from './photo-tile'
import type { SeenPhoto } from './photos-seen'

type Marking = { id: string; size: { width: number; height: number } }

/** What the server takes at most. */
const mostBytes = 20 * 1024 * 1024

/** Photos of what the check found, to be drawn on, and the camera. */
export function PhotosOfCheck({
  row,
  zone,
  onPhoto,
  onDraw,
}: {
  row: SeenCheck
  zone: string
  onPhoto: (bytes: Blob) => void
  onDraw: (photo: SeenPhoto, marks: readonly PhotoMark[]) => void
}) {
  const [marking, setMarking] = useState<Marking | null>(null)
  const marked = row.photos.find(({ id }) => id === marking?.id)
  const [problem, setProblem] = useState<string | null>(null)

  async function take(input: HTMLInputElement) {
    const [file] = input.files ?? []
    if (!file) return
    // Read at once: a browser may drop the file behind a chosen photo before it is sent.
    const bytes = await file.arrayBuffer()
    input.value = ''
    const photo = await shrunk(new Blob([bytes], { type: file.type }))
    if (photo.size > mostBytes) {
      setProblem('This photo is larger than 20 MB. Take a smaller one.')
      return
    }
    setProblem(null)
    onPhoto(photo)
  }

  return (
    <div className="flex flex-col gap-2">
      {row.photos.length > 0 && (
        <ul className="grid grid-cols-[repeat(auto-fill,minmax(9rem,1fr))] gap-3">
          {row.photos.map((photo) => (
            <PhotoTile
              key={photo.id}
              photo={photo}
              title={row.check.title}
              zone={zone}
              onMark={(size) => setMarking({ id: photo.id, size })}
            />
          ))}
        </ul>
      )}
      {marking && marked && (
        <MarkDialog
          photo={marked}
          size={marking.size}
          title={row.check.title}
          onDraw={onDraw}
          onClose={() => setMarking(null)}
        />
      )}
      <label className="btn-quiet has-focus-visible:outline-3 has-focus-visible:outline-ink">
        <input
          type="file"
          accept="image/jpeg,image/png,image/webp"
          capture="environment"
          className="sr-only"
          onChange={(event) => void take(event.currentTarget)}
        />
        Take a photo
      </label>
      {problem && (
        <p role="alert" className="font-semibold text-plum">
          {problem}
        </p>
      )}
    </div>
  )
}
