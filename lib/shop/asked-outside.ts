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

/** Lines of parts and work sent out, with what each came to. */
export const askedOutside = {
  partLines: { orderBy: [{ at: 'asc' }, { id: 'asc' }], include: { spend: true } },
  sentOut: { orderBy: { at: 'asc' }, include: { spend: true } },
} as const satisfies Prisma.BikeInclude

type Asked = Prisma.BikeGetPayload<{ include: typeof askedOutside }> & {
  jobRuns: readonly { job: string; state: string; endedAt: Date | null }[]
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
export function toldOutside({ partLines, sentOut, jobRuns }: Asked): AskedOutside {
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
      const isPaid = state === 'arrived' && (source === 'shelf' || isSpent(row.spend))
      if (isPaid) return [{ job, part, qty, costs: 'paid', carriageMinor: 0 }]
      const { unitMinor, carriageMinor } = row
      if (unitMinor === null) return []
      return [{ job, part, qty, costs: { unitMinor }, carriageMinor: carriageMinor ?? 0 }]
    }),
    outside: sent.flatMap(({ row, job }): OutsideTold[] => {
      if (row.backAt && isSpent(row.spend)) return [{ job, costs: 'paid' }]
      return row.amountMinor === null ? [] : [{ job, costs: { amountMinor: row.amountMinor } }]
    }),
  }
}

function isSpent(spend: { amountMinor: number | null; withdrawnAt: Date | null } | null): boolean {
  return spend !== null && spend.amountMinor !== null && spend.withdrawnAt === null
}
