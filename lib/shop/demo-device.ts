import { z } from 'zod'
import type { Tx } from '../data/store'
import { type Context, deed } from './deed'
import { enrol, mayOwnDevice } from './devices'
import { readDemoPeople } from './read-sign-in'
import { refuse } from './refusal'
import type { Role } from './who-may'

/**
 * Enrols whatever device asks, without a code: only where the folder holds the demo's invented people, whose
 * PINs are shown anyway. In a real shop it refuses.
 */
export const enrolDemoDevice = deed('device:enrol', z.strictObject({}), {
  prepare: async (_input, { store }: Context) => ({ people: await readDemoPeople(store) }),
  work: async (_input, { tx, now }, { people }) => {
    if (!people)
      return refuse('rule', 'This is a real shop: a device needs a code that a manager makes.', {
        log: 'a device asked to be enrolled as in the demo',
      })
    const name = `visitor ${(await tx.device.count()) + 1}`
    const enrolled = await enrol(tx, { name, by: null, now })
    return { answer: enrolled, event: { bikeId: null, body: { device: name } } }
  },
})

/**
 * A visitor's device of the demo becomes the own one of whoever first signs in on it and takes viewings in, so that
 * what such a device does can be tried. Where people are real a manager says whose a device is.
 */
export async function ownInDemo(
  tx: Tx,
  given: { deviceId: string; personId: string; demo: boolean },
): Promise<void> {
  if (!given.demo) return
  const held = await tx.personRole.findMany({ where: { personId: given.personId } })
  if (!mayOwnDevice(held.map(({ role }) => role as Role))) return
  await tx.device.updateMany({
    where: { id: given.deviceId, ownerId: null, enrolledBy: null },
    data: { ownerId: given.personId, version: { increment: 1 } },
  })
}
