import { z } from 'zod'
import { isPhotoRefused, photoRules } from '../data/photos'
import { type Context, deed } from './deed'
import { takenByDevice } from './device-clock'
import { idOf, lineOrNull, most } from './fields'
import { refuse } from './refusal'

export const mostPhotoBytes = photoRules.largestBytes

/** A photo of a bike, of what a check found, or of a fault. */
export const addPhotoInput = z.strictObject({
  id: idOf,
  bike: idOf,
  check: z.string().min(1).max(80).nullable().default(null),
  fault: z.string().min(1).max(80).nullable().default(null),
  caption: lineOrNull(most.line),
  takenAt: z.iso.datetime({ offset: true }),
  bytes: z.instanceof(Uint8Array),
})

export const addPhoto = deed('photo:add', addPhotoInput, {
  prepare: async ({ bytes }, { store }: Context) => {
    try {
      return await store.photos.keep(bytes)
    } catch (error) {
      if (isPhotoRefused(error))
        return refuse('malformed', error.message, { fields: { photo: error.message } })
      throw error
    }
  },
  work: async (input, { tx, now, who, deviceId, clockAheadMs }, kept) => {
    const { id, bike: bikeId, check, fault, caption } = input
    if (!(await tx.bike.findUnique({ where: { id: bikeId } })))
      return refuse('not-found', 'That bike is not there.')
    const before = await tx.photo.findUnique({ where: { id } })
    if (before) return { answer: { photo: id, sha256: before.sha256 }, event: null }
    await tx.photo.create({
      data: {
        id,
        bikeId,
        check,
        fault,
        ...kept,
        caption: caption ?? '',
        personId: who.personId,
        deviceId,
        takenAt: takenByDevice(input.takenAt, { now, clockAheadMs }).takenAt,
        receivedAt: now,
      },
    })
    return {
      answer: { photo: id, sha256: kept.sha256 },
      event: { bikeId, body: { photo: id, check, ...(fault && { fault }), sha256: kept.sha256 } },
    }
  },
})
