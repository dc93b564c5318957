import { drawnBetween, outline, type Shape, shapeOf } from '../quantity/shape'
import type { Spread } from '../quantity/spread'
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
  /** Whether the rule is kept at a price, so that it is at most the walk-away price. */
  keepsRuleAt(price: number): boolean
  /** For drawing. */
  marginShapeAt(price: number): Shape
  costShape(): Shape
}

export function prospectOf(input: DealInput): Prospect {
  return prospectWith(input, workSpreads(input.estimate).cost())
}

/** The same where the distribution of the cost is known already. */
export function prospectWith(input: DealInput, cost: Spread): Prospect {
  const at = (price: number) => marginAt(input, { price, cost })
  const expectedMarginAt = (price: number) => meanMarginAt(input, { price, costMean: cost.mean })
  const margin = { at, expectedMarginAt }
  return {
    expectedMarginAt,
    chanceOfLossAt: (price) => at(price).chanceBelow(0),
    at: (price) => outcomeOf(at(price), input),
    walkAway: () => walkAwayPrice(input, margin),
    keepsRuleAt: (price) => keepsRule(input, margin, Math.ceil(price / majorUnit)),
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
    from: quantile(drawnBetween.low),
    to: quantile(drawnBetween.high),
    atoms,
    bodyUpTo: (amount) => chanceBelow(amount) - inAtoms(amount),
  })
}

const majorUnit = 100

/** What is left at a price, in full and on average. */
interface Margins {
  at(price: number): MarginAt
  expectedMarginAt(price: number): number
}

/**
 * Whatever happens, a higher price leaves less: each further minor unit costs one, of which tax gives back at most
 * rate/(1 + rate). So a rule holds up to some price and not above it.
 */
function walkAwayPrice(input: DealInput, margins: Margins): number | null {
  const mean = (units: number) => meanShort(input, margins, units)
  const most = largest(mean)
  if (most === null) return null
  const chance = (units: number) => chanceOver(input, margins, units)
  const overAtMost = chance(most)
  if (overAtMost <= 0) return most * majorUnit
  const overAtNothing = most === 0 ? overAtMost : chance(0)
  if (overAtNothing > 0) return null
  return between({ good: 0, atGood: overAtNothing, bad: most, atBad: overAtMost }, chance) * majorUnit
}

function keepsRule(input: DealInput, margins: Margins, units: number): boolean {
  return meanShort(input, margins, units) <= 0 && chanceOver(input, margins, units) <= 0
}

/** By how much the rule's first condition is missed at a price: on average, or, for a chance, at its best. */
function meanShort({ rule }: DealInput, margins: Margins, units: number): number {
  const price = units * majorUnit
  const reached = rule.kind === 'average' ? margins.expectedMarginAt(price) : margins.at(price).max
  return rule.targetMargin - 1e-6 - reached
}

/** By how much the chance of too little is above the most it may be. */
function chanceOver({ rule }: DealInput, { at }: Margins, units: number): number {
  const margin = at(units * majorUnit)
  const [amount, most] =
    rule.kind === 'average' ? [0, rule.maxChanceOfLoss] : [rule.targetMargin, 1 - rule.confidence]
  // No chance at all is a matter of the worst that can happen, not of a sum that comes out small.
  if (most === 0) return margin.canBeBelow(amount) ? 1 : 0
  return margin.chanceBelow(amount) - most - 1e-9
}

/** The largest whole number from 0 up at which `over` is not above 0; null where it is at 0. */
function largest(over: (number: number) => number): number | null {
  let good = { good: 0, atGood: over(0) }
  if (good.atGood > 0) return null
  for (let beyond = 1; ; beyond *= 2) {
    const there = over(beyond)
    if (there > 0) return between({ ...good, bad: beyond, atBad: there }, over)
    good = { good: beyond, atGood: there }
  }
}

/**
 * The largest whole number at which `over`, which never falls, is not above 0: by the rule of false position, with the
 * value of an end that stays put halved (the Illinois rule), and by halving each third time, so that a step in it is found.
 */
function between(
  { good, atGood, bad, atBad }: { good: number; atGood: number; bad: number; atBad: number },
  over: (number: number) => number,
): number {
  const ends = { good, atGood, bad, atBad }
  for (let round = 1; ends.bad - ends.good > 1; round++) {
    const span = ends.bad - ends.good
    const share = round % 3 === 0 ? 0.5 : ends.atGood / (ends.atGood - ends.atBad)
    const number = ends.good + Math.min(span - 1, Math.max(1, Math.round(span * (share || 0))))
    const there = over(number)
    if (there > 0) {
      ends.bad = number
      ends.atBad = there
      ends.atGood /= 2
    } else {
      ends.good = number
      ends.atGood = there
      ends.atBad /= 2
    }
  }
  return ends.good
}
