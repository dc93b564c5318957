import { type Atom, bodyUpTo, type Spread } from '../quantity/spread'
import { cdfTable, highOf, lowOf, meanExcess, meanOf, nodesOf, type Uncertain } from '../quantity/three-point'
import { dayPrice } from './day-price'
import type { DealInput } from './deal.input'
import { type Kept, keptOfSale } from './kept-of-sale'

/** The margin of a bike bought at one price. Minor units, not rounded. */
export interface MarginAt {
  /** Exact. */
  mean: number
  /** The least and the most that can come out. */
  min: number
  max: number
  /** Single values that carry probability of their own, ascending: only where sale and days are certain. */
  atoms: readonly Atom[]
  /** P(margin < amount), and whether that is possible at all. */
  chanceBelow(amount: number): number
  canBeBelow(amount: number): boolean
  /** The smallest amount with P(margin ≤ amount) ≥ level. */
  quantile(level: number): number
}

/** Equality is meant up to rounding: a margin that misses the target by so little reaches it. */
const slack = 1e-5

/** The mean margin at a price: linear in everything but sale price and tax, whose means are known in closed form. */
export function meanMarginAt(
  input: DealInput,
  { price, costMean }: { price: number; costMean: number },
): number {
  const days = meanOf(input.daysToReady) + meanOf(input.daysToSell)
  const { fixed, perDay } = outlays(input, { price, costMean })
  return meanKept(input, price) - costMean - fixed - days * perDay
}

/** E[sale less reserve less tax]. The tax is linear in the sale price on both sides of the purchase price. */
function meanKept(input: DealInput, price: number): number {
  const { atNothing, below, above } = keptOfSale(input, price)
  const sale = meanExcess(input.sale, input.saleOff)
  const overPrice = meanExcess(input.sale, input.saleOff + price)
  return atNothing + below * sale + (above - below) * overPrice
}

function outlays(input: DealInput, { price, costMean }: { price: number; costMean: number }) {
  const { buyingCosts, holding } = input
  return {
    fixed:
      price * (1 + buyingCosts.shareOfPrice) + buyingCosts.fixed + input.standingCosts + input.sellingCosts,
    perDay: dayPrice(holding, { price, costMean }),
  }
}

/**
 * The distribution of the margin at a price. Sale, days and cost are independent: what is kept of the sale less what
 * the days cost is one distribution function, and the cost is summed over against it.
 */
export function marginAt(input: DealInput, { price, cost }: { price: number; cost: Spread }): MarginAt {
  const terms = { price, costMean: cost.mean }
  const { fixed, perDay } = outlays(input, terms)
  const takings = takingsAt(input, { price, perDay })
  const mean = meanMarginAt(input, terms)
  const min = takings.min - cost.max - fixed
  const max = takings.max - cost.min - fixed
  const canBeBelow = (amount: number) => min < amount - slack
  const chanceBelow = (amount: number) => {
    if (!canBeBelow(amount)) return 0
    if (max < amount - slack) return 1
    return Math.min(1, chanceOfMoreThan(cost, { takings, less: fixed + amount - slack }))
  }
  const atoms = takings.certain
    ? cost.atoms.map((atom) => ({ at: takings.max - atom.at - fixed, mass: atom.mass })).reverse()
    : []
  const margin = { mean, min, max, atoms, chanceBelow, canBeBelow }
  return { ...margin, quantile: (level) => quantileOf(margin, level) }
}

/** What comes in: kept of the sale, less the price of the days. */
interface Takings {
  min: number
  max: number
  certain: boolean
  below(amount: number): number
}

/** P(cost > takings − less). */
function chanceOfMoreThan(cost: Spread, { takings, less }: { takings: Takings; less: number }): number {
  let chance = 0
  let inAtoms = 0
  for (const { at, mass } of cost.atoms) {
    chance += mass * takings.below(at + less)
    inAtoms += mass
  }
  const inBody = cost.body ? cost.body.below[cost.body.below.length - 1]! : 0
  // What the body's window does not hold lies above it.
  const beyond = Math.max(0, 1 - inAtoms - inBody)
  const low = takings.min - less
  const high = takings.max - less
  chance += inBody - bodyUpTo(cost.body, high)
  if (cost.body && high > low) {
    const { from, step, below } = cost.body
    const start = Math.max(low, from)
    const end = Math.min(high, from + step * (below.length - 1))
    // Cells of 1/128 of what both reach: the means within a cell differ from its middle in second order only, by some
    // (1/128)²/24 · 20 = 5e-5 at the steepest.
    const cells = 128
    const width = (end - start) / cells
    let before = bodyUpTo(cost.body, start)
    for (let cell = 0; cell < cells && end > start; cell++) {
      const upTo = bodyUpTo(cost.body, start + width * (cell + 1))
      if (upTo > before) chance += (upTo - before) * takings.below(start + width * (cell + 0.5) + less)
      before = upTo
    }
  }
  return chance + (beyond > 1e-9 ? beyond : 0)
}

function takingsAt(input: DealInput, { price, perDay }: { price: number; perDay: number }): Takings {
  const kept = keptOfSale(input, price)
  const days = [input.daysToReady, input.daysToSell]
  const ends = kept.endsOver(input.sale)
  const dayLow = perDay * (lowOf(days[0]!) + lowOf(days[1]!))
  const dayHigh = perDay * (highOf(days[0]!) + highOf(days[1]!))
  const min = ends.min - dayHigh
  const max = ends.max - dayLow
  if (max - min <= 1e-9 * Math.max(1, Math.abs(max))) {
    return { min, max, certain: true, below: (amount) => (max < amount ? 1 : 0) }
  }
  const distribution = () => takingsBelow(input, { kept, perDay, saleSpan: ends.max - ends.min })
  return { min, max, certain: false, below: tabled(distribution, min, max) }
}

/**
 * The widest of sale and days is taken by its distribution function, the others by values with weights: the wider it
 * is beside them, the fewer are enough.
 */
function takingsBelow(
  input: DealInput,
  { kept, perDay, saleSpan }: { kept: Kept; perDay: number; saleSpan: number },
): (amount: number) => number {
  const days = [input.daysToReady, input.daysToSell].sort((a, b) => widthOf(b) - widthOf(a))
  const [wider, narrower] = [days[0]!, days[1]!]
  const daySpan = perDay * widthOf(wider)
  const widest = Math.max(saleSpan, daySpan)
  const nodes = (value: Uncertain, span: number) =>
    nodesOf(value, Math.min(32, 6 + Math.ceil((26 * span) / widest)))
  const few = nodes(narrower, perDay * widthOf(narrower))
  if (saleSpan === widest) {
    const saleBelow = kept.chanceBelow(cdfTable(input.sale))
    const spent = grouped(pairs(nodes(wider, daySpan), few), widest / perDay)
    return (amount) => sumOver(spent, (inDays) => saleBelow(amount + perDay * inDays))
  }
  const daysUpTo = cdfTable(wider)
  const sales = nodes(input.sale, saleSpan).map(({ value, weight }) => ({ value: kept.of(value), weight }))
  const left = grouped(
    pairs(
      sales,
      few.map(({ value, weight }) => ({ value: -perDay * value, weight })),
    ),
    widest,
  )
  return (amount) => sumOver(left, (got) => 1 - daysUpTo((got - amount) / perDay))
}

function widthOf(value: Uncertain): number {
  return highOf(value) - lowOf(value)
}

interface Weighted {
  value: number
  weight: number
}

function pairs(first: readonly Weighted[], second: readonly Weighted[]): Weighted[] {
  return first.flatMap((one) =>
    second.map((other) => ({ value: one.value + other.value, weight: one.weight * other.weight })),
  )
}

/**
 * Values that lie close together, as one at their mean. What their sum is compared with is as wide as `widest`, so that
 * a group of 1/128 of that errs by about (1/128)²/12 · ½ · its steepest slope, some 2e-5.
 */
function grouped(values: readonly Weighted[], widest: number): Weighted[] {
  const low = Math.min(...values.map(({ value }) => value))
  const span = Math.max(...values.map(({ value }) => value)) - low
  const groups = Math.max(1, Math.ceil((128 * span) / widest))
  if (values.length <= groups) return [...values]
  const width = span / groups
  const sums = Array.from({ length: groups }, () => ({ weight: 0, moment: 0 }))
  for (const { value, weight } of values) {
    const sum = sums[width > 0 ? Math.min(groups - 1, Math.floor((value - low) / width)) : 0]!
    sum.weight += weight
    sum.moment += weight * value
  }
  return sums
    .filter(({ weight }) => weight > 0)
    .map(({ weight, moment }) => ({ value: moment / weight, weight }))
}

function sumOver(values: readonly Weighted[], chance: (value: number) => number): number {
  let sum = 0
  for (const { value, weight } of values) sum += weight * chance(value)
  return sum
}

/**
 * At 257 places, each worked out when it is first asked for and looked up from then on; a straight line between them errs
 * by (1/256)²/8 · 20 = 4e-5 at the steepest.
 */
function tabled(
  distribution: () => (amount: number) => number,
  min: number,
  max: number,
): (amount: number) => number {
  const steps = 256
  const step = (max - min) / steps
  let chance: ((amount: number) => number) | null = null
  const table = new Float64Array(steps + 1).fill(-1)
  table[steps] = 1
  const at = (place: number) => {
    if (table[place]! < 0) {
      chance ??= distribution()
      table[place] = chance(min + step * place)
    }
    return table[place]!
  }
  return (amount) => {
    const place = (amount - min) / step
    if (!(place > 0)) return 0
    if (place >= steps) return 1
    const index = Math.floor(place)
    const before = at(index)
    return before + (at(index + 1) - before) * (place - index)
  }
}

function quantileOf({ min, max, atoms, chanceBelow }: Omit<MarginAt, 'quantile'>, level: number): number {
  // Just above an amount, so that the amount itself is counted.
  const over = (amount: number) => chanceBelow(amount + 2 * slack) - level + 1e-9
  let low = min
  let high = max
  if (high <= low) return low
  let atLow = over(low)
  if (atLow >= 0) return low
  let atHigh = over(high)
  // By false position, an end that stays put counting half (the Illinois rule), and each third time by halving: a step
  // or a flat stretch is found too.
  for (let round = 1; round < 90 && high - low > 1e-9 * Math.max(1, Math.abs(high)); round++) {
    const share = round % 3 === 0 ? 0.5 : atLow / (atLow - atHigh)
    const middle = low + (high - low) * Math.min(1 - 1e-6, Math.max(1e-6, share || 0.5))
    const there = over(middle)
    if (there >= 0) {
      high = middle
      atHigh = there
      atLow /= 2
    } else {
      low = middle
      atLow = there
      atHigh /= 2
    }
  }
  return atoms.find(({ at }) => Math.abs(at - high) < 3 * slack)?.at ?? high
}
