import { group } from 'd3-array'
import {
  type Condition,
  type Market,
  type NoteReckoned,
  reckonNotes,
  type SalePrice,
  salePriceFrom,
} from '../core/deal/comparables'
import { addDays, type Day } from '../core/quantity/days'
import type { ThreePoint } from '../core/quantity/three-point'
import { convert } from '../core/quantity/units'
import type { Prisma } from '../data/generated/client'
import type { Db } from '../data/store'
import type { BikeWithFacts, ShopFacts } from './facts'

/* Which noted prices count for a bike, and what they and the typed three come to. */

export type NotedRow = Prisma.ComparableGetPayload<object>
type OfModel = Pick<BikeWithFacts, 'id' | 'makeKey' | 'modelKey'>
type ToSell = Pick<
  BikeWithFacts,
  'stage' | 'year' | 'distance' | 'distanceUnit' | 'saleLowMinor' | 'saleLikelyMinor' | 'saleHighMinor'
>
type Terms = Pick<ShopFacts, 'figures' | 'today'>
type Reckoning = { shop: Terms; noted: readonly NotedRow[] }

/** Where nobody said. */
export const conditionNotKnown = 'not known'

/** A bike with everything right is sold as this; the notes are held against it. */
export const conditionWhenSold: Condition = 'tidy'

/**
 * Days of work that the month of the sale is reckoned with, beside the days before work starts. A starting guess
 * instead of the estimate, which itself is worked out later: a week more or less moves a season by a hundredth.
 */
const daysOfWork = 2

/** The noted prices that count for one bike; all of them where no bike is named. */
export function readNoted(db: Db, bike: OfModel | null): Promise<NotedRow[]> {
  const ofBike: Prisma.ComparableWhereInput =
    bike === null
      ? {}
      : { OR: [{ bikeId: bike.id }, { bikeId: null, makeKey: bike.makeKey, modelKey: bike.modelKey }] }
  return db.comparable.findMany({ where: { withdrawnAt: null, ...ofBike }, orderBy: { id: 'asc' } })
}

/** Finds the noted prices of each of many bikes among all of them. */
export function notedByBike(rows: readonly NotedRow[]): (bike: OfModel) => readonly NotedRow[] {
  const byPlace = group(rows, (row) => row.bikeId ?? modelPlace(row))
  return (bike) => [...(byPlace.get(modelPlace(bike)) ?? []), ...(byPlace.get(bike.id) ?? [])]
}

function modelPlace({ makeKey, modelKey }: { makeKey: string; modelKey: string }): string {
  return `${makeKey} ${modelKey}`
}

/** Whether a noted price counts for a bike. */
export function isNotedFor(row: NotedRow, bike: OfModel): boolean {
  if (row.bikeId !== null) return row.bikeId === bike.id
  return row.makeKey === bike.makeKey && row.modelKey === bike.modelKey
}

/** The sale price that counts, and what it rests on: typed by a person, or so many noted prices. */
export type SaleTold = {
  points: ThreePoint | null
  basis: 'typed' | 'noted' | null
  /** Noted prices that count for the bike, whether they decide or not. */
  noted: number
}

export function saleTold(bike: ToSell, given: Reckoning): SaleTold {
  const points = saleOf(bike, given)
  const basis = points === null ? null : typedSale(bike) ? 'typed' : 'noted'
  return { points, basis, noted: given.noted.length }
}

/** The sale price with everything right: what a person typed on the bike, else what the noted prices come to. */
export function saleOf(bike: ToSell, given: Reckoning): ThreePoint | null {
  return typedSale(bike) ?? reckonNoted(bike, given)?.sale ?? null
}

export function typedSale(bike: ToSell): ThreePoint | null {
  const { saleLowMinor: low, saleLikelyMinor: likely, saleHighMinor: high } = bike
  return low === null || likely === null || high === null ? null : { low, likely, high }
}

export function reckonNoted(bike: ToSell, given: Reckoning): SalePrice | null {
  return salePriceFrom(priceInput(bike, given))
}

/** Each note by itself, whether any of them counts or not. */
export function weighNoted(bike: ToSell, given: Reckoning): readonly NoteReckoned[] {
  return reckonNotes(priceInput(bike, given))
}

function priceInput(bike: ToSell, { shop, noted }: Reckoning) {
  const { figures, today } = shop
  return {
    notes: noted.map(asNote),
    bike: {
      year: bike.year,
      distanceKm: bike.distance === null ? null : convert(bike.distance, unitOf(bike.distanceUnit), 'km'),
      condition: conditionWhenSold,
    },
    terms: figures.notedPrices,
    season: figures.season,
    asOf: today,
    readyOn: readyDay(bike, shop),
  }
}

const readyStages: readonly string[] = ['ready', 'reserved', 'sold']

/** The day the bike will be ready, for the month of its sale. */
export function readyDay({ stage }: Pick<ToSell, 'stage'>, { figures, today }: Terms): Day {
  if (readyStages.includes(stage)) return today
  return addDays(today, Math.round(figures.workshop.daysBeforeStart + daysOfWork))
}

function asNote(row: NotedRow) {
  return {
    id: row.id,
    market: row.market as Market,
    asked: row.asked,
    price: row.priceMinor,
    firstSeenOn: row.firstSeenOn,
    lastSeenOn: row.lastSeenOn,
    year: row.year,
    distance: row.distance,
    distanceUnit: unitOf(row.distanceUnit),
    condition: row.condition === conditionNotKnown ? null : (row.condition as Condition),
  }
}

function unitOf(unit: string): 'mi' | 'km' {
  return unit as 'mi' | 'km'
}

/** The best of the noted prices as this bike would bring it, minor units; null without any that counts. */
export function bestNoted(bike: ToSell, given: Reckoning): number | null {
  const values = (reckonNoted(bike, given)?.notes ?? []).filter(({ weight }) => weight > 0)
  return values.length === 0 ? null : Math.max(...values.map(({ value }) => value))
}
