import { meanOf } from '../core/quantity/three-point'
import { whyNotUsed } from '../core/work/never-used'
import type { PartSource, PartStanding, PartState } from '../core/work/parts'
import type { Prisma } from '../data/generated/client'
import type { Db } from '../data/store'
import { type BikeHead, bikeHead } from './bike-head'
import type { Context, Who } from './deed'
import { noSuchBike, viewingNumber } from './facts'
import { searchKey } from './fields'
import { type BikeParts, type JobParts, type LineRow, readPartsNeeded, type SentRow } from './parts-needed'

/*
 * Parts as everybody sees them: what is missing, on its way, wrong, with somebody outside and on the shelf. There is
 * no money in it, and none is read; what things cost is read beside it by who may see it (`readPartsMoney`).
 */

export type LineShown = {
  id: string
  version: number
  bike: BikeHead
  job: string
  jobTitle: string
  part: string
  number: string
  qty: number
  source: PartSource
  state: PartState
  supplier: { id: string; name: string } | null
  dueOn: string | null
  /** It was due before today. */
  overdue: boolean
  leadDays: number | null
  neverChance: number | null
  note: string
  /** Where one off the shelf came from. */
  story: string | null
}

export type ShelfShown = {
  id: string
  version: number
  what: string
  number: string
  left: number
  condition: string
  fits: string
  place: string
  story: string
  from: BikeHead | null
  at: string
  /** What of a bike it could stand in for. */
  needs: readonly { bike: BikeHead; job: string; title: string; part: string; qty: number }[]
}

/** A part that a job still lacks. */
export type NeedShown = {
  bike: BikeHead
  job: string
  title: string
  part: string
  /** Neither in the box, on its way, nor on a list. */
  qty: number
  state: PartStanding['state']
  /** Why it is not got used; null where it may be. */
  notUsed: string | null
}

export type SentShown = {
  id: string
  version: number
  bike: BikeHead
  jobTitle: string
  what: string
  whoHas: string
  sentOn: string
  dueOn: string | null
  overdue: boolean
  note: string
}

/** The same job on several bikes, which share a set-up if it is done in one go. */
export type TogetherShown = { title: string; bikes: readonly BikeHead[]; outside: boolean }

export type Parts = {
  today: string
  zone: string
  needs: readonly NeedShown[]
  /** On a supplier's list and not ordered yet. */
  listed: readonly LineShown[]
  /** The soonest first; those without a day last. */
  onTheWay: readonly LineShown[]
  wrong: readonly LineShown[]
  /** In the box, for jobs that are not done yet. */
  inTheBox: readonly LineShown[]
  sentOut: readonly SentShown[]
  shelf: readonly ShelfShown[]
  together: readonly TogetherShown[]
  /** Bikes that something may be sent out from or put on the shelf. */
  bikes: readonly BikeHead[]
}

/** Parts of every bike that the shop works on. */
export async function readParts({ store, now }: Context & { who: Who }): Promise<Parts> {
  const { db } = store
  const { bikes, shop } = await readPartsNeeded(db, { now })
  // A bike may have gone on to ready, and still have something on its way.
  const shownIds = bikes.map(({ head }) => head.id)
  const elsewhere = await db.partLine.findMany({
    where: { state: { in: ['to order', 'ordered', 'wrong'] }, bikeId: { notIn: shownIds } },
    ...lineAlone,
  })
  const { today, zone } = shop
  const lines = [
    ...bikes.flatMap((bike) => rowsOf(bike).map((row) => lineShown(row, bike.head, today))),
    ...elsewhere.map(({ bike, ...row }) => lineShown(row, bike, today)),
  ]
  const inState = (state: PartState) => lines.filter((line) => line.state === state)
  return {
    today,
    zone,
    needs: bikes.flatMap(needsOf),
    listed: inState('to order'),
    onTheWay: bySoonest(inState('ordered')),
    wrong: inState('wrong'),
    inTheBox: inState('arrived'),
    sentOut: bySoonest(
      bikes.flatMap(({ head, sentOut }) => sentOut.map((row) => sentShown(row, head, today))),
    ),
    shelf: await readShelf(db, bikes),
    together: togetherOf(bikes),
    bikes: bikes.map(({ head }) => head),
  }
}

export type JobPartsShown = Pick<JobParts, 'job' | 'title' | 'certain' | 'chance'> & {
  parts: readonly (Pick<
    PartStanding,
    | 'part'
    | 'qty'
    | 'state'
    | 'arrived'
    | 'fromShelf'
    | 'ordered'
    | 'toOrder'
    | 'listed'
    | 'over'
    | 'dueOn'
    | 'besides'
  > & { notUsed: string | null; lines: readonly LineShown[] })[]
}

export type PartsOfBike = BikeHead & {
  today: string
  zone: string
  /** Parts are got for it: it is bought and not ready. */
  inWork: boolean
  jobs: readonly JobPartsShown[]
  /** What no job waits for any more. */
  over: readonly LineShown[]
  sentOut: readonly SentShown[]
  /** What lies on the shelf for this model, those that look like a part it lacks first. */
  shelf: readonly ShelfShown[]
  /** Jobs that something may be sent out for. */
  jobChoices: readonly { key: string; title: string }[]
}

/** Parts of one bike, job by job; refused where there is no such bike. */
export async function readPartsOfBike(
  { store, now }: Context & { who: Who },
  typed: string,
): Promise<PartsOfBike> {
  const { db } = store
  const viewingNo = viewingNumber(typed)
  if (viewingNo === null) return noSuchBike()
  const { bikes, shop } = await readPartsNeeded(db, { now, viewingNo })
  const [bike] = bikes
  if (!bike) return noSuchBike()
  const { today, zone } = shop
  const { head, jobs, over, sentOut, inWork } = bike
  const shelf = await readShelf(db, inWork ? [bike] : [])
  return {
    ...head,
    today,
    zone,
    inWork,
    jobs: jobs.map(({ job, title, certain, chance, parts }) => ({
      ...{ job, title, certain, chance },
      parts: parts.map(({ lines, ...part }) => ({
        ...part,
        notUsed: whyNotUsed(part.part),
        lines: lines.map(({ row }) => lineShown(row, head, today)),
      })),
    })),
    over: over.map((row) => lineShown(row, head, today)),
    sentOut: sentOut.map((row) => sentShown(row, head, today)),
    shelf: shelf.filter((part) => part.needs.length > 0),
    jobChoices: jobs.map(({ job, title }) => ({ key: job, title })),
  }
}

const lineAlone = {
  omit: { unitMinor: true, carriageMinor: true, spendId: true },
  include: {
    supplier: { select: { id: true, name: true } },
    shelfPart: { select: { story: true, place: true } },
    bike: { select: bikeHead },
  },
  orderBy: [{ at: 'asc' }, { id: 'asc' }],
} as const satisfies Prisma.PartLineFindManyArgs

function rowsOf({ jobs, over }: BikeParts): LineRow[] {
  return [...jobs.flatMap(({ parts }) => parts.flatMap(({ lines }) => lines.map(({ row }) => row))), ...over]
}

function needsOf({ head, jobs }: BikeParts): NeedShown[] {
  return jobs
    .filter(({ certain }) => certain)
    .flatMap(({ job, title, parts }) =>
      parts.flatMap(({ part, toOrder, listed, state }) =>
        toOrder > listed
          ? [{ bike: head, job, title, part, qty: toOrder - listed, state, notUsed: whyNotUsed(part) }]
          : [],
      ),
    )
}

function lineShown(row: LineRow, bike: BikeHead, today: string): LineShown {
  const { id, version, job, jobTitle, part, number, qty, supplier, dueOn, leadDays, neverChance, note } = row
  const state = row.state as PartState
  return {
    ...{ id, version, bike, job, jobTitle, part, number, qty, supplier, dueOn, leadDays, neverChance, note },
    source: row.source as PartSource,
    state,
    overdue: state === 'ordered' && dueOn !== null && dueOn < today,
    story: row.shelfPart?.story ?? null,
  }
}

function sentShown(row: SentRow, bike: BikeHead, today: string): SentShown {
  const { id, version, jobTitle, what, whoHas, sentOn, dueOn, note } = row
  const overdue = dueOn !== null && dueOn < today
  return { id, version, bike, jobTitle, what, whoHas, sentOn, dueOn, overdue, note }
}

function bySoonest<T extends { dueOn: string | null }>(lines: readonly T[]): T[] {
  const day = ({ dueOn }: T) => dueOn ?? '9999'
  return [...lines].sort((a, b) => (day(a) < day(b) ? -1 : day(a) > day(b) ? 1 : 0))
}

/** What is left on the shelf, with what of some bikes it could stand in for; the latest first. */
async function readShelf(db: Db, bikes: readonly BikeParts[]): Promise<ShelfShown[]> {
  const rows = await db.shelfPart.findMany({
    where: { withdrawnAt: null },
    include: {
      fromBike: { select: bikeHead },
      lines: { where: { state: { not: 'taken off' } }, select: { qty: true } },
    },
    orderBy: { at: 'desc' },
  })
  return rows
    .map((row): ShelfShown => {
      const { id, version, what, number, qty, condition, fitsMake, fitsModel, place, story, at } = row
      const left = qty - row.lines.reduce((sum, line) => sum + line.qty, 0)
      return {
        ...{ id, version, what, number, left, condition, place, story },
        fits: `${fitsMake} ${fitsModel}`,
        from: row.fromBike,
        at: at.toISOString(),
        needs: bikes.flatMap((bike) => (fitsModelOf(row, bike.head) ? needsFor(row, bike) : [])),
      }
    })
    .filter(({ left }) => left > 0)
}

type Fits = { fitsMakeKey: string; fitsModelKey: string }

function fitsModelOf({ fitsMakeKey, fitsModelKey }: Fits, { make, model }: BikeHead): boolean {
  return fitsMakeKey === searchKey(make) && fitsModelKey === searchKey(model)
}

/** Parts that a bike lacks and that are called alike, as far as letters tell: "Tank" and "Used tank". */
function needsFor({ what, condition }: { what: string; condition: string }, { head, jobs }: BikeParts) {
  const name = searchKey(what)
  return jobs.flatMap(({ job, title, parts }) =>
    parts
      .filter(({ toOrder, part }) => toOrder > 0 && (condition === 'new' || whyNotUsed(part) === null))
      .filter(({ part }) => searchKey(part).includes(name) || name.includes(searchKey(part)))
      .map(({ part, toOrder }) => ({ bike: head, job, title, part, qty: toOrder })),
  )
}

/** A job shorter than this has no set-up that is worth waiting for a second bike; a judgement, no source. */
const leastHoursToShare = 1

function togetherOf(bikes: readonly BikeParts[]): TogetherShown[] {
  const byJob = new Map<string, { title: string; bikes: BikeHead[]; outside: boolean; hours: number }>()
  for (const { head, jobs } of bikes) {
    for (const { job, title, certain, hours, outside } of jobs) {
      if (!certain) continue
      const before = byJob.get(job) ?? { title, bikes: [], outside, hours: meanOf(hours) }
      byJob.set(job, { ...before, bikes: [...before.bikes, head] })
    }
  }
  return [...byJob.values()]
    .filter(({ bikes: on, outside, hours }) => on.length > 1 && (outside || hours >= leastHoursToShare))
    .sort((a, b) => b.hours - a.hours)
    .map(({ title, bikes: on, outside }) => ({ title, bikes: on, outside }))
}
