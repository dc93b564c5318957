import { cdfOf, highOf, isCertain, lowOf, type Uncertain } from '../quantity/three-point'
import type { EstimateInput } from '../work/estimate.input'
import { deal } from './deal'
import type { DealInput } from './deal.input'

export const uncertainInputs = ['sale', 'work', 'days-to-sell', 'unseen'] as const
export type UncertainInput = (typeof uncertainInputs)[number]

/** What one input does to the walk-away price. Minor units; null where no price keeps the rule. */
export interface Swing {
  input: UncertainInput
  /** The value taken at the bad and at the good end: minor units, or days. */
  at: { bad: number; good: number }
  walkAway: { bad: number | null; good: number | null }
  /** The difference of both, a price that does not exist counted as nothing. */
  width: number
}

/** One time in ten an input is worse than its bad end, one time in ten better than its good end. */
const levels = { low: 0.1, high: 0.9 } as const

/**
 * Which inputs move the walk-away price most: each in turn is put at the value it exceeds nine times in ten and
 * at the one it exceeds one time in ten, all others as they are, and the price is worked out again. `unseen`
 * compares a bike of which nothing unseen is wrong (good) with the bike as it stands (bad).
 * Widest first; an input that is certain is left out.
 */
export function swings(
  input: DealInput,
  given: { work: { low: number; high: number }; withoutUnseen: EstimateInput | null },
): Swing[] {
  const { work, withoutUnseen } = given
  const walkAway = (changed: Partial<DealInput>) => deal({ ...input, asking: undefined, ...changed }).walkAway
  const found: Swing[] = []
  const add = (
    one: UncertainInput,
    ends: { bad: number; good: number },
    as: (value: number) => Partial<DealInput>,
  ) => {
    found.push(swingOf(one, ends, { bad: walkAway(as(ends.bad)), good: walkAway(as(ends.good)) }))
  }
  if (!isCertain(input.sale)) {
    const ends = { bad: quantileOf(input.sale, levels.low), good: quantileOf(input.sale, levels.high) }
    add('sale', ends, (value) => ({ sale: Math.round(value) }))
  }
  if (work.high > work.low) {
    add('work', { bad: work.high, good: work.low }, (value) => ({
      estimate: certainWork(input.estimate, value),
    }))
  }
  if (!isCertain(input.daysToSell)) {
    const ends = {
      bad: quantileOf(input.daysToSell, levels.high),
      good: quantileOf(input.daysToSell, levels.low),
    }
    add('days-to-sell', ends, (value) => ({ daysToSell: value }))
  }
  if (withoutUnseen) {
    const prices = { bad: walkAway({}), good: walkAway({ estimate: withoutUnseen }) }
    found.push(swingOf('unseen', { bad: 0, good: 0 }, prices))
  }
  return found.sort((a, b) => b.width - a.width)
}

function swingOf(input: UncertainInput, at: Swing['at'], walkAway: Swing['walkAway']): Swing {
  return { input, at, walkAway, width: Math.abs((walkAway.good ?? 0) - (walkAway.bad ?? 0)) }
}

/** Work that costs one amount for certain. */
function certainWork(estimate: EstimateInput, cost: number): EstimateInput {
  const job = {
    key: 'all-work',
    operations: [],
    hours: 0,
    parts: [],
    outsideWork: Math.max(0, Math.round(cost)),
    chance: 1,
    fasteners: true,
  }
  return { ...estimate, operations: {}, care: undefined, oneOf: [], jobs: [job] }
}

/** The value that is exceeded with chance 1 − level. */
function quantileOf(value: Uncertain, level: number): number {
  let low = lowOf(value)
  let high = highOf(value)
  for (let halving = 0; halving < 60; halving++) {
    const middle = (low + high) / 2
    if (cdfOf(value, middle) < level) low = middle
    else high = middle
  }
  return (low + high) / 2
}
