import type { BikeToWorkOut, PriceTaken } from '../core/board/bike-result'
import type { Figures } from '../core/board/figures.input'
import type { BikeKind } from '../core/checks/bike-kind'
import type { Catalogue, Condition, Country, Source } from '../core/checks/catalogue'
import type { Decision } from '../core/checks/decision.input'
import { hiddenTermsOf } from '../core/checks/hidden'
import type { BikeToJudge, WorkOnBike } from '../core/checks/judge-bike'
import { type EnteredLimit, type LimitScope, lawLimits } from '../core/checks/limits'
import { ridePapersOf } from '../core/checks/locks'
import type { OpenStateKind } from '../core/checks/open-states'
import type { Reading, ReadingInstrument, ReadingKind } from '../core/checks/reading'
import { daysBetween } from '../core/quantity/days'
import type { Unit } from '../core/quantity/units'
import { withLearnedHours } from '../core/work/learned-hours'
import type { Prisma } from '../data/generated/client'
import type { Db } from '../data/store'
import { askedOutside, toldOutside } from './asked-outside'
import { bikeKindInput } from './bike-fields'
import { readCatalogue } from './catalogue'
import { readFiguresNo } from './figures'
import { dayIn } from './instants'
import { type NotedRow, readNoted, saleOf } from './noted-prices'
import { refuse } from './refusal'
import { spentForGood, spentOn } from './spent'
import { benchStages } from './stages'

/** What holds for every bike of the shop, read once for a page. */
export type ShopFacts = {
  name: string
  currency: string
  lengthUnit: string
  zone: string
  country: Country
  certificateWanted: boolean
  figuresNo: number
  figures: Figures
  catalogue: Catalogue
  /** Limits for a model or the whole shop. */
  limits: readonly LimitRow[]
  /** The day it is now in the shop's zone. */
  today: string
}

export async function readShopFacts(db: Db, now: Date): Promise<ShopFacts> {
  return (await readShopAndLimits(db, { bikeId: null, now })).shop
}

/** The same with the limits of one bike, which stand in the same table. */
export async function readShopAndLimits(
  db: Db,
  { bikeId, now }: { bikeId: string | null; now: Date },
): Promise<{ shop: ShopFacts; ownLimits: LimitRow[] }> {
  const shop = await db.shop.findFirstOrThrow()
  const forMany = { scope: { not: 'bike' } }
  const [figures, entries, all] = await Promise.all([
    readFiguresNo(db, shop.figuresNo),
    readCatalogue(db),
    db.limit.findMany({
      where: { withdrawnAt: null, OR: bikeId === null ? [forMany] : [forMany, { bikeId, scope: 'bike' }] },
    }),
  ])
  const catalogue = withLearnedHours(entries, figures.learnedHours.learned)
  const { name, currency, lengthUnit, zone, figuresNo, certificateWanted } = shop
  const country = shop.country as Country
  const limits = all.filter(({ scope }) => scope !== 'bike')
  const today = dayIn(zone, now)
  return {
    shop: {
      name,
      currency,
      lengthUnit,
      zone,
      country,
      certificateWanted,
      figuresNo,
      figures,
      catalogue,
      limits,
      today,
    },
    ownLimits: all.filter(({ scope }) => scope === 'bike'),
  }
}

/** What verdicts, faults and locks rest on beside the bike itself: none of it is money. */
export const factsToJudge = {
  readings: { orderBy: { seq: 'asc' } },
  decisions: { where: { withdrawnAt: null }, orderBy: { at: 'asc' } },
  clearings: true,
  jobRuns: { orderBy: { startedAt: 'asc' } },
  openStates: { where: { putBackAt: null }, orderBy: { at: 'asc' } },
  rides: { orderBy: { outAt: 'asc' } },
} satisfies Prisma.BikeInclude

/** All that one bike's results rest on. */
export const bikeWithFacts = {
  ...factsToJudge,
  ...spentOn,
  ...askedOutside,
  // Ids are in the order they were made, for two at the same instant.
  offers: { orderBy: [{ at: 'desc' }, { id: 'desc' }] },
  purchase: true,
  plannedReady: true,
} satisfies Prisma.BikeInclude

export type BikeWithFacts = Prisma.BikeGetPayload<{ include: typeof bikeWithFacts }>
/** A bike with what is judged of it, in whatever it was read. */
export type BikeToJudgeRow = Pick<
  Prisma.BikeGetPayload<{ include: typeof factsToJudge }>,
  'kind' | 'nonRunner' | 'makeKey' | 'modelKey' | 'year' | keyof typeof factsToJudge
>
export type LimitRow = Prisma.LimitGetPayload<object>
type ReadingRow = Prisma.ReadingGetPayload<object>

/** The number on the address of a bike's page, for ever the viewing number; null where no bike can have it. */
export function viewingNumber(typed: string | number): number | null {
  const number = Number(typed)
  return Number.isInteger(number) && number > 0 && number < 2 ** 31 ? number : null
}

export const noSuchBike = () => refuse('not-found', 'There is no bike with that number.')

/** The bike by the number on its page's address; refused where it is not there. */
export async function readBike(db: Db, viewingNo: string | number): Promise<BikeWithFacts> {
  const number = viewingNumber(viewingNo)
  const bike = number && (await db.bike.findUnique({ where: { viewingNo: number }, include: bikeWithFacts }))
  return bike || noSuchBike()
}

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

/** The input of the calculation for one bike as it is stored now, for a deed that asks "what if" before it writes. */
export async function readToWorkOut(
  db: Db,
  { bikeId, now }: { bikeId: string; now: Date },
): Promise<{ input: BikeToWorkOut; bike: BikeWithFacts; shop: ShopFacts; noted: readonly NotedRow[] }> {
  const bike = await db.bike.findUnique({ where: { id: bikeId }, include: bikeWithFacts })
  if (!bike) return refuse('not-found', 'That bike is not there.')
  const { shop, ownLimits } = await readShopAndLimits(db, { bikeId, now })
  const noted = await readNoted(db, bike)
  return { input: toWorkOut(bike, { shop, ownLimits, noted, now }), bike, shop, noted }
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
