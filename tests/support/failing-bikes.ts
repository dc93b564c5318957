import { hash } from '@node-rs/argon2'
import { uuidv7 } from 'uuidv7'
import type { Store } from '../../lib/data/store'

/** The make of every bike that a failing transaction writes: nobody may ever see one. */
export const neverKept = 'Never'

/**
 * Runs in the server's own process, on the very store its pages and routes use: takes a bike in, awaits a
 * password hash as sign-in makes it while the transaction is open, and then fails. No page does the like, which
 * is what this stands in for: the worst that a deed written carelessly could do to its neighbours.
 */
export default async function failingBike(store: Store): Promise<never> {
  await store.transaction(async (tx) => {
    const { _max } = await tx.bike.aggregate({ _max: { viewingNo: true } })
    const like = await tx.bike.findFirstOrThrow()
    await tx.bike.create({
      data: {
        ...like,
        id: uuidv7(),
        viewingNo: (_max.viewingNo ?? 0) + 1,
        stockNo: null,
        make: neverKept,
        makeKey: neverKept.toLowerCase(),
      },
    })
    await hash('123456', { memoryCost: 19_456, timeCost: 2, parallelism: 1 })
    throw new Error('on purpose')
  })
  throw new Error('unreachable')
}
