import type { BikeToWorkOut, PriceTaken } from '../core/board/bike-result'
import type { BikeKind } from '../core/checks/bike-kind'
import type { Condition, Source } from '../core/checks/catalogue'
import type { Decision } from '../core/checks/decision.input'
import { hiddenTermsOf } from '../core/checks/hidden'
import type { BikeToJudge, WorkOnBike } from '../core/checks/judge-bike'
import { type EnteredLimit, type LimitScope, lawLimits } from '../core/checks/limits'
import { ridePapersOf } from '../core/checks/locks'
import type { OpenStateKind } from '../core/checks/open-states'
import type { Reading, ReadingInstrument, ReadingKind } from '../core/checks/reading'
import { daysBetween } from '../core/quantity/days'
import type { Unit } from '../core/quantity/units'
import type { Prisma } from '../data/generated/client'
import { toldOutside } from './asked-outside'
import { bikeKindInput } from './bike-fields'
import type { BikeToJudgeRow, BikeWithFacts, LimitRow, ShopFacts } from './facts'
import { type NotedRow, saleOf } from './noted-prices'
import { spentForGood } from './spent'
import { benchStages } from './stage-names'

/*
 * From what is stored of a bike to what the calculations take. It asks the store nothing, so that a page of the server
 * and a phone away from it shape the same rows by the same lines.
 */

type ReadingRow = Prisma.ReadingGetPayload<object>

/** What the verdicts, faults and locks of one bike rest on, as the core takes it. */
export function toJudge(
  bike: BikeToJudgeRow,
  given: { shop: ShopFacts; ownLimits: readonly LimitRow[]; now: Date },
): BikeToJudge {
  const { shop, ownLimits, now } = given
  const kind = bikeKindInput.parse(JSON.parse(bike.kind))
  return {
    catalogue: shop.catalogue,
    kind,
    nonRunner: bike.nonRunner,
    year: bike.year,
    readings: bike.readings.map(asReading),
    limits: limitsFor(bike, { shop, ownLimits, kind }),
    decisions: bike.decisions.map(asDecision),
    clearings: bike.clearings.map(({ fault, until }) => ({ fault, until: until.toISOString() })),
    work: workOf(bike),
    ridePapers: ridePapersOf(
      bike.rides.map(({ inAt }) => ({ inAt: inAt?.toISOString() ?? null })),
      now.toISOString(),
    ),
    ages: shop.figures.tyreAges,
    hidden: hiddenTermsOf(shop.figures),
    asOf: shop.today,
    now: now.toISOString(),
  }
}

/** The work on a bike, as the core takes it. */
export function workOf({ jobRuns, openStates }: BikeToJudgeRow): WorkOnBike {
  const ended = (...as: string[]) =>
    jobRuns.flatMap(({ state, job, endedAt }) =>
      as.includes(state) && endedAt ? [{ job, at: endedAt.toISOString() }] : [],
    )
  return {
    finished: ended('done'),
    givenUp: ended('given up', 'stopped'),
    underWay: jobRuns.flatMap(({ state, job, title, startedAt }) =>
      state === 'started' || state === 'paused' ? [{ job, title, at: startedAt.toISOString() }] : [],
    ),
    openStates: openStates.map(({ id, kind }) => ({ id, kind: kind as OpenStateKind })),
  }
}

/** The input of the core's calculation for one bike. */
export function toWorkOut(
  bike: BikeWithFacts,
  given: {
    shop: ShopFacts
    ownLimits: readonly LimitRow[]
    /** Prices noted that count for this bike (`readNoted`). */
    noted: readonly NotedRow[]
    now: Date
  },
): BikeToWorkOut {
  const { ages: _, hidden: __, ...judged } = toJudge(bike, given)
  const { shop } = given
  const { figures, today } = shop
  return {
    ...judged,
    figures,
    sale: saleOf(bike, given),
    price: priceOf(bike, today),
    ...plannedDays(bike, today),
    spentMinor: spentForGood(bike, { labourCostMinor: figures.labourCostMinor, now: given.now }),
    told: toldOutside(bike),
  }
}

/** By the bench plan, counted from today; a plan that nobody has looked at for days says nothing any more. */
function plannedDays(
  { plannedReady, stage }: BikeWithFacts,
  today: string,
): Pick<BikeToWorkOut, 'plannedDays'> {
  if (!plannedReady || !inPlan.includes(stage)) return {}
  const gone = daysBetween(plannedReady.startsOn, today)
  if (gone > plansHoldDays) return {}
  const [low, likely, high] = [plannedReady.low, plannedReady.middle, plannedReady.high].map((days) =>
    Math.max(0, days - gone),
  ) as [number, number, number]
  return { plannedDays: { low, likely, high } }
}

const plansHoldDays = 3
const inPlan: readonly string[] = benchStages

/** Paid if bought, else the latest offer that still holds, else asking. */
function priceOf(bike: BikeWithFacts, today: string): PriceTaken | null {
  if (bike.purchase) return { amountMinor: bike.purchase.priceMinor, basis: 'paid' }
  const offer = bike.offers.find((one) => one.validUntil >= today)
  if (offer) return { amountMinor: offer.priceMinor, basis: 'offered' }
  return bike.askingMinor === null ? null : { amountMinor: bike.askingMinor, basis: 'asking' }
}

export type ModelOfBike = Pick<BikeWithFacts, 'makeKey' | 'modelKey' | 'year'>

/** Every limit that one bike is held against beside the catalogue's own: what was entered, and the law's. */
export function limitsFor(
  bike: ModelOfBike,
  given: {
    shop: Pick<ShopFacts, 'limits' | 'catalogue' | 'country'>
    ownLimits: readonly LimitRow[]
    kind: BikeKind
  },
): EnteredLimit[] {
  const { shop, ownLimits, kind } = given
  const { country } = shop
  const entered = [...ownLimits, ...shop.limits.filter((limit) => isForModel(limit, bike))].map(asLimit)
  return [...entered, ...lawLimits({ checks: shop.catalogue.checks, country, kind })]
}

/** A shop-wide limit, or one for the same make and model whose years hold this bike's. */
export function isForModel(limit: LimitRow, bike: ModelOfBike): boolean {
  if (limit.scope === 'shop') return true
  if (limit.makeKey !== bike.makeKey || limit.modelKey !== bike.modelKey) return false
  if (limit.yearFrom === null && limit.yearTo === null) return true
  if (bike.year === null) return false
  return (limit.yearFrom ?? bike.year) <= bike.year && bike.year <= (limit.yearTo ?? bike.year)
}

export function asReading(row: ReadingRow): Reading {
  return {
    id: row.id,
    check: row.check,
    position: row.position,
    kind: row.kind as ReadingKind,
    value: row.value,
    unit: row.unit as Unit | null,
    conditions: row.conditions ? (JSON.parse(row.conditions) as Condition[]) : [],
    instrument: row.instrument ? (JSON.parse(row.instrument) as ReadingInstrument) : null,
    engineSpeed: row.engineSpeed,
    note: row.note,
    takenAt: row.takenAt.toISOString(),
    supersedes: row.supersedes,
  }
}

function asLimit(row: LimitRow): EnteredLimit {
  const { id, check, position, min, max, asNew, saleMin, saleMax } = row
  return {
    id,
    check,
    scope: row.scope as LimitScope,
    position,
    min,
    max,
    asNew,
    saleMin,
    saleMax,
    unit: row.unit as Unit,
    source: { kind: row.source as Source['kind'], says: limitSays(row) },
  }
}

const scopeSays = {
  bike: 'on this bike',
  model: 'for this model',
  shop: 'for the whole shop',
  law: 'by law',
} as const

function limitSays(row: LimitRow): string {
  const entered =
    row.source === 'stamped' ? 'stamped on the part' : `entered ${scopeSays[row.scope as LimitScope]}`
  return row.sourceNote ? `${entered}: ${row.sourceNote}` : entered
}

export function asDecision(row: BikeWithFacts['decisions'][number]): Decision {
  return {
    ...(JSON.parse(row.body) as object),
    id: row.id,
    kind: row.kind,
    key: row.key,
    reason: row.reason,
  } as Decision
}
