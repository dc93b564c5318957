import { describe, expect, it, test } from 'vitest'
import { allocate, roundFractionHalfAway, roundHalfAway } from '../../lib/core/quantity/money'
import { CalcProblem } from '../../lib/core/quantity/problem'

describe('rounding to the minor unit', () => {
  test.each([
    [2.5, 3],
    [-2.5, -3],
    [2.4, 2],
    [-0.4, 0],
    [0.49999999999999994, 0],
    [0, 0],
  ])('%d becomes %d', (value, expected) => {
    expect(roundHalfAway(value)).toBe(expected)
  })

  test.each([
    [5n, 2n, 3],
    [-5n, 2n, -3],
    [18n, 12n, 2],
    [17n, 12n, 1],
    [-1n, 12n, 0],
    [0n, 7n, 0],
  ])('the fraction %d / %d becomes %d', (numerator, denominator, expected) => {
    expect(roundFractionHalfAway(numerator, denominator)).toBe(expected)
  })
})

describe('splitting an amount', () => {
  test.each<[number, number[], number[]]>([
    [1000, [1, 1, 1], [334, 333, 333]],
    [-1000, [1, 1, 1], [-334, -333, -333]],
    [100, [0, 1, 0], [0, 100, 0]],
    [1, [1, 1], [1, 0]],
    [0, [3, 4], [0, 0]],
    [100, [0.3, 0.3, 0.4], [30, 30, 40]],
    [5, [1, 2, 2], [1, 2, 2]],
    [4, [1, 2, 2], [1, 2, 1]],
    [10, [1e300, 1e300], [5, 5]],
  ])('%d by %j is %j', (total, shares, expected) => {
    expect(allocate(total, shares)).toEqual(expected)
  })

  it('refuses shares that say nothing, negative shares and part of a penny', () => {
    expect(() => allocate(10, [])).toThrow(CalcProblem)
    expect(() => allocate(10, [0, 0])).toThrow(CalcProblem)
    expect(() => allocate(10, [1, -1])).toThrow(CalcProblem)
    expect(() => allocate(10, [1, Number.NaN])).toThrow(CalcProblem)
    expect(() => allocate(10.5, [1])).toThrow(CalcProblem)
  })
})
