import { meanChance } from '../core/checks/chance'
import { judgeBike } from '../core/checks/judge-bike'
import { notUsedUp, type PartLine, type PartStanding, standingOf } from '../core/work/parts'
import { type JobLine, proposeJobs } from '../core/work/propose-jobs'
import type { Prisma } from '../data/generated/client'
import type { Db } from '../data/store'
import { stagesInWork } from './ask-part'
import { asLine, finishedOf } from './asked-outside'
import { type BikeHead, headOf } from './bike-head'
import { readShopFacts, type ShopFacts } from './facts'
import { bikeToJudge } from './read-judged'
import { toJudge } from './to-work-out'

/* What parts each bike of the shop needs, and how far they have come. No money is read. */

/** Every column of a line but those of money. */
const lineWithoutMoney = {
  omit: { unitMinor: true, carriageMinor: true, spendId: true },
  include: {
    supplier: { select: { id: true, name: true } },
    shelfPart: { select: { story: true, place: true } },
  },
} as const

const partsOfBike = {
  ...bikeToJudge,
  partLines: { ...lineWithoutMoney, orderBy: [{ at: 'asc' }, { id: 'asc' }] },
  sentOut: { where: { backAt: null }, omit: { amountMinor: true, spendId: true }, orderBy: { at: 'asc' } },
} as const satisfies Prisma.BikeSelect

export type BikeRow = Prisma.BikeGetPayload<{ select: typeof partsOfBike }>
export type LineRow = BikeRow['partLines'][number]
export type SentRow = BikeRow['sentOut'][number]
export type LineHeld = PartLine & { row: LineRow }

/** One job of a bike with its parts. */
export type JobParts = {
  job: string
  title: string
  /** False where only a chance asks for the job so far. */
  certain: boolean
  /** The chance that it is needed, 0 to 1. */
  chance: number
  /** Hours of its own, without the steps it shares. */
  hours: JobLine['hours']
  /** Something of it goes to somebody outside. */
  outside: boolean
  parts: readonly PartStanding<LineHeld>[]
}

export type BikeParts = {
  head: BikeHead
  /** It is bought and not ready: parts are got for it. */
  inWork: boolean
  /** Those that are certain first, else as the work list has them. */
  jobs: readonly JobParts[]
  /** Lines that no job waits for any more, and that are not dealt with. */
  over: readonly LineRow[]
  sentOut: readonly SentRow[]
}

/** What is needed for every bike that parts are got for, or for some of them. */
export async function readPartsNeeded(
  db: Db,
  { now, bikeIds, viewingNo }: { now: Date; bikeIds?: readonly string[]; viewingNo?: number },
): Promise<{ bikes: BikeParts[]; shop: ShopFacts }> {
  const where: Prisma.BikeWhereInput = {
    ...(viewingNo === undefined && { stage: { in: [...stagesInWork] } }),
    ...(bikeIds && { id: { in: [...bikeIds] } }),
    ...(viewingNo !== undefined && { viewingNo }),
  }
  const [shop, rows] = await Promise.all([
    readShopFacts(db, now),
    db.bike.findMany({ where, select: partsOfBike, orderBy: { viewingNo: 'asc' } }),
  ])
  const ownLimits = await db.limit.findMany({
    where: { bikeId: { in: rows.map(({ id }) => id) }, scope: 'bike', withdrawnAt: null },
  })
  const bikes = rows.map((row) => {
    const own = ownLimits.filter(({ bikeId }) => bikeId === row.id)
    return partsOf(row, { jobs: jobsOf(row, { shop, ownLimits: own, now }), care: shop.figures.care })
  })
  return { bikes, shop }
}

function jobsOf(
  row: BikeRow,
  given: { shop: ShopFacts; ownLimits: Parameters<typeof toJudge>[1]['ownLimits']; now: Date },
): readonly JobLine[] {
  const input = toJudge(row, given)
  const { catalogue, kind, decisions, work } = input
  const { faults } = judgeBike(input)
  const { care } = given.shop.figures
  return proposeJobs({ catalogue, kind, faults, decisions, care, finished: work.finished }).jobs
}

type LinesOfBike = Pick<BikeRow, 'partLines' | 'jobRuns'>

/** The parts of a bike whose jobs are proposed already. */
export function partsOfJobs(
  { partLines, jobRuns }: LinesOfBike,
  { jobs, care }: { jobs: readonly JobLine[]; care: ShopFacts['figures']['care'] },
): { jobs: JobParts[]; over: LineRow[] } {
  const lines = notUsedUp(
    partLines.map((row): LineHeld => ({ row, ...asLine(row) })),
    finishedOf(jobRuns),
  )
  const wanted = jobs.filter(({ state }) => state === 'in')
  const standings = standingOf({
    wanted: wanted.flatMap(({ key, parts }) => parts.map(({ name, qty }) => ({ job: key, part: name, qty }))),
    lines: lines.filter(({ job }) => wanted.some(({ key }) => key === job)),
  })
  const chanceOf = (line: JobLine) => meanChance(line.chance, care)
  const shown = wanted.map((line) => ({
    job: line.key,
    title: line.title,
    certain: chanceOf(line) >= 1 - 1e-9,
    chance: chanceOf(line),
    hours: line.hours,
    outside: line.outsideWork !== 0,
    parts: standings.filter(({ job }) => job === line.key),
  }))
  const counted = new Set(standings.flatMap((one) => one.lines.map(({ row }) => row.id)))
  const waits = ['to order', 'ordered', 'wrong']
  return {
    jobs: [...shown.filter(({ certain }) => certain), ...shown.filter(({ certain }) => !certain)],
    over: partLines.filter(({ id, state }) => waits.includes(state) && !counted.has(id)),
  }
}

function partsOf(row: BikeRow, given: Parameters<typeof partsOfJobs>[1]): BikeParts {
  const inWork = (stagesInWork as readonly string[]).includes(row.stage)
  return { head: headOf(row), inWork, ...partsOfJobs(row, given), sentOut: row.sentOut }
}
