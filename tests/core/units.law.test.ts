import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { comparable, convert, convertDifference, units } from '../../lib/core/quantity/units'

const pair = fc
  .tuple(fc.constantFrom(...units), fc.constantFrom(...units))
  .filter(([from, to]) => comparable(from, to))
const value = fc.double({ min: -1e6, max: 1e6, noNaN: true })

describe('for all values and comparable units', () => {
  it('there and back is the same value', () => {
    fc.assert(
      fc.property(pair, value, ([from, to], v) => {
        const back = convert(convert(v, from, to), to, from)
        // The zero of degF is 32 away, so what is lost is relative to that as well.
        expect(Math.abs(back - v)).toBeLessThanOrEqual(1e-14 * (Math.abs(v) + 100))
      }),
    )
  })

  it('the larger value stays the larger', () => {
    fc.assert(
      fc.property(pair, value, value, ([from, to], a, b) => {
        const [low, high] = a < b ? [a, b] : [b, a]
        expect(convert(low, from, to)).toBeLessThanOrEqual(convert(high, from, to))
      }),
    )
  })

  it('a way over a third unit leads to the same value', () => {
    const three = fc.tuple(pair, fc.constantFrom(...units)).filter(([[from], over]) => comparable(from, over))
    fc.assert(
      fc.property(three, value, ([[from, to], over], v) => {
        const direct = convert(v, from, to)
        const around = convert(convert(v, from, over), over, to)
        expect(Math.abs(around - direct)).toBeLessThanOrEqual(1e-14 * (Math.abs(direct) + 1000))
      }),
    )
  })

  it('a difference of two values converts as the difference of the converted', () => {
    fc.assert(
      fc.property(pair, value, value, ([from, to], a, b) => {
        const scale = Math.abs(convertDifference(1, from, to))
        const apart = convert(a, from, to) - convert(b, from, to)
        expect(Math.abs(convertDifference(a - b, from, to) - apart)).toBeLessThanOrEqual(
          1e-14 * (scale * (Math.abs(a) + Math.abs(b)) + 100),
        )
      }),
    )
  })
})
