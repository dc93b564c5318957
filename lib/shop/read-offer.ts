import { z } from 'zod'
import { coreVersion } from '../core/board/version'
import { deal } from '../core/deal/deal'
import { dealInput } from '../core/deal/deal.input'
import type { Prisma } from '../data/generated/client'
import { type BikeHead, bikeHead, headOf } from './bike-head'
import type { CounterSide } from './counter-offer'
import type { Context } from './deed'
import { noSuchBike, viewingNumber } from './facts'
import { dayIn } from './instants'
import { type OfferSheet, storedSheet } from './offer-sheet'
import { refuse } from './refusal'

export type CounterShown = { id: string; said: CounterSide; amountMinor: number; at: string }
export type OfferShown = {
  id: string
  priceMinor: number
  validUntil: string
  subjectTo: string
  at: string
  /** Oldest first. */
  counters: readonly CounterShown[]
}

/** The offers on a bike as its seller may see them: there is nothing of the shop's side in it. */
export type SellerOffers = BikeHead & {
  shop: string
  currency: string
  zone: string
  today: string
  /** Newest first. */
  offers: readonly OfferShown[]
  /** The one whose sheet is shown; null where none has been made. */
  shown: OfferShown | null
  /** Null for an offer from before sheets were kept. */
  sheet: OfferSheet | null
}

/** Column by column, so that neither the calculation nor a note of the shop's is even read. */
const offerToSeller = {
  id: true,
  priceMinor: true,
  validUntil: true,
  subjectTo: true,
  sheet: true,
  at: true,
  counters: {
    select: { id: true, said: true, amountMinor: true, at: true },
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
  },
} satisfies Prisma.OfferSelect

/** The offers on a bike, with the sheet of the latest, or of the one asked for. */
export async function readSellerOffers(
  { store: { db }, now }: Context,
  asked: { viewingNo: string; offer?: string },
): Promise<SellerOffers> {
  const number = viewingNumber(asked.viewingNo)
  const bike = number && (await db.bike.findUnique({ where: { viewingNo: number }, select: bikeHead }))
  if (!bike) return noSuchBike()
  const [shop, rows] = await Promise.all([
    db.shop.findFirstOrThrow({ select: { name: true, currency: true, zone: true } }),
    db.offer.findMany({
      where: { bikeId: bike.id },
      select: offerToSeller,
      orderBy: [{ at: 'desc' }, { id: 'desc' }],
    }),
  ])
  const row = asked.offer === undefined ? rows[0] : rows.find(({ id }) => id === asked.offer)
  if (asked.offer !== undefined && !row) return refuse('not-found', 'That offer is not there.')
  return {
    ...headOf(bike),
    shop: shop.name,
    currency: shop.currency,
    zone: shop.zone,
    today: dayIn(shop.zone, now),
    offers: rows.map(offerShown),
    shown: row ? offerShown(row) : null,
    sheet: row ? storedSheet(row.sheet) : null,
  }
}

function offerShown(row: Prisma.OfferGetPayload<{ select: typeof offerToSeller }>): OfferShown {
  const { id, priceMinor, validUntil, subjectTo, at, counters } = row
  return {
    id,
    priceMinor,
    validUntil,
    subjectTo,
    at: at.toISOString(),
    counters: counters.map((one) => ({ ...one, said: one.said as CounterSide, at: one.at.toISOString() })),
  }
}

/** What the shop alone is told of an offer. */
export type OfferForShop = {
  recomputed: Recomputed
  /** Who wrote it down. */
  who: string
  /** By counter-offer: who wrote it down, and what beside it. */
  notes: ReadonlyMap<string, { who: string; note: string }>
}

export async function readOfferForShop({ store: { db } }: Context, offerId: string): Promise<OfferForShop> {
  const offer = await db.offer.findUnique({ where: { id: offerId } })
  if (!offer) return refuse('not-found', 'That offer is not there.')
  const [people, counters] = await Promise.all([
    db.person.findMany({ select: { id: true, name: true } }),
    db.counterOffer.findMany({ where: { offer: { bikeId: offer.bikeId } } }),
  ])
  const names = new Map(people.map(({ id, name }) => [id, name]))
  const who = (personId: string) => names.get(personId) ?? 'Somebody'
  return {
    recomputed: recompute(offer),
    who: who(offer.personId),
    notes: new Map(counters.map(({ id, personId, note }) => [id, { who: who(personId), note }])),
  }
}

const outcome = z.object({
  expectedMargin: z.number(),
  chanceOfLoss: z.number(),
  chanceOfTarget: z.number(),
  margin: z.object({ mean: z.number(), quantiles: z.record(z.string(), z.number()) }),
})

/** The output as stored. */
const dealOutput = z.object({
  walkAway: z.number().nullable(),
  atAsking: outcome.nullable(),
  atWalkAway: outcome.nullable(),
})

/** What working a stored offer out again comes to. */
export type Recomputed =
  /** There was no sale price, so it rested on no calculation. */
  | { state: 'no calculation' }
  | {
      /**
       * `same`: every amount to the penny and every chance to a millionth. Where the rules have changed since, the price
       * and the means to the penny, and the spread to one part in ten thousand: a finer grid than that of those days
       * moves its places by pennies, the truth of them and the price it never moves.
       */
      state: 'same' | 'differs'
      /** Names of what differs: walkAway, atAsking.chanceOfLoss … */
      differing: readonly string[]
      /** By which rules it was worked out, where they are not those of today. */
      otherRules: string | null
    }

/**
 * Works an offer out again from nothing but its stored input.
 * @throws ZodError where what is stored is not the input or output of a deal.
 */
export function recompute(offer: { input: string; output: string; coreVersion: string }): Recomputed {
  const input = JSON.parse(offer.input) as unknown
  if (input === null) return { state: 'no calculation' }
  const stored = dealOutput.parse(JSON.parse(offer.output))
  const again = dealOutput.parse(deal(dealInput.parse(input)))
  const otherRules = offer.coreVersion === coreVersion ? null : offer.coreVersion
  const spread = otherRules === null ? sameGrid : { chance: 1e-4, amount: widthOf(stored) * 1e-4 }
  const differing = differences(stored, again, spread)
  return { state: differing.length === 0 ? 'same' : 'differs', differing, otherRules }
}

type Apart = { chance: number; amount: number }
/** Half a penny and a millionth: what is left by the order in which numbers are added. */
const sameGrid: Apart = { chance: 1e-6, amount: 0.5 }

/** The widest of the stored spreads, from its lowest to its highest quantile. */
function widthOf({ atAsking, atWalkAway }: z.output<typeof dealOutput>): number {
  const widths = [atAsking, atWalkAway].flatMap((at) => {
    const quantiles = Object.values(at?.margin.quantiles ?? {})
    return quantiles.length > 0 ? [Math.max(...quantiles) - Math.min(...quantiles)] : []
  })
  return Math.max(sameGrid.amount * 1e4, ...widths)
}

/** The paths at which two outputs differ: the price and means by half a penny or more, the spread by what is allowed. */
function differences(stored: unknown, again: unknown, spread: Apart, path: readonly string[] = []): string[] {
  if (typeof stored === 'number' && typeof again === 'number') {
    const isChance = path.at(-1)?.startsWith('chance') ?? false
    const apart = Math.abs(stored - again)
    const amount = path.includes('quantiles') ? spread.amount : sameGrid.amount
    return (isChance ? apart > spread.chance : apart >= amount) ? [path.join('.')] : []
  }
  if (!isRecord(stored) || !isRecord(again)) return stored === again ? [] : [path.join('.')]
  const keys = [...new Set([...Object.keys(stored), ...Object.keys(again)])]
  return keys.flatMap((key) => differences(stored[key], again[key], spread, [...path, key]))
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null
}
