import { describe, expect, test } from 'vitest'
import { convert, type Unit } from '../../lib/core/quantity/units'

const yardAndPound = 'international yard and pound agreement of 1959: 1 in = 25.4 mm, 1 lb = 0.45359237 kg'
const gravity = '3rd CGPM (1901): standard gravity 9.80665 m/s²'

describe('units agree with their definitions to twelve digits', () => {
  test.each<[number, Unit, number, Unit, string]>([
    [1, 'in', 25.4, 'mm', yardAndPound],
    [1, 'in32', 0.79375, 'mm', `${yardAndPound}; a 32nd computed`],
    [1, 'mi', 1.609344, 'km', `${yardAndPound}; 1,760 yards computed`],
    [1, 'lbf·ft', 1.3558179483314, 'N·m', `${yardAndPound}; ${gravity}; product computed`],
    [1, 'psi', 6.894757293168361, 'kPa', `${yardAndPound}; ${gravity}; quotient computed`],
    [212, 'degF', 100, 'degC', 'boiling and freezing point of water on both scales, from memory'],
    [32, 'degF', 0, 'degC', 'boiling and freezing point of water on both scales, from memory'],
  ])('%d %s = %d %s (%s)', (value, from, expected, to) => {
    expect(Math.abs(convert(value, from, to) - expected)).toBeLessThanOrEqual(1e-12 * Math.abs(expected))
  })

  test('a pound is 0.45359237 kg: a foot-pound is it, by standard gravity, on 0.3048 m (computed)', () => {
    expect(convert(1, 'lbf·ft', 'N·m') / 0.3048 / 9.80665).toBeCloseTo(0.45359237, 14)
  })

  test.each<[number, Unit, number, Unit, number, string]>([
    [100, 'N·m', 73.75621, 'lbf·ft', 5, 'conversion tables, computed from the definitions'],
    [36, 'psi', 2.48211, 'bar', 5, 'conversion tables, computed from the definitions'],
  ])('%d %s = %d %s to %d places (%s)', (value, from, expected, to, places) => {
    expect(convert(value, from, to)).toBeCloseTo(expected, places)
  })
})
