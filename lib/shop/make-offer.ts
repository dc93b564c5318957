import { uuidv7 } from 'uuidv7'
import { coreVersion } from '../core/board/version'
import type { Tx } from '../data/store'
import { type Context, deed, type Inside, requireFresh } from './deed'
import { readDistanceTold } from './distances'
import { readToWorkOut } from './facts'
import { moneyLacksOf } from './identity'
import { type OfferSheet, sheetOf } from './offer-sheet'
import {
  makeOfferInput,
  type OfferReckoned,
  offerReckoned,
  refuseNever,
  requireBeforeBuying,
  requireStillToCome,
} from './offer-terms'

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
    requireStillToCome(validUntil, reckoned.shop.today)
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

export async function reckonOffer(
  { store: { db }, now }: Pick<Context, 'store' | 'now'>,
  { bikeId, priceMinor, byFigures }: { bikeId: string; priceMinor: number; byFigures?: number },
): Promise<OfferReckoned> {
  const { input, bike, shop } = await readToWorkOut(db, { bikeId, now, ...(byFigures && { byFigures }) })
  return offerReckoned(input, { bike, shop, distance: await readDistanceTold(db, bikeId), priceMinor })
}

/** Money may not even be promised for a bike that may never be bought. */
export async function requireBuyable(tx: Tx, asked: { bikeId: string; now: Date }): Promise<void> {
  refuseNever(await moneyLacksOf(tx, asked))
}

type OfferWritten = {
  reckoned: OfferReckoned
  priceMinor: number
  validUntil: string
  subjectTo: string
  /** Of one that was made before it came in: its id, when it was made, and what the seller was shown. */
  made?: { id: string; at: Date; sheet: OfferSheet }
}

/** Adds the row; answers its id. */
export async function writeOffer({ tx, now, who }: Inside, offer: OfferWritten): Promise<string> {
  const { reckoned, priceMinor, validUntil, subjectTo } = offer
  const { bike, result } = reckoned
  const terms = { offerMinor: priceMinor, validUntil, subjectTo }
  const { id, at, sheet } = offer.made ?? { id: uuidv7(), at: now, sheet: sheetOf({ ...reckoned, ...terms }) }
  await tx.offer.create({
    data: {
      id,
      bikeId: bike.id,
      priceMinor,
      validUntil,
      input: JSON.stringify(result.dealInput),
      output: JSON.stringify(result.deal),
      coreVersion,
      sheet: JSON.stringify(sheet),
      subjectTo,
      personId: who.personId,
      at,
    },
  })
  return id
}
