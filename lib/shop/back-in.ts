import { z } from 'zod'
import type { Store } from '../data/store'
import { spendCode, writeCode } from './codes'
import { type Context, deed } from './deed'
import { enrol } from './devices'
import { lineOf, most, searchKey } from './fields'
import { hashPin, newPin } from './pin'
import { refuseField } from './refusal'

/** A code for a manager who cannot sign in any more; earlier ones stop working. Null while there is no shop. */
export async function makeBackInCode(store: Store, now: Date): Promise<string | null> {
  return store.transaction(async (tx) => {
    if (!(await tx.shop.findFirst())) return null
    await tx.enrolCode.deleteMany({ where: { purpose: 'back-in' } })
    return (await writeCode(tx, { purpose: 'back-in', madeBy: null, now })).code
  })
}

export const backInInput = z.strictObject({
  code: lineOf(40, 'Type the code that the terminal shows.'),
  personName: lineOf(most.name, 'Give your name as it stands on the sign-in page.'),
  pin: newPin,
  deviceName: lineOf(most.name, 'Name this device, like "office laptop".'),
})

/**
 * The way back for a manager whose device or PIN is lost, or whose PIN a restore without its pepper made
 * useless: the code of the terminal sets a new PIN and enrols this device.
 */
export const comeBackIn = deed('manager:come-back', backInInput, {
  prepare: async (input, { store }: Context) => ({ pinHash: await hashPin(input.pin, store.pepper) }),
  work: async (input, { tx, now }, { pinHash }) => {
    await spendCode(tx, { typed: input.code, purpose: 'back-in', now, field: 'code' })
    const manager = await tx.person.findFirst({
      where: { nameKey: searchKey(input.personName), leftAt: null, roles: { some: { role: 'manager' } } },
    })
    if (!manager)
      return refuseField('personName', 'No manager has this name. Type it as on the sign-in page.')
    await tx.person.update({ where: { id: manager.id }, data: { pinHash, version: { increment: 1 } } })
    await tx.session.updateMany({ where: { personId: manager.id, endedAt: null }, data: { endedAt: now } })
    const enrolled = await enrol(tx, { name: input.deviceName, by: manager.id, now })
    return {
      answer: { personId: manager.id, ...enrolled },
      event: { bikeId: null, body: { backIn: manager.name, device: input.deviceName } },
    }
  },
})
