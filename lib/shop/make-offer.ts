import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import { type BikeResult, workOut } from '../core/board/bike-result'
import { coreVersion } from '../core/board/version'
import type { Tx } from '../data/store'
import { type Context, deed, type Inside, requireFresh } from './deed'
import { type DistanceTold, readDistanceTold } from './distances'
import { type BikeWithFacts, readToWorkOut, type ShopFacts } from './facts'
import { dayOf, idOf, moneyOf, most, versionOf } from './fields'
import { moneyLacksOf } from './identity'
import { sheetOf, startingSubject } from './offer-sheet'
import { refuse, refuseField } from './refusal'

export const makeOfferInput = z.strictObject({
  bike: idOf,
  version: versionOf,
  price: moneyOf('Give the price offered.'),
  validUntil: dayOf,
  /** What must turn out to be so; the seller reads it. Left out it is what a form begins with. */
  subjectTo: z
    .string()
    .trim()
    .max(most.reason, `Keep it to ${most.reason} characters.`)
    .refine((text) => !text.includes('\u0000'), 'Take the unreadable character out.')
    .default(startingSubject),
})

/**
 * Writes an offer down with the whole input of its calculation, and with what the seller's sheet shows. It is worked
 * out afresh from what is stored at this moment, never from a kept result.
 */
export const makeOffer = deed('offer:make', makeOfferInput, {
  prepare: ({ bike, price }, context: Context) => reckonOffer(context, { bikeId: bike, priceMinor: price }),
  work: async (input, inside, reckoned) => {
    const { bike: bikeId, version, price, validUntil, subjectTo } = input
    const { tx } = inside
    requireBeforeBuying(reckoned.bike.stage)
    if (validUntil < reckoned.shop.today)
      refuseField('validUntil', 'That day is past. Give today or a later day.')
    await requireBuyable(tx, { bikeId, now: inside.now })
    const { count } = await tx.bike.updateMany({
      where: { id: bikeId, version },
      data: { stage: 'offered', version: { increment: 1 } },
    })
    requireFresh(count, {})
    const offer = await writeOffer(inside, { reckoned, priceMinor: price, validUntil, subjectTo })
    return { answer: { offer }, event: { bikeId, body: { priceMinor: price, validUntil } } }
  },
})

/** What an offer rests on: everything of the bike, worked out at the price that is offered. */
export type OfferReckoned = {
  bike: BikeWithFacts
  shop: ShopFacts
  result: BikeResult
  distance: DistanceTold
}

export async function reckonOffer(
  { store: { db }, now }: Pick<Context, 'store' | 'now'>,
  { bikeId, priceMinor }: { bikeId: string; priceMinor: number },
): Promise<OfferReckoned> {
  const { input, bike, shop } = await readToWorkOut(db, { bikeId, now })
  const result = workOut({ ...input, price: { amountMinor: priceMinor, basis: 'offered' } })
  return { bike, shop, result, distance: await readDistanceTold(db, bikeId) }
}

export function requireBeforeBuying(stage: string): void {
  if (stage !== 'viewing' && stage !== 'offered')
    refuse('rule', 'An offer is made on a bike that is being viewed.')
}

/** Money may not even be promised for a bike that may never be bought. */
export async function requireBuyable(tx: Tx, asked: { bikeId: string; now: Date }): Promise<void> {
  const never = (await moneyLacksOf(tx, asked)).filter((lack) => lack.never)
  if (never.length > 0) {
    const why = never.map(({ says }) => says).join(' ')
    refuse('rule', `No offer can be made: this bike may never be bought. ${why}`)
  }
}

/** Adds the row; answers its id. */
export async function writeOffer(
  { tx, now, who }: Inside,
  offer: { reckoned: OfferReckoned; priceMinor: number; validUntil: string; subjectTo: string },
): Promise<string> {
  const { reckoned, priceMinor, validUntil, subjectTo } = offer
  const { bike, result } = reckoned
  const id = uuidv7()
  await tx.offer.create({
    data: {
      id,
      bikeId: bike.id,
      priceMinor,
      validUntil,
      input: JSON.stringify(result.dealInput),
      output: JSON.stringify(result.deal),
      coreVersion,
      sheet: JSON.stringify(sheetOf({ ...reckoned, offerMinor: priceMinor, validUntil, subjectTo })),
      subjectTo,
      personId: who.personId,
      at: now,
    },
  })
  return id
}
