import type { BikeToWorkOut } from '../core/board/bike-result'
import type { Figures } from '../core/board/figures.input'
import type { Catalogue, Country } from '../core/checks/catalogue'
import { withLearnedHours } from '../core/work/learned-hours'
import type { Prisma } from '../data/generated/client'
import type { Db } from '../data/store'
import { askedOutside } from './asked-outside'
import { readCatalogue } from './catalogue'
import { readFiguresNo } from './figures'
import { dayIn } from './instants'
import { type NotedRow, readNoted } from './noted-prices'
import { refuse } from './refusal'
import { spentOn } from './spent'
import { toWorkOut } from './to-work-out'

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

/**
 * The same with the limits of one bike, which stand in the same table. `byFigures` is the number of figures to go by,
 * those in force where it is left out.
 */
export async function readShopAndLimits(
  db: Db,
  { bikeId, now, byFigures }: { bikeId: string | null; now: Date; byFigures?: number },
): Promise<{ shop: ShopFacts; ownLimits: LimitRow[] }> {
  const row = await db.shop.findFirstOrThrow()
  const shop = { ...row, figuresNo: byFigures ?? row.figuresNo }
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

/** The input of the calculation for one bike as it is stored now, for a deed that asks "what if" before it writes. */
export async function readToWorkOut(
  db: Db,
  { bikeId, now, byFigures }: { bikeId: string; now: Date; byFigures?: number },
): Promise<{ input: BikeToWorkOut; bike: BikeWithFacts; shop: ShopFacts; noted: readonly NotedRow[] }> {
  const bike = await db.bike.findUnique({ where: { id: bikeId }, include: bikeWithFacts })
  if (!bike) return refuse('not-found', 'That bike is not there.')
  const { shop, ownLimits } = await readShopAndLimits(db, { bikeId, now, ...(byFigures && { byFigures }) })
  const noted = await readNoted(db, bike)
  return { input: toWorkOut(bike, { shop, ownLimits, noted, now }), bike, shop, noted }
}
