import type { Took } from './measure'

/** How much is measured. */
export interface Extent {
  /** Of each bike, of which the median is told. */
  runs: number
  /** Bikes of one size, from the seeds 1, 2, … */
  bikes: number
  scopes: number
  /** Bikes one after another. */
  many: number
  /** Outcomes that the simulation draws. */
  draws: number
  /** Draws of the long run that stands for the truth where listing is out of reach; too few would tell nothing. */
  longRun: number | null
}

export const whole: Extent = { runs: 7, bikes: 3, scopes: 60, many: 1000, draws: 100_000, longRun: 2_000_000 }
export const quick: Extent = { runs: 3, bikes: 1, scopes: 15, many: 100, draws: 100_000, longRun: null }

/** One row: what was done beside the same done another way, in the same run. */
export interface Line {
  what: string
  ours: Took
  reference: { name: string; took: Took }
  /** How many times as long as the reference, where that is the question; else how many times as fast. */
  told?: 'as long'
  /** The quantile furthest from the truth, as a share of the range of 99.9 %. */
  truth?: { name: string; ours: number; reference: number }
}

/** What most lines stand beside. */
export const simulation = '100,000 simulated outcomes in plain TypeScript'

const columns = [
  'ratio',
  'what',
  'beside',
  'took',
  'the other took',
  'furthest quantile from the truth, of the 99.9 % range',
]

export function head(): string {
  return `${row(columns)}\n${row(columns.map(() => '---'))}`
}

/** Ratio by processor time, which other programs on the machine disturb least. */
export function rowOf({ what, ours, reference, told, truth }: Line): string {
  const ratio = reference.took.cpu / ours.cpu
  return row([
    told === 'as long' ? `${digits(1 / ratio)} × as long` : `${digits(ratio)} × as fast`,
    what,
    reference.name,
    milliseconds(ours),
    milliseconds(reference.took),
    truth ? `${percent(truth.ours)}, the other ${percent(truth.reference)} (${truth.name})` : '',
  ])
}

function row(cells: readonly string[]): string {
  return `| ${cells.join(' | ')} |`
}

function milliseconds({ cpu, wall }: Took): string {
  return `${digits(cpu)} ms (${digits(wall)})`
}

/** Two digits that count, and no more than is known. */
function digits(value: number): string {
  if (value >= 100) return Math.round(value).toLocaleString('en')
  return String(Number(value.toPrecision(2)))
}

function percent(share: number): string {
  return `${Number((100 * share).toPrecision(2))} %`
}
