import { z } from 'zod'
import { type Context, deed } from './deed'
import { enrol } from './devices'
import { readDemoPeople } from './read-sign-in'
import { refuse } from './refusal'

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
