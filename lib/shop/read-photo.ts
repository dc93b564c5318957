import { type PhotoSize, photoContentType } from '../data/photos'
import type { Store } from '../data/store'
import { refuse } from './refusal'

export const photoType = photoContentType

/** The bytes of a photo that a bike has; refused where there is none. */
export async function readPhoto(store: Store, given: { photo: string; size: PhotoSize }): Promise<Buffer> {
  const row = await store.db.photo.findUnique({ where: { id: given.photo } })
  const bytes = row && (await store.photos.read(row.sha256, given.size))
  return bytes ?? refuse('not-found', 'That photo is not there.')
}
