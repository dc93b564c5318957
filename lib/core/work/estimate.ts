import { type Shape, shapeOf } from '../quantity/shape'
import { quantile, type Spread, spreadsOfFamily } from '../quantity/spread'
import type { EstimateInput } from './estimate.input'
import { type Moments, momentsOf, sharesOf } from './moments'
import { familyOf, inHours, inMoney } from './outcome-spread'
import { type Outcomes, outcomesOf } from './outcomes'
import { simulatedSpreads } from './simulation'
import { type Work, workOf } from './work'

export type { EstimateInput, EstimateRawInput } from './estimate.input'

/** A mean with its spread: hours, or minor units that are not rounded. Keys of quantiles are String(level). */
export interface Amount {
  mean: number
  sd: number
  quantiles: Record<string, number>
}

export interface Estimate {
  hours: Amount
  cost: Amount
  /** All operations of the input, in its order. */
  operations: {
    key: string
    /** That it is done at all. */
    chance: number
    /** Keys of all jobs that need it, directly or through other operations. */
    sharedBy: string[]
  }[]
  /** What the jobs would take one by one, less what they take together. */
  hoursSavedBySharing: { mean: number }
  /** What each job adds in expectation; the lines sum to the mean. */
  lines: { key: string; chance: number; hoursMean: number; costMean: number }[]
  /** How the quantiles were found; everything else is exact at any size. */
  method: 'exact' | 'simulation'
}

/** Above so many merged states the quantiles come from a simulation. */
const mostStates = 20_000

/**
 * Hours and money that a set of jobs takes. The work is the union of the operations of the jobs that happen, each
 * once, and what the jobs add of their own; see the page beside this room for the formulas.
 */
export function estimate(input: EstimateInput): Estimate {
  const work = workOf(input)
  const moments = momentsOf(work, input.labourRate)
  const spreads = spreadsOf(input, { work, moments })
  const shares = sharesOf(work, input.labourRate)
  const quantilesOf = (spread: Spread) =>
    Object.fromEntries(input.quantiles.map((level) => [String(level), quantile(spread, level)]))
  return {
    hours: { ...moments.hours, quantiles: quantilesOf(spreads.hours()) },
    cost: { ...moments.cost, quantiles: quantilesOf(spreads.cost()) },
    operations: Object.keys(input.operations).map((key, place) => ({
      key,
      chance: shares.operationChances[place]!,
      sharedBy: work.operations[place]!.jobs.map((job) => input.jobs[job]!.key),
    })),
    hoursSavedBySharing: { mean: shares.hoursSaved },
    lines: input.jobs.map(({ key }, job) => ({ key, ...shares.lines[job]! })),
    method: spreads.method,
  }
}

/** The means and deviations alone, which need no distribution. */
export function estimateMeans(input: EstimateInput): Moments {
  return momentsOf(workOf(input), input.labourRate)
}

/** The outlines of both distributions, for drawing: minor units and hours. */
export function estimateSpread(input: EstimateInput): { cost: Shape; hours: Shape } {
  const { cost, hours } = workSpreads(input)
  return { cost: shapeOf(cost()), hours: shapeOf(hours()) }
}

/** The distributions of money (minor units) and of hours, each worked out when called: for what builds on them. */
export function workSpreads(input: EstimateInput): { cost: () => Spread; hours: () => Spread } {
  const work = workOf(input)
  return spreadsOf(input, { work, moments: momentsOf(work, input.labourRate) })
}

/**
 * The distributions are the dear part, and one page asks for those of the same input several times: for its
 * figures, its pictures and each price it tries. They are kept as long as that input, which nobody changes.
 */
const kept = new WeakMap<EstimateInput, Spreads>()

type Spreads = { method: Estimate['method']; cost: () => Spread; hours: () => Spread }

function spreadsOf(input: EstimateInput, known: { work: Work; moments: Moments }): Spreads {
  const before = kept.get(input)
  if (before) return before
  const { method, cost, hours } = newSpreads(input, known)
  const made = { method, cost: once(cost), hours: once(hours) }
  kept.set(input, made)
  return made
}

function newSpreads(input: EstimateInput, { work, moments }: { work: Work; moments: Moments }): Spreads {
  const outcomes = outcomesOf(work, mostStates)
  if (!outcomes) {
    const simulated = simulatedSpreads(work, { labourRate: input.labourRate, moments })
    return { method: 'simulation', cost: () => simulated.cost, hours: () => simulated.hours }
  }
  return { method: 'exact', ...exactSpreads(input, { work, moments, outcomes }) }
}

function once<T>(work: () => T): () => T {
  let made: { value: T } | null = null
  return () => {
    made ??= { value: work() }
    return made.value
  }
}

function exactSpreads(
  input: EstimateInput,
  { work, moments, outcomes }: { work: Work; moments: Moments; outcomes: Outcomes },
) {
  const spread = (kind: keyof Moments) => {
    const measure = kind === 'hours' ? inHours : inMoney(input.labourRate)
    const member = { likelihood: work, ...moments[kind], reach: reachOf(input) }
    return spreadsOfFamily(familyOf({ work, outcomes, measure }, [member]))[0]!
  }
  return { cost: () => spread('cost'), hours: () => spread('hours') }
}

/** The highest level that is asked for, but for the most that can come out, which is known without the spread. */
function reachOf({ quantiles }: EstimateInput): number {
  return Math.max(0, ...quantiles.filter((level) => level < 1))
}

/**
 * The distributions of money (minor units) of works that differ from the first in chances alone: those of its jobs
 * and groups, and of its states of care. What is certain or impossible in the first is so in all. Worked out side
 * by side, for much less than one by one.
 */
export function costSpreads(inputs: readonly EstimateInput[]): Spread[] {
  const [first] = inputs
  if (!first) return []
  const works = inputs.map(workOf)
  const outcomes = outcomesOf(works[0]!, mostStates)
  if (!outcomes) return inputs.map((input) => workSpreads(input).cost())
  return spreadsOfFamily(
    familyOf(
      { work: works[0]!, outcomes, measure: inMoney(first.labourRate) },
      works.map((work, place) => ({
        likelihood: work,
        ...momentsOf(work, first.labourRate).cost,
        reach: reachOf(inputs[place]!),
      })),
    ),
  )
}
