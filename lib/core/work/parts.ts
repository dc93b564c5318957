import type { Part } from '../checks/catalogue'

/*
 * What is needed of parts on one bike, and how far each of them has come. Quantities are as on the job's list;
 * days are YYYY-MM-DD.
 */

/** `shelf`: off the shop's own shelf, with its story; `stock`: of what the shop always has, such as oil and fluid. */
export const partSources = ['maker', 'pattern', 'used', 'shelf', 'stock'] as const
export type PartSource = (typeof partSources)[number]

/**
 * `to order`: on a supplier's list; `wrong`: came and was another; `sent back`, `kept`: a wrong one that is dealt
 * with; `never`: it will not come; `taken off`: nobody waits for it any more.
 */
export const partStates = [
  'to order',
  'ordered',
  'arrived',
  'wrong',
  'sent back',
  'kept',
  'never',
  'taken off',
] as const
export type PartState = (typeof partStates)[number]

/** One line of what was asked, ordered or taken from the shelf. */
export type PartLine = {
  job: string
  /** As the job names it. */
  part: string
  qty: number
  state: PartState
  source: PartSource
  /** When it was written down, ISO 8601. */
  at: string
  dueOn: string | null
  /** Days from the order until it comes, as the supplier says. */
  leadDays: number | null
}

/** A part that a job of a bike asks for. */
export type PartWanted = { job: string; part: string; qty: number }

/** How far one part of one job has come. `needed` = `ordered` + `arrived` + `fromShelf` + `toOrder` − `over`. */
export type PartStanding<L extends PartLine = PartLine> = PartWanted & {
  ordered: number
  /** In the box, from a supplier or out of what the shop always has. */
  arrived: number
  /** In the box, off the shop's own shelf. */
  fromShelf: number
  /** Neither in the box nor on its way. */
  toOrder: number
  /** Of `toOrder`: on a supplier's list, with a price asked or not. */
  listed: number
  /** On its way or in the box beyond what is needed. */
  over: number
  /** No job names it: somebody asked for it besides. */
  besides: boolean
  state: 'to order' | 'ordered' | 'arrived' | 'wrong' | 'never'
  /** When the last of what is on its way is due; null where nothing is, or no day was said. */
  dueOn: string | null
  /** The longest lead time said for what is still to order; null where nobody has asked. */
  leadDays: number | null
  lines: readonly L[]
}

/**
 * Holds what the jobs of one bike ask for against the lines for it, part by part in the order of the jobs. Parts of
 * the same name in one job are one. What was asked for besides the jobs' own lists follows with its job: it is
 * needed as many times as it was asked for.
 */
export function standingOf<L extends PartLine>(asked: {
  wanted: readonly PartWanted[]
  lines: readonly L[]
}): PartStanding<L>[] {
  const { wanted, lines } = asked
  const named = new Map<string, PartWanted & { besides: boolean }>()
  for (const { job, part, qty } of wanted) {
    const before = named.get(keyOf({ job, part }))
    named.set(keyOf({ job, part }), { job, part, qty: (before?.qty ?? 0) + qty, besides: false })
  }
  for (const { job, part, state } of lines) {
    if (!named.has(keyOf({ job, part })) && isAwaited(state))
      named.set(keyOf({ job, part }), { job, part, qty: 0, besides: true })
  }
  return [...named.values()].map(({ besides, ...want }) => {
    const mine = lines.filter((line) => keyOf(line) === keyOf(want))
    const needed = besides ? sumOf(mine.filter(({ state }) => isAwaited(state))) : want.qty
    return { ...want, qty: needed, besides, ...counted(needed, mine) }
  })
}

function counted<L extends PartLine>(needed: number, lines: readonly L[]) {
  const inState = (state: PartState) => lines.filter((line) => line.state === state)
  const ordered = sumOf(inState('ordered'))
  const arrived = sumOf(inState('arrived').filter(({ source }) => source !== 'shelf'))
  const fromShelf = sumOf(inState('arrived').filter(({ source }) => source === 'shelf'))
  const there = ordered + arrived + fromShelf
  const toOrder = Math.max(0, needed - there)
  const listed = inState('to order')
  const isNew = ({ at }: L) => !lines.some((other) => other.state !== 'wrong' && other.at > at)
  const leads = listed.flatMap(({ leadDays }) => leadDays ?? [])
  return {
    ...{ ordered, arrived, fromShelf, toOrder, over: Math.max(0, there - needed) },
    listed: Math.min(toOrder, sumOf(listed)),
    state: stateOf({
      toOrder,
      ordered,
      wrong: inState('wrong').length > 0 && listed.length === 0,
      never: inState('never').some(isNew),
    }),
    dueOn: last(inState('ordered').flatMap(({ dueOn }) => dueOn ?? [])),
    leadDays: leads.length > 0 ? Math.max(...leads) : null,
    lines,
  }
}

function stateOf(of: {
  toOrder: number
  ordered: number
  wrong: boolean
  never: boolean
}): PartStanding['state'] {
  if (of.toOrder > 0) return of.wrong ? 'wrong' : of.never ? 'never' : 'to order'
  return of.ordered > 0 ? 'ordered' : 'arrived'
}

/** It is asked for, on its way or there. */
function isAwaited(state: PartState): boolean {
  return state === 'to order' || state === 'ordered' || state === 'arrived'
}

function last(days: readonly string[]): string | null {
  return days.reduce<string | null>((latest, day) => (latest === null || day > latest ? day : latest), null)
}

/**
 * The lines that count for the jobs as they stand: what was written down before a job was last finished went into
 * that, and a job that is asked for again needs its parts again.
 */
export function notUsedUp<L extends Pick<PartLine, 'job' | 'at'>>(
  lines: readonly L[],
  finished: readonly { job: string; at: string }[],
): L[] {
  return lines.filter(({ job, at }) => !finished.some((run) => run.job === job && run.at >= at))
}

/** What was asked or paid for a part of a job, minor units. */
export type PartTold = {
  job: string
  part: string
  qty: number
  /** `paid`: in the box and counted as spent, or off the shop's own shelf; else what one costs. */
  costs: 'paid' | { unitMinor: number }
  /** Its share of the carriage of its order, where that is not paid yet. */
  carriageMinor: number
}

/** What is still to be paid for the parts of a job, once a supplier said what they cost. */
export function partsToPay(
  { key, parts }: { key: string; parts: readonly Part[] },
  told: readonly PartTold[],
): Part[] {
  const mine = told.filter(({ job }) => job === key)
  if (mine.length === 0) return parts.map((part) => ({ ...part }))
  const left = new Map<string, number>()
  for (const { part, qty } of mine) left.set(part, (left.get(part) ?? 0) + qty)
  const unasked = parts.flatMap((part) => {
    const covered = Math.min(part.qty, left.get(part.name) ?? 0)
    left.set(part.name, (left.get(part.name) ?? 0) - covered)
    return part.qty > covered ? [{ ...part, qty: part.qty - covered }] : []
  })
  const asked = mine.flatMap(({ part, qty, costs, carriageMinor }) => [
    ...(costs === 'paid' ? [] : [{ name: part, qty, unitCost: costs.unitMinor }]),
    ...(carriageMinor > 0 ? [{ name: `Carriage of ${part}`, qty: 1, unitCost: carriageMinor }] : []),
  ])
  return [...unasked, ...asked]
}

/** What somebody outside asks, or was paid, for the outside work of a job; minor units. */
export type OutsideTold = { job: string; costs: 'paid' | { amountMinor: number } }

/** What suppliers and others outside have said or been paid for one bike. */
export type AskedOutside = { parts: readonly PartTold[]; outside: readonly OutsideTold[] }

/** What is still to be paid to others for a job, once somebody said what they ask: that, and no estimate. */
export function outsideToPay<W>(
  { key, outsideWork }: { key: string; outsideWork: W },
  told: readonly OutsideTold[],
): W | number {
  const mine = told.filter(({ job }) => job === key)
  if (mine.length === 0) return outsideWork
  return mine.reduce((sum, { costs }) => sum + (costs === 'paid' ? 0 : costs.amountMinor), 0)
}

/** Two things are one part where their job and name are the same. */
function keyOf({ job, part }: { job: string; part: string }): string {
  return `${job}\n${part}`
}

function sumOf(lines: readonly { qty: number }[]): number {
  return lines.reduce((sum, { qty }) => sum + qty, 0)
}
