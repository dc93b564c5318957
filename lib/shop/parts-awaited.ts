import type { PartStanding } from '../core/work/parts'
import type { Db } from '../data/store'
import { type BikeParts, readPartsNeeded } from './parts-needed'

/* What the work on a bike has to wait for: parts that are not in the box, and what somebody outside has. */

export type PartAwaited = {
  part: string
  qty: number
  state: PartStanding['state']
  /** When the last of it is due, YYYY-MM-DD; null where nothing is on its way or no day was said. */
  dueOn: string | null
  /** Days from an order until it comes, where somebody asked; null otherwise. */
  leadDays: number | null
  /** No longer made: the chance, 0 to 1, that what is asked for or ordered never comes. */
  neverChance: number | null
}

export type SentOutAwaited = {
  /** Null where it is for no job of the list. */
  job: string | null
  what: string
  whoHas: string
  /** YYYY-MM-DD; null where no day was said. */
  dueOn: string | null
}

export type Awaited = {
  /** By job: every part of it, those in the box with the state `arrived`. A job without parts is not named. */
  parts: ReadonlyMap<string, readonly PartAwaited[]>
  sentOut: readonly SentOutAwaited[]
}

/** By bike, for those of the named ones that parts are got for: bought, on the bench, waiting for a decision. */
export async function partsAwaited(
  db: Db,
  bikeIds: readonly string[],
  now: Date,
): Promise<ReadonlyMap<string, Awaited>> {
  const { bikes } = await readPartsNeeded(db, { now, bikeIds })
  return new Map(bikes.map((bike) => [bike.head.id, awaitedOf(bike)]))
}

export function awaitedOf({ jobs, sentOut }: Pick<BikeParts, 'jobs' | 'sentOut'>): Awaited {
  return {
    parts: new Map(
      jobs.flatMap(({ job, parts }) => (parts.length > 0 ? [[job, parts.map(partAwaited)] as const] : [])),
    ),
    sentOut: sentOut.map(({ job, what, whoHas, dueOn }) => ({ job, what, whoHas, dueOn })),
  }
}

function partAwaited({
  part,
  qty,
  state,
  dueOn,
  leadDays,
  lines,
}: BikeParts['jobs'][number]['parts'][number]) {
  const waited = lines.filter((line) => line.state === 'to order' || line.state === 'ordered')
  const chances = waited.flatMap(({ row }) => row.neverChance ?? [])
  const neverChance = chances.length > 0 ? Math.max(...chances) : null
  return { part, qty, state, dueOn, leadDays, neverChance }
}
