import { z } from 'zod'
import { type Context, deed, type Inside } from './deed'
import { typedPin } from './pin'
import { refuse } from './refusal'
import { forgetTries, refuseWrongPin, tryPin } from './sign-in'

/** The page somebody stood on, to be led on from there. */
const from = z.string({ error: 'This page is out of date. Load it again.' }).max(200)

export const startSellerSideInput = z.strictObject({ from })

/**
 * The seller looks on from now: this person's session on this device shows nothing of the shop's side until the PIN
 * is given again. It stands in the session's row, so no reload and no second window gets round it.
 */
export const startSellerSide = deed('seller-side:start', startSellerSideInput, async (_input, inside) => {
  await setSellerSide(inside, { from: null, to: inside.now })
  return { answer: {}, event: { bikeId: null, body: {} } }
})

export const endSellerSideInput = z.strictObject({ pin: typedPin, from })

/** Back from the seller's side, with the PIN and the same rising delay after failed tries as at sign-in. */
export const endSellerSide = deed('seller-side:end', endSellerSideInput, {
  prepare: async ({ pin }, context: Context) => {
    const { who } = context
    // Whoever is not there gains no further way to try PINs.
    if (!who?.sellerSide) refuse('rule', "This is not the seller's side. Go on as you are.")
    return { right: await tryPin({ person: who!.personId, pin }, context) }
  },
  work: async (_input, inside, { right }) => {
    const { tx, who, deviceId } = inside
    if (!right || !deviceId) return refuseWrongPin()
    await forgetTries(tx, { personId: who.personId, deviceId })
    await setSellerSide(inside, { from: { not: null }, to: null })
    return { answer: {}, event: { bikeId: null, body: {} } }
  },
})

async function setSellerSide(
  { tx, who, deviceId }: Inside,
  { from, to }: { from: null | { not: null }; to: Date | null },
): Promise<void> {
  const { count } = await tx.session.updateMany({
    where: { personId: who.personId, deviceId: deviceId ?? '', endedAt: null, sellerSideAt: from },
    data: { sellerSideAt: to },
  })
  if (count === 0) refuse('rule', 'This page is out of date. Load it again.')
}
