import { z } from 'zod'
import { type BikeResult, lacksVerdict } from '../core/board/bike-result'
import { type Catalogue, calls, rounds } from '../core/checks/catalogue'
import type { Judgement } from '../core/checks/judge'
import { putRight } from '../core/work/put-right'
import type { DistanceTold } from './distances-of'
import type { BikeWithFacts, ShopFacts } from './facts'

const minor = z.int().min(0)

/**
 * What the seller's sheet of an offer shows, frozen with it. Nothing that may hide, no price the bike could bring and
 * nothing of what the shop would pay or wants to earn has a place in it.
 */
export const offerSheet = z.strictObject({
  shop: z.string(),
  currency: z.string(),
  day: z.iso.date(),
  bike: z.strictObject({
    make: z.string(),
    model: z.string(),
    year: z.int().nullable(),
    viewingNo: z.int(),
    stockNo: z.null(),
    registration: z.string().nullable(),
    frameNumber: z.string().nullable(),
  }),
  distance: z.strictObject({
    distance: z.number().nullable(),
    unit: z.enum(['mi', 'km']),
    verdict: z.enum(['proven', 'not proven', 'too few points']),
  }),
  /** Faults that are there; `putRightMinor` is null where no work on it is counted. */
  faults: z.array(
    z.strictObject({ title: z.string(), call: z.enum(calls), putRightMinor: minor.nullable() }),
  ),
  putRightMinor: minor,
  /** Checks that apply and have no verdict, with how many apply in their round. */
  notChecked: z.array(
    z.strictObject({ round: z.enum(rounds), applicable: z.int(), titles: z.array(z.string()) }),
  ),
  offerMinor: minor,
  validUntil: z.iso.date(),
  subjectTo: z.string(),
})

export type OfferSheet = z.output<typeof offerSheet>

/** What every offer is subject to, to begin with. Common practice, no source. */
export const startingSubject =
  'The frame number is the same on frame, plate and papers, and no register has the bike on record as stolen or owed on.'

export function sheetOf(offer: {
  bike: BikeWithFacts
  shop: ShopFacts
  result: Pick<BikeResult, 'judgements' | 'faults' | 'jobs' | 'estimateInput'>
  distance: DistanceTold
  offerMinor: number
  validUntil: string
  subjectTo: string
}): OfferSheet {
  const { bike, shop, result, distance, offerMinor, validUntil, subjectTo } = offer
  const { make, model, year, viewingNo, registration, frameNumber } = bike
  const found = putRight(result)
  return offerSheet.parse({
    shop: shop.name,
    currency: shop.currency,
    day: shop.today,
    bike: { make, model, year, viewingNo, stockNo: null, registration, frameNumber },
    distance,
    faults: found.faults.map(({ title, call, putRightMinor }) => ({ title, call, putRightMinor })),
    putRightMinor: found.putRightMinor,
    notChecked: notCheckedOf(result.judgements, shop.catalogue),
    offerMinor,
    validUntil,
    subjectTo,
  })
}

function notCheckedOf(judgements: readonly Judgement[], { checks }: Catalogue): OfferSheet['notChecked'] {
  const byCheck = new Map(judgements.map((one) => [one.check, one]))
  return rounds.flatMap((round) => {
    const applying = checks.filter((check) => {
      const judgement = byCheck.get(check.key)
      return check.round === round && judgement && judgement.verdict !== 'does-not-apply'
    })
    const open = applying.filter(({ key }) => lacksVerdict(byCheck.get(key)!))
    if (open.length === 0) return []
    return [{ round, applicable: applying.length, titles: open.map(({ title }) => title) }]
  })
}

/** A sheet as stored; null for an offer from before sheets were kept. */
export function storedSheet(stored: string): OfferSheet | null {
  return stored === '{}' ? null : offerSheet.parse(JSON.parse(stored))
}
