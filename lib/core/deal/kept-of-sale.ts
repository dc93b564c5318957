import { highOf, lowOf, type Uncertain } from '../quantity/three-point'
import type { DealInput } from './deal.input'
import { taxUnrounded } from './tax'

/**
 * What is kept of a sale, after reserve and tax, at a given purchase price: a line in the sale price S up to the
 * purchase price and another one above it, since only there a margin is taxed.
 */
export interface Kept {
  /** Kept where nothing comes in; then per unit of S below the purchase price, and above it. */
  atNothing: number
  below: number
  above: number
  /** Kept where the bike with everything right would bring `value`. */
  of(value: number): number
  endsOver(value: Uncertain): { min: number; max: number }
  /** P(kept < amount), from the distribution function of the sale price with everything right. */
  chanceBelow(upTo: (value: number) => number): (amount: number) => number
}

export function keptOfSale(input: DealInput, price: number): Kept {
  const taxOn = (sale: number) => taxUnrounded(input.tax, { purchase: price, sale })
  const share = 1 - input.reserveShareOfSale
  // Slopes over a stretch long enough that rounding does not show.
  const stretch = Math.max(price, 1e6)
  const atNothing = -taxOn(0)
  const below = price > 0 ? share - (taxOn(price) - taxOn(0)) / price : 0
  const above = share - (taxOn(price + stretch) - taxOn(price)) / stretch
  const first = input.saleOff
  const second = input.saleOff + price
  const atPrice = atNothing + below * price
  const of = (value: number) => {
    if (value <= first) return atNothing
    if (value <= second) return atNothing + below * (value - first)
    return atPrice + above * (value - second)
  }
  return {
    atNothing,
    below,
    above,
    of,
    endsOver(value) {
      const low = lowOf(value)
      const high = highOf(value)
      const turns = [first, second].filter((turn) => turn > low && turn < high)
      const kept = [low, ...turns, high].map(of)
      return { min: Math.min(...kept), max: Math.max(...kept) }
    },
    chanceBelow(upTo) {
      const toFirst = upTo(first)
      const toSecond = upTo(second)
      return (amount) =>
        (atNothing < amount ? toFirst : 0) +
        onLine({ from: first, start: toFirst, end: toSecond, at: atNothing, slope: below }, upTo, amount) +
        onLine({ from: second, start: toSecond, end: 1, at: atPrice, slope: above }, upTo, amount)
    },
  }
}

interface Line {
  /** Where the line begins, and what is kept there. */
  from: number
  at: number
  slope: number
  /** The distribution function at its two ends. */
  start: number
  end: number
}

/** The probability of the values on a line whose kept amount is below `amount`. */
function onLine(
  { from, at, slope, start, end }: Line,
  upTo: (value: number) => number,
  amount: number,
): number {
  if (end <= start) return 0
  if (slope === 0) return at < amount ? end - start : 0
  const there = Math.min(end, Math.max(start, upTo(from + (amount - at) / slope)))
  return slope > 0 ? there - start : end - there
}
