import { z } from 'zod'
import { coreVersion } from '../core/board/version'
import type { Store } from '../data/store'
import { sameValue } from './catalogue'
import { type Context, deed } from './deed'
import { takenByDevice } from './device-clock'
import { idOf } from './fields'
import { reckonOffer, requireBuyable, writeOffer } from './make-offer'
import { type OfferSheet, offerSheet, sheetOf } from './offer-sheet'
import { type OfferReckoned, offerTerms, requireBeforeBuying, requireStillToCome } from './offer-terms'
import { refuse } from './refusal'

export const makeOfferAwayInput = z.strictObject({
  id: idOf,
  bike: idOf,
  ...offerTerms,
  /** What it was made by, on a phone that had no network then. */
  made: z.strictObject({
    at: z.iso.datetime({ offset: true }),
    figuresNo: z.int().min(1),
    coreVersion: z.string().min(1).max(40),
    walkAway: z.int().min(0).nullable(),
    /** What the seller was shown. */
    sheet: offerSheet,
  }),
})

type Made = z.output<typeof makeOfferAwayInput>['made']

/**
 * Writes down an offer that was made where no network was. The price was said to the seller and stands, and so does
 * the sheet he was shown. It is worked out here as on the day it was made and by the figures of that number; where
 * that comes out otherwise than it did on the phone, the event says both.
 */
export const makeOfferAway = deed('offer:make', makeOfferAwayInput, {
  prepare: async ({ bike, price, made }, context: Context) => {
    const at = madeAt(made, context)
    const byFigures = (await isKnownFigures(context.store, made.figuresNo)) ? made.figuresNo : undefined
    const asked = { bikeId: bike, priceMinor: price, ...(byFigures && { byFigures }) }
    return reckonOffer({ ...context, now: at }, asked)
  },
  work: async (input, inside, reckoned) => {
    const { id, bike: bikeId, price, validUntil, subjectTo, made } = input
    const { tx, now } = inside
    const terms = { offerMinor: price, validUntil, subjectTo }
    requireBeforeBuying(reckoned.bike.stage)
    requireStillToCome(validUntil, reckoned.shop.today)
    requireSameTerms(made.sheet, terms)
    if (await tx.offer.findUnique({ where: { id } })) refuse('rule', 'This is written down already.')
    await requireBuyable(tx, { bikeId, now })
    const { figuresNo } = await tx.shop.findFirstOrThrow({ select: { figuresNo: true } })
    await tx.bike.update({ where: { id: bikeId }, data: { stage: 'offered', version: { increment: 1 } } })
    const at = madeAt(made, inside)
    const sheet = numbered(made.sheet, reckoned.bike.viewingNo)
    await writeOffer(inside, { reckoned, priceMinor: price, validUntil, subjectTo, made: { id, at, sheet } })
    const body = {
      priceMinor: price,
      validUntil,
      away: {
        at: at.toISOString(),
        figuresNo: made.figuresNo,
        ...(figuresNo !== made.figuresNo && { figuresNow: figuresNo }),
        ...otherwise(made, reckoned, sheetOf({ ...reckoned, ...terms })),
      },
    }
    return { answer: { offer: id }, event: { bikeId, body } }
  },
})

function madeAt(
  { at }: Pick<Made, 'at'>,
  { now, clockAheadMs = null }: Pick<Context, 'now' | 'clockAheadMs'>,
): Date {
  return takenByDevice(at, { now, clockAheadMs }).takenAt
}

async function isKnownFigures({ db }: Store, no: number): Promise<boolean> {
  return (await db.figures.findUnique({ where: { no }, select: { no: true } })) !== null
}

function requireSameTerms(
  sheet: OfferSheet,
  terms: Pick<OfferSheet, 'offerMinor' | 'validUntil' | 'subjectTo'>,
): void {
  const { offerMinor, validUntil, subjectTo } = sheet
  if (sameValue({ offerMinor, validUntil, subjectTo }, terms)) return
  refuse('rule', 'The sheet shown to the seller says another offer. Make the offer again.')
}

/** A viewing has no number before it is in. */
function numbered(sheet: OfferSheet, viewingNo: number): OfferSheet {
  return { ...sheet, bike: { ...sheet.bike, viewingNo } }
}

/** What came out otherwise here than on the phone. */
function otherwise(made: Made, { result, bike }: OfferReckoned, sheet: OfferSheet): object {
  const walkAway = result.deal?.walkAway ?? null
  return {
    ...(made.coreVersion !== coreVersion && { byRules: made.coreVersion }),
    ...(made.walkAway !== walkAway && { walkAwayThen: made.walkAway, walkAwayHere: walkAway }),
    ...(!sameValue(numbered(made.sheet, bike.viewingNo), sheet) && { sheetDiffers: true }),
  }
}
