import {
  type AskedOutside,
  notUsedUp,
  type OutsideTold,
  type PartLine,
  type PartSource,
  type PartState,
  type PartTold,
} from '../core/work/parts'
import type { Prisma } from '../data/generated/client'

/* What suppliers and others outside said or were paid for one bike, as the estimate takes it. */

/** Lines of parts and work sent out; what each came to stands in what was spent on the bike. */
export const askedOutside = {
  partLines: { orderBy: [{ at: 'asc' }, { id: 'asc' }] },
  sentOut: { orderBy: { at: 'asc' } },
} as const satisfies Prisma.BikeInclude

type Asked = Prisma.BikeGetPayload<{ include: typeof askedOutside }> & {
  jobRuns: readonly { job: string; state: string; endedAt: Date | null }[]
  /** What counts as spent: nothing that was taken back. */
  spends: readonly { id: string; amountMinor: number | null }[]
}

/** Jobs that were finished, when last. */
export function finishedOf(jobRuns: Asked['jobRuns']): { job: string; at: string }[] {
  return jobRuns.flatMap(({ job, state, endedAt }) =>
    state === 'done' && endedAt ? [{ job, at: endedAt.toISOString() }] : [],
  )
}

/** A stored line as the calculations take it. */
export function asLine<R extends LineColumns>(row: R): PartLine {
  const { job, part, qty, at, dueOn, leadDays } = row
  const [state, source] = [row.state as PartState, row.source as PartSource]
  return { job, part, qty, state, source, at: at.toISOString(), dueOn, leadDays }
}

type LineColumns = {
  job: string
  part: string
  qty: number
  state: string
  source: string
  at: Date
  dueOn: string | null
  leadDays: number | null
}

const costsMoney: readonly string[] = ['to order', 'ordered', 'arrived'] satisfies PartState[]

/**
 * What takes the place of the catalogue's prices. A part in the box is paid where it stands in what was spent with
 * its amount, or came off the shelf; until then what the supplier asks is still to come.
 */
export function toldOutside({ partLines, sentOut, jobRuns, spends }: Asked): AskedOutside {
  const finished = finishedOf(jobRuns)
  const lines = notUsedUp(
    partLines.map((row) => ({ row, ...asLine(row) })),
    finished,
  )
  const sent = notUsedUp(
    sentOut.flatMap((row) => (row.job === null ? [] : [{ row, job: row.job, at: row.at.toISOString() }])),
    finished,
  )
  return {
    parts: lines.flatMap(({ row, job, part, qty, state, source }): PartTold[] => {
      if (!costsMoney.includes(state)) return []
      const isPaid = state === 'arrived' && (source === 'shelf' || isSpent(row, spends))
      if (isPaid) return [{ job, part, qty, costs: 'paid', carriageMinor: 0 }]
      const { unitMinor, carriageMinor } = row
      if (unitMinor === null) return []
      return [{ job, part, qty, costs: { unitMinor }, carriageMinor: carriageMinor ?? 0 }]
    }),
    outside: sent.flatMap(({ row, job }): OutsideTold[] => {
      if (row.backAt && isSpent(row, spends)) return [{ job, costs: 'paid' }]
      return row.amountMinor === null ? [] : [{ job, costs: { amountMinor: row.amountMinor } }]
    }),
  }
}

/** A price that somebody outside gave for a part or for work, in place of the one the tool began with. */
export type AskedShown = {
  what: string
  qty: number
  /** Of one; of work in all. Minor units; null where it came off the shelf. */
  minor: number | null
  /** Who asks it; null off the shelf. */
  of: string | null
  /** It counts as spent by now, and no longer in the estimate. */
  isSpent: boolean
  at: string
}

/** What takes the place of the catalogue's prices in one job of a bike, with who said so and when. */
export function askedFor(
  { partLines, sentOut, jobRuns, spends }: Asked,
  { job, supplier }: { job: string; supplier: (id: string) => string },
): AskedShown[] {
  const finished = finishedOf(jobRuns)
  const mine = <R extends { job: string | null; at: Date }>(rows: readonly R[]) =>
    notUsedUp(
      rows.filter((row) => row.job === job).map((row) => ({ row, job, at: row.at.toISOString() })),
      finished,
    ).map(({ row }) => row)
  const parts = mine(partLines)
    .filter(
      ({ state, source, unitMinor }) =>
        costsMoney.includes(state) && (unitMinor !== null || source === 'shelf'),
    )
    .map((row) => ({
      ...{ what: row.part, qty: row.qty, minor: row.unitMinor, at: row.at.toISOString() },
      of: row.supplierId && supplier(row.supplierId),
      isSpent: row.state === 'arrived' && (row.source === 'shelf' || isSpent(row, spends)),
    }))
  const outside = mine(sentOut)
    .filter(({ amountMinor }) => amountMinor !== null)
    .map((row) => ({
      ...{ what: row.what, qty: 1, minor: row.amountMinor, of: row.whoHas, at: row.at.toISOString() },
      isSpent: row.backAt !== null && isSpent(row, spends),
    }))
  return [...parts, ...outside]
}

/** It stands in what was spent, with its amount. */
function isSpent({ spendId }: { spendId: string | null }, spends: Asked['spends']): boolean {
  return spendId !== null && spends.some(({ id, amountMinor }) => id === spendId && amountMinor !== null)
}
