import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { formatNumber } from '../../app/_ui/formats'
import { numberFromTyped } from '../../lib/shop/fields'

describe('a number as typed', () => {
  test.each([
    ['27301.5', 27_301.5],
    ['27301,5', 27_301.5],
    ['27,301', 27_301],
    ['27,301.5', 27_301.5],
    ['1,027,301.25', 1_027_301.25],
    ['27.301,5', 27_301.5],
    ['27 301.5', 27_301.5],
    ['4.125', 4.125],
    ['-0.5', -0.5],
    ['', null],
    ['27,3015.5', null],
    ['27.301,5.2', null],
    ['27,301,5', null],
    ['far', null],
    ['1e3', null],
    ['9'.repeat(400), null],
  ] as const)('%j is read as %s', (typed, value) => {
    expect(numberFromTyped(typed)).toBe(value)
  })

  test('is read back as the screens write it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 20_000_000 }), (tenths) => {
        expect(numberFromTyped(formatNumber(tenths / 10, 1))).toBe(tenths / 10)
      }),
    )
  })
})
