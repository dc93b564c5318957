import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { allocate, roundFractionHalfAway, roundHalfAway } from '../../lib/core/quantity/money'

const total = fc.integer({ min: -2_000_000_000, max: 2_000_000_000 })
const shares = fc
  .array(fc.oneof(fc.constant(0), fc.double({ min: 1e-3, max: 1e6, noNaN: true }), fc.nat(20)), {
    minLength: 1,
    maxLength: 12,
  })
  .filter((all) => all.some((share) => share > 0))

describe('for all amounts and shares', () => {
  it('the parts add up to the whole', () => {
    fc.assert(
      fc.property(total, shares, (amount, by) => {
        expect(allocate(amount, by).reduce((a, b) => a + b, 0)).toBe(amount)
      }),
    )
  })

  it('each part is within one minor unit of its exact share, and a share of nothing gets nothing', () => {
    fc.assert(
      fc.property(total, shares, (amount, by) => {
        const sum = by.reduce((a, b) => a + b, 0)
        allocate(amount, by).forEach((part, index) => {
          expect(Math.abs(part - (amount * by[index]!) / sum)).toBeLessThan(1.001)
          if (by[index] === 0) expect(part + 0).toBe(0)
        })
      }),
    )
  })

  it('rounding is odd: the negative rounds to the negative', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), (value) => {
        expect(roundHalfAway(-value) + roundHalfAway(value)).toBe(0)
        expect(Math.abs(roundHalfAway(value) - value)).toBeLessThanOrEqual(0.5)
      }),
    )
  })

  it('a fraction rounds as its number does where that number is exact', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e9, max: 1e9 }), fc.integer({ min: 0, max: 10 }), (n, power) => {
        expect(roundFractionHalfAway(BigInt(n), BigInt(2 ** power))).toBe(roundHalfAway(n / 2 ** power))
      }),
    )
  })
})
