'use client'

import { useState } from 'react'
import { formatInstant } from '../../../../_ui/formats'
import { shrunk } from '../../../../_ui/shrink-photo'
import type { SeenCheck } from './as-seen-here'

/** What the server takes at most. */
const mostBytes = 20 * 1024 * 1024

/** Photos of what the check found, and the camera. */
export function PhotosOfCheck({
  row,
  zone,
  onPhoto,
}: {
  row: SeenCheck
  zone: string
  onPhoto: (bytes: Blob) => void
}) {
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
        <ul className="flex flex-wrap gap-2">
          {row.photos.map(({ id, caption, who, takenAt }) => (
            <li key={id}>
              <a href={`/api/v1/photos/${id}`} className="block border border-edge">
                {/* biome-ignore lint/performance/noImgElement: it is kept small already, and behind sign-in. */}
                <img
                  src={`/api/v1/photos/${id}?size=small`}
                  alt={`${caption || row.check.title}, taken by ${who}, ${formatInstant(takenAt, zone)}`}
                  className="size-24 object-cover"
                />
              </a>
            </li>
          ))}
        </ul>
      )}
      {row.photosOnTheirWay > 0 && (
        <p className="text-soft">
          {row.photosOnTheirWay === 1 ? '1 photo' : `${row.photosOnTheirWay} photos`} on the way.
        </p>
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
