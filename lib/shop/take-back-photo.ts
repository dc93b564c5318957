import { z } from 'zod'
import { deed } from './deed'
import { idOf, lineOf } from './fields'
import { refuse } from './refusal'
import { mayDo } from './who-may'

export const takeBackPhotoInput = z.strictObject({
  photo: idOf,
  because: lineOf(200, 'Say why, in a few words.'),
})

/**
 * A photo that should not be there: of another bike, blurred, taken by a slip. It is shown no more and stays in the
 * record, by whoever took it or by a manager.
 */
export const takeBackPhoto = deed(
  'photo:take-back',
  takeBackPhotoInput,
  async ({ photo, because }, { tx, now, who }) => {
    const row = await tx.photo.findUnique({ where: { id: photo } })
    if (!row) return refuse('not-found', 'That photo is not there.')
    if (row.personId !== who.personId && !mayDo(who.roles, 'lock:clear'))
      return refuse('rule', 'Somebody else took this photo. They can take it back, or a manager.')
    if (row.withdrawnAt) return { answer: {}, event: null }
    await tx.photo.update({
      where: { id: photo },
      data: { withdrawnAt: now, withdrawnBy: who.personId, version: { increment: 1 } },
    })
    const { bikeId, check, fault } = row
    return { answer: {}, event: { bikeId, body: { photo, check, fault, because } } }
  },
)
