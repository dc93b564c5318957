import { useState } from 'react'
import { formatInstant } from '../../../../_ui/formats'
import { MarksOver, marksInWords } from '../../../../_ui/marked-photo'
import { stateWords } from '../../../../_ui/outbox/words'
import type { SeenPhoto } from './photos-seen'
import { usePicture } from './use-picture'

type Size = { width: number; height: number }

/** One photo of a check, small, with what is drawn beside it, where both are, and the way to draw. */
export function PhotoTile({
  photo,
  title,
  zone,
  onMark,
}: {
  photo: SeenPhoto
  /** Of the check. */
  title: string
  zone: string
  /** Told how large the picture is. */
  onMark: (size: Size) => void
}) {
  const { id, caption, who, takenAt, marks, photoHere } = photo
  const src = usePicture(photo)
  const [measured, setMeasured] = useState<Size | null>(null)
  const [missing, setMissing] = useState<string | null>(null)
  const isMissing = src === null || (src !== undefined && src === missing)
  const size = photo.size ?? measured
  const drawn = marksInWords(marks)
  const alt = [`${caption || title}, taken by ${who}, ${formatInstant(takenAt, zone)}`, drawn]
  const picture = (
    <span className="relative block aspect-4/3 w-full bg-wash">
      {src && !isMissing && (
        // biome-ignore lint/performance/noImgElement: it is kept small already, and behind sign-in.
        <img
          src={src}
          alt={alt.filter(Boolean).join('. ')}
          className="size-full object-contain"
          onLoad={({ currentTarget: { naturalWidth: width, naturalHeight: height } }) =>
            setMeasured({ width, height })
          }
          // It may have failed before this script was there to hear of it.
          ref={(image) => {
            if (image?.complete && image.naturalWidth === 0) setMissing(src)
          }}
          onError={() => setMissing(src)}
        />
      )}
      {src && !isMissing && size && <MarksOver marks={marks} {...size} />}
      {isMissing && (
        <span className="block p-3 text-soft">
          {photoHere ? 'This picture cannot be shown here.' : 'This picture is not kept on this device.'}
        </span>
      )}
    </span>
  )
  return (
    <li className="flex flex-col gap-2">
      {photoHere ? (
        <span className="block border border-edge">{picture}</span>
      ) : (
        <a href={`/api/v1/photos/${id}`} className="block border border-edge text-ink">
          {picture}
        </a>
      )}
      <Where photo={photo} />
      {photoHere?.state !== 'refused' && !isMissing && (
        <button
          type="button"
          className="btn-quiet"
          disabled={!src || !size}
          onClick={() => size && onMark(size)}
        >
          {marks.length > 0 ? 'Change marks' : 'Mark it'}
          <span className="sr-only">: photo of {formatInstant(takenAt, zone)}</span>
        </button>
      )}
    </li>
  )
}

/** Said only of what the page does not show from the server yet. */
function Where({ photo: { photoHere, drawingHere } }: { photo: SeenPhoto }) {
  if (!photoHere && !drawingHere) return null
  return (
    <p className="text-soft">
      {photoHere && `Photo ${stateWords(photoHere)}`}
      {photoHere && drawingHere && <br />}
      {drawingHere && `Marks ${stateWords(drawingHere)}`}
    </p>
  )
}
