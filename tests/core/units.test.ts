import { describe, expect, it, test } from 'vitest'
import { CalcProblem } from '../../lib/core/quantity/problem'
import { comparable, convert, convertDifference, type Unit, units } from '../../lib/core/quantity/units'

describe('a value in another unit', () => {
  test.each<[number, Unit, number, Unit]>([
    [1, 'in', 25.4, 'mm'],
    [25.4, 'mm', 1, 'in'],
    [1, 'in', 32, 'in32'],
    [2, 'in32', 1.5875, 'mm'],
    [1.5875, 'mm', 2, 'in32'],
    [0.215, 'in', 5.461, 'mm'],
    [1, 'mi', 1.609344, 'km'],
    [1, 'km', 1e6, 'mm'],
    [2.5, 'bar', 250, 'kPa'],
    [100, 'kPa', 1, 'bar'],
    [212, 'degF', 100, 'degC'],
    [-40, 'degC', -40, 'degF'],
    [0, 'degC', 32, 'degF'],
    [12.6, 'V', 12.6, 'V'],
    [98.6, 'degF', 98.6, 'degF'],
  ])('%d %s is %d %s', (value, from, expected, to) => {
    expect(convert(value, from, to)).toBeCloseTo(expected, 12)
  })

  it('leaves a value alone to the last bit where the unit stays', () => {
    for (const unit of units) expect(convert(0.1 + 0.2, unit, unit)).toBe(0.1 + 0.2)
  })

  it('converts a difference in temperature by scale only', () => {
    expect(convertDifference(9, 'degF', 'degC')).toBe(5)
    expect(convertDifference(5, 'degC', 'degF')).toBe(9)
    expect(convert(9, 'degF', 'degC')).not.toBe(5)
  })
})

describe('units of different kinds', () => {
  test.each<[Unit, Unit]>([
    ['mm', 'V'],
    ['psi', 'N·m'],
    ['degC', '%'],
    ['h', 'rpm'],
    ['A', 'V'],
  ])('%s and %s are refused with the kinds named', (from, to) => {
    expect(comparable(from, to)).toBe(false)
    expect(() => convert(1, from, to)).toThrow(CalcProblem)
    expect(() => convertDifference(1, from, to)).toThrow(/measures/)
  })
})
