import { z } from 'zod'
import type { Tx } from '../data/store'
import { deed, requireFresh } from './deed'
import { idOf, versionOf } from './fields'
import { sentMarks } from './photo-marks'
import { refuse } from './refusal'

export const markPhotoInput = z.strictObject({ photo: idOf, version: versionOf, marks: sentMarks })

/** Sets the arrows and circles beside a photo; the ones before are gone, the picture stays as it was taken. */
export const markPhoto = deed('photo:mark', markPhotoInput, async ({ photo, version, marks }, { tx }) => {
  const { bikeId, check, fault } = await photoThere(tx, { photo, version })
  await save(tx, { photo, version, data: { marks: JSON.stringify(marks) } })
  return { answer: {}, event: { bikeId, body: { photo, check, fault, marks: marks.length } } }
})

export const choosePhotoInput = z.strictObject({
  photo: idOf,
  version: versionOf,
  forBuyer: z.enum(['yes', 'no'], { error: 'Say whether the buyer sees it: yes or no.' }),
})

/** Whether the buyer's condition sheet shows a photo: by choice, never by itself. */
export const choosePhoto = deed(
  'photo:choose',
  choosePhotoInput,
  async ({ photo, version, forBuyer }, { tx }) => {
    const { bikeId, check, fault } = await photoThere(tx, { photo, version })
    await save(tx, { photo, version, data: { forBuyer: forBuyer === 'yes' } })
    return { answer: {}, event: { bikeId, body: { photo, check, fault, forBuyer: forBuyer === 'yes' } } }
  },
)

async function photoThere(tx: Tx, { photo, version }: { photo: string; version: number }) {
  const row = await tx.photo.findUnique({ where: { id: photo } })
  if (!row || row.withdrawnAt) return refuse('not-found', 'That photo is not there.')
  requireFresh(row.version === version ? 1 : 0, { version: String(row.version) })
  return row
}

async function save(
  tx: Tx,
  { photo, version, data }: { photo: string; version: number; data: { marks?: string; forBuyer?: boolean } },
): Promise<void> {
  const { count } = await tx.photo.updateMany({
    where: { id: photo, version },
    data: { ...data, version: { increment: 1 } },
  })
  requireFresh(count, {})
}
