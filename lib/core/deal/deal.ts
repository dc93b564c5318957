import { outline, type Shape, shapeOf } from '../quantity/shape'
import { workSpreads } from '../work/estimate'
import type { DealInput } from './deal.input'
import { type MarginAt, marginAt, meanMarginAt } from './margin'

export type { DealInput, DealRawInput } from './deal.input'

/** What a price leads to. Minor units, not rounded. Keys of quantiles are String(level). */
export interface Outcome {
  expectedMargin: number
  /** P(margin < 0). */
  chanceOfLoss: number
  /** P(margin ≥ the rule's target). */
  chanceOfTarget: number
  margin: { mean: number; quantiles: Record<string, number> }
}

export interface Deal {
  /** The most that may be paid under the rule, in minor units of whole major units; null where even 0 is too much. */
  walkAway: number | null
  atAsking: Outcome | null
  atWalkAway: Outcome | null
}

/** The walk-away price of a bike and what asking and walk-away price lead to. */
export function deal(input: DealInput): Deal {
  const prospect = prospectOf(input)
  const walkAway = prospect.walkAway()
  return {
    walkAway,
    atAsking: input.asking === undefined ? null : prospect.at(input.asking),
    atWalkAway: walkAway === null ? null : prospect.at(walkAway),
  }
}

/** One bike's margin at any price (minor units), its distribution of cost worked out once. */
export interface Prospect {
  expectedMarginAt(price: number): number
  chanceOfLossAt(price: number): number
  at(price: number): Outcome
  walkAway(): number | null
  /** For drawing. */
  marginShapeAt(price: number): Shape
  costShape(): Shape
}

export function prospectOf(input: DealInput): Prospect {
  const cost = workSpreads(input.estimate).cost()
  const at = (price: number) => marginAt(input, { price, cost })
  const expectedMarginAt = (price: number) => meanMarginAt(input, { price, costMean: cost.mean })
  return {
    expectedMarginAt,
    chanceOfLossAt: (price) => at(price).chanceBelow(0),
    at: (price) => outcomeOf(at(price), input),
    walkAway: () => walkAwayPrice(input, { at, expectedMarginAt }),
    marginShapeAt: (price) => shapeOfMargin(at(price)),
    costShape: () => shapeOf(cost),
  }
}

/** The mean margin at a price, in minor units, not rounded; exact. */
export function expectedMarginAt(input: DealInput, price: number): number {
  return prospectOf(input).expectedMarginAt(price)
}

/** The outline of the margin's distribution at a price, for drawing. */
export function marginSpread(input: DealInput, price: number): Shape {
  return prospectOf(input).marginShapeAt(price)
}

function outcomeOf(margin: MarginAt, { estimate, rule }: DealInput): Outcome {
  return {
    expectedMargin: margin.mean,
    chanceOfLoss: margin.chanceBelow(0),
    chanceOfTarget: 1 - margin.chanceBelow(rule.targetMargin),
    margin: {
      mean: margin.mean,
      quantiles: Object.fromEntries(
        estimate.quantiles.map((level) => [String(level), margin.quantile(level)]),
      ),
    },
  }
}

function shapeOfMargin({ atoms, chanceBelow, quantile }: MarginAt): Shape {
  const inAtoms = (amount: number) => atoms.reduce((sum, { at, mass }) => (at < amount ? sum + mass : sum), 0)
  return outline({
    from: quantile(0.0005),
    to: quantile(0.9995),
    atoms,
    bodyUpTo: (amount) => chanceBelow(amount) - inAtoms(amount),
  })
}

const majorUnit = 100

/**
 * Whatever happens, a higher price leaves less: each further minor unit costs one, of which tax gives back at most
 * rate/(1 + rate). So a rule holds up to some price and not above it.
 */
function walkAwayPrice(
  { rule }: DealInput,
  { at, expectedMarginAt }: { at: (price: number) => MarginAt; expectedMarginAt: (price: number) => number },
): number | null {
  const target = rule.targetMargin - 1e-6
  if (rule.kind === 'average') {
    const byMean = largest((units) => expectedMarginAt(units * majorUnit) >= target)
    return inMinor(byMean, (price) => chanceBelowAtMost(at(price), 0, rule.maxChanceOfLoss))
  }
  const possible = largest((units) => at(units * majorUnit).max >= target)
  return inMinor(possible, (price) => chanceBelowAtMost(at(price), rule.targetMargin, 1 - rule.confidence))
}

/** No chance at all is a matter of the worst that can happen, not of a sum that comes out small. */
function chanceBelowAtMost(margin: MarginAt, amount: number, most: number): boolean {
  return most === 0 ? !margin.canBeBelow(amount) : margin.chanceBelow(amount) <= most + 1e-9
}

/** The largest number of major units, up to `most`, at which `holds`, as a price. */
function inMinor(most: number | null, holds: (price: number) => boolean): number | null {
  if (most === null) return null
  if (holds(most * majorUnit)) return most * majorUnit
  const units = between(-1, most, (number) => holds(number * majorUnit))
  return units < 0 ? null : units * majorUnit
}

/** The largest whole number from 0 up at which `holds`, which does so up to some number; null where 0 does not. */
function largest(holds: (number: number) => boolean): number | null {
  if (!holds(0)) return null
  let beyond = 1
  while (holds(beyond)) beyond *= 2
  return between(Math.floor(beyond / 2), beyond, holds)
}

/** By halving: `low` holds (or is −1), `high` does not. */
function between(low: number, high: number, holds: (number: number) => boolean): number {
  let good = low
  let bad = high
  while (bad - good > 1) {
    const middle = Math.floor((good + bad) / 2)
    if (holds(middle)) good = middle
    else bad = middle
  }
  return good
}
