import type { PhotoShown } from '../../../../lib/shop/read-bike'
import { formatInstant } from '../../../_ui/formats'
import { AddPhotos } from './add-photos'

/** Photos of the bike, small, and the camera. */
export function Photos({
  bike,
  person,
  zone,
  photos,
}: {
  bike: string
  person: string
  zone: string
  photos: readonly PhotoShown[]
}) {
  return (
    <div className="flex flex-col gap-4">
      {photos.length > 0 ? (
        <ul className="grid grid-cols-2 gap-3 sm:grid-cols-4">
          {photos.map(({ id, caption, takenAt }) => (
            <li key={id}>
              <a href={`/api/v1/photos/${id}`} className="block border border-edge">
                {/* biome-ignore lint/performance/noImgElement: it is kept small already, and behind sign-in. */}
                <img
                  src={`/api/v1/photos/${id}?size=small`}
                  alt={caption || `Photo of ${formatInstant(takenAt, zone)}`}
                  className="aspect-4/3 w-full object-cover"
                />
              </a>
            </li>
          ))}
        </ul>
      ) : (
        <p className="no-print text-soft">None yet. The camera or photos kept on this device.</p>
      )}
      <AddPhotos bike={bike} person={person} arrived={photos.map(({ id }) => id)} />
    </div>
  )
}
