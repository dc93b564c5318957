import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { vin } from '../../lib/core/codes/vin'

const asOf = '2026-11-25'
const alphabet = [...'ABCDEFGHJKLMNPRSTUVWXYZ0123456789']
const number = fc
  .array(fc.constantFrom(...alphabet), { minLength: 17, maxLength: 17 })
  .map((all) => all.join(''))
const valid = number.map((any) => {
  const { computed } = vin({ vin: any, asOf }).checkDigit ?? { computed: '' }
  return any.slice(0, 8) + computed + any.slice(9)
})

describe('for all numbers', () => {
  it('putting in the computed check digit makes it match, and nothing else does', () => {
    fc.assert(
      fc.property(valid, fc.constantFrom(...'0123456789X'), (good, digit) => {
        expect(vin({ vin: good, asOf }).checkDigit?.match).toBe(true)
        const other = good.slice(0, 8) + digit + good.slice(9)
        expect(vin({ vin: other, asOf }).checkDigit?.match).toBe(digit === good.charAt(8))
      }),
    )
  })

  it('one mistyped digit is always found', () => {
    // Weights and differences of digits are both below 11, which is prime, so their product never vanishes.
    fc.assert(
      fc.property(valid, fc.nat(16), fc.nat(9), (good, position, digit) => {
        fc.pre(position !== 8 && /\d/.test(good.charAt(position)) && good.charAt(position) !== String(digit))
        const mistyped = good.slice(0, position) + digit + good.slice(position + 1)
        expect(vin({ vin: mistyped, asOf }).checkDigit?.match).toBe(false)
      }),
    )
  })

  it('spaces, hyphens and small letters change nothing', () => {
    fc.assert(
      fc.property(
        number,
        fc.array(fc.tuple(fc.nat(17), fc.constantFrom(' ', '-')), { maxLength: 5 }),
        (any, marks) => {
          const written = marks.reduce(
            (text, [at, mark]) => text.slice(0, at) + mark + text.slice(at),
            any.toLowerCase(),
          )
          expect(vin({ vin: written, asOf })).toEqual(vin({ vin: any, asOf }))
        },
      ),
    )
  })

  it('each model year it may be is a claim that fits, and no other year is', () => {
    fc.assert(
      fc.property(number, fc.integer({ min: 1970, max: 2040 }), (any, claimedYear) => {
        const { modelYears, claimedYearFits } = vin({ vin: any, claimedYear, asOf })
        if (modelYears.length > 0) expect(claimedYearFits).toBe(modelYears.includes(claimedYear))
        for (const year of modelYears) expect(year).toBeLessThanOrEqual(2027)
      }),
    )
  })
})
