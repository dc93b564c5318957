import type { Prisma } from '../data/generated/client'
import { minutesOf, underWayStates } from './spells'
import type { SpendKind } from './spends'
import { ownedStages } from './stage-names'

/*
 * What has gone into a bike already, for those who may see money.
 */

/** What was spent and not taken back, and the work with the stretches that people were at it. */
export const spentOn = {
  spends: { where: { withdrawnAt: null }, orderBy: { at: 'asc' } },
  jobRuns: { orderBy: { startedAt: 'asc' }, include: { spells: true } },
} as const satisfies Prisma.BikeInclude

export type SpentOn = Prisma.BikeGetPayload<{ include: typeof spentOn }>

export type SpendShown = {
  id: string
  version: number
  kind: SpendKind
  what: string
  number: string
  qty: number
  /** In all, minor units; null where the bench noted a part and nobody has priced it. */
  amountMinor: number | null
  /** Title of the work it was for. */
  job: string | null
  /** That work is begun and not finished: it is counted in full as still to come, with its parts. */
  underWay: boolean
  who: string
  at: string
}

export type Spent = {
  /** Parts and outside work, minor units. */
  sumMinor: number
  /** Parts without a price. */
  unpriced: number
  /** At the bench, on work of every kind. */
  minutes: number
  lines: readonly SpendShown[]
  /** Work that something may be spent on, latest first. */
  runs: readonly { id: string; title: string }[]
  /** Whether it is a bike to spend on: the shop's own. */
  isOwned: boolean
}

/** What was spent on a bike so far. */
export function spentShown(
  { stage, spends, jobRuns }: Pick<SpentOn, 'stage' | keyof typeof spentOn>,
  { now, name }: { now: Date; name: (personId: string) => string },
): Spent {
  const lines = spends.map(({ id, version, kind, what, number, qty, amountMinor, runId, personId, at }) => {
    const run = jobRuns.find((one) => one.id === runId)
    return {
      ...{ id, version, what, number, qty, amountMinor },
      kind: kind as SpendKind,
      job: run?.title ?? null,
      underWay: run !== undefined && underWayStates.includes(run.state),
      who: name(personId),
      at: at.toISOString(),
    }
  })
  return {
    sumMinor: sum(lines.map((line) => line.amountMinor ?? 0)),
    unpriced: lines.filter((line) => line.amountMinor === null).length,
    minutes: sum(jobRuns.flatMap(({ spells }) => spells.map((spell) => minutesOf(spell, now)))),
    lines,
    runs: jobRuns.map(({ id, title }) => ({ id, title })).reverse(),
    isOwned: (ownedStages as readonly string[]).includes(stage),
  }
}

/**
 * What has gone into a bike and is in no estimate any more: parts, outside work, and the hours of work that is ended
 * at what an hour costs. Work under way is left out with its parts, since the estimate counts it in full until it is
 * done. Whole minor units.
 */
export function spentForGood(
  { spends, jobRuns }: Pick<SpentOn, keyof typeof spentOn>,
  { labourCostMinor, now }: { labourCostMinor: number; now: Date },
): number {
  const underWay = new Set(jobRuns.filter(({ state }) => underWayStates.includes(state)).map(({ id }) => id))
  const paid = spends.filter(({ runId }) => runId === null || !underWay.has(runId))
  const worked = jobRuns.filter(({ id }) => !underWay.has(id)).flatMap(({ spells }) => spells)
  const minutes = sum(worked.map((spell) => minutesOf(spell, now)))
  return sum(paid.map(({ amountMinor }) => amountMinor ?? 0)) + Math.round((minutes / 60) * labourCostMinor)
}

function sum(of: readonly number[]): number {
  return of.reduce((total, one) => total + one, 0)
}
