import { CalcProblem } from './problem'

/** An amount of money in whole minor units (pence, cents) of the shop's currency. A major unit is 100 of them. */
export type Minor = number

/** To the whole number nearest to `value`; a half goes away from zero: 2.5 → 3, −2.5 → −3. */
export function roundHalfAway(value: number): number {
  const size = Math.round(Math.abs(value))
  return value < 0 && size > 0 ? -size : size
}

/**
 * The fraction numerator/denominator (denominator above 0) to whole minor units, a half away from zero.
 * Whole numbers keep a half a half: 9 × 0.2 / 1.2 in binary fractions can land just beside its 1.5.
 */
export function roundFractionHalfAway(numerator: bigint, denominator: bigint): Minor {
  const size = numerator < 0n ? -numerator : numerator
  const rounded = Number((2n * size + denominator) / (2n * denominator))
  return numerator < 0n && rounded > 0 ? -rounded : rounded
}

/**
 * Splits `total` (whole minor units) in the ratio of `shares` (0 or more, not all 0) and keeps the sum:
 * allocate(1000, [1, 1, 1]) is [334, 333, 333]. Each part is within one minor unit of its exact share;
 * what is left over goes one by one to the largest remainders, the earlier on ties; a share of 0 gets 0.
 * @throws CalcProblem where there is nothing to split by or the total is not whole.
 */
export function allocate(total: Minor, shares: readonly number[]): Minor[] {
  if (!Number.isSafeInteger(total)) {
    throw new CalcProblem('Only whole minor units can be split.', {
      path: ['total'],
      hint: 'Round first.',
    })
  }
  const wrong = shares.findIndex((share) => !Number.isFinite(share) || share < 0)
  if (wrong >= 0) {
    throw new CalcProblem('A share is a number from 0 up.', {
      path: ['shares', wrong],
      hint: 'Leave the share out or make it 0.',
    })
  }
  const largest = Math.max(0, ...shares)
  if (largest === 0) {
    throw new CalcProblem('Nothing to split by: no share is above 0.', {
      path: ['shares'],
      hint: 'Give at least one share above 0.',
    })
  }
  const sign = total < 0 ? -1n : 1n
  const whole = BigInt(total) * sign
  const weights = shares.map((share) => wholeWeight(share / largest))
  const sum = weights.reduce((a, b) => a + b, 0n)
  const parts = weights.map((weight) => (whole * weight) / sum)
  const left = Number(whole - parts.reduce((a, b) => a + b, 0n))
  const byRemainder = weights
    .map((weight, index) => ({ index, remainder: (whole * weight) % sum }))
    .sort((a, b) => (a.remainder === b.remainder ? a.index - b.index : a.remainder < b.remainder ? 1 : -1))
  for (const { index } of byRemainder.slice(0, left)) parts[index] = parts[index]! + 1n
  return parts.map((part) => Number(part * sign))
}

/** A share of the largest as a whole number of 2^-52ths, the fineness of a double near 1. */
function wholeWeight(ofLargest: number): bigint {
  return BigInt(Math.round(ofLargest * 2 ** 52))
}
