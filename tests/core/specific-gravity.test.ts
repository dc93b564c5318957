import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { specificGravity } from '../../lib/core/measure/specific-gravity'
import { specificGravityInput } from '../../lib/core/measure/specific-gravity.input'

/** 80 °F, where a float is true. */
const temperate = (80 - 32) / 1.8
const at = (readings: number[], temperatureC = temperate) => specificGravity({ readings, temperatureC })

it('answers each cell with its corrected value and charge', () => {
  expect(at([1.265, 1.225, 1.2425])).toEqual({
    cells: [
      { corrected: 1.265, stateOfCharge: 1 },
      { corrected: 1.225, stateOfCharge: 0.75 },
      { corrected: 1.2425, stateOfCharge: 0.859375 },
    ],
    lowestIndex: 1,
    difference: 0.04,
    evenness: 'apart',
    notes: [expect.stringContaining('unserviceable')],
  })
})

describe('the cells', () => {
  test.each<[number[], 'even' | 'apart']>([
    [[1.265, 1.24], 'even'],
    [[1.265, 1.239], 'apart'],
    [[1.255, 1.23, 1.25], 'even'],
    [[1.26], 'even'],
  ])('%j are %s', (readings, evenness) => {
    expect(at(readings).evenness).toBe(evenness)
  })
})

describe('notes', () => {
  test.each<[number[], RegExp[]]>([
    [[1.265, 1.26], []],
    [[1.3, 1.29], [/stronger than full/]],
    [[1.1, 1.11], [/empty or dead/]],
    [
      [1.1, 1.26],
      [/0.025 apart/, /empty or dead/],
    ],
  ])('on %j', (readings, expected) => {
    const { notes } = at(readings)
    expect(notes).toHaveLength(expected.length)
    for (const [index, pattern] of expected.entries()) expect(notes[index]).toMatch(pattern)
  })
})

describe('for all readings', () => {
  const gravity = fc.integer({ min: 1050, max: 1320 }).map((thousandths) => thousandths / 1000)
  const cells = fc.array(gravity, { minLength: 1, maxLength: 6 })
  const celsius = fc.integer({ min: -30, max: 60 })

  it('the temperature moves all cells alike and never their difference', () => {
    fc.assert(
      fc.property(cells, celsius, celsius, (readings, a, b) => {
        const [first, second] = [at(readings, a), at(readings, b)]
        expect(first.difference).toBeCloseTo(second.difference, 8)
        expect(first.lowestIndex).toBe(second.lowestIndex)
        first.cells.forEach(({ corrected }, index) => {
          expect(corrected - second.cells[index]!.corrected).toBeCloseTo(((a - b) * 1.8 * 0.004) / 10, 8)
        })
      }),
    )
  })

  it('a heavier acid never counts as less charge, and the lowest cell never as more than another', () => {
    fc.assert(
      fc.property(cells, celsius, (readings, temperatureC) => {
        const found = at(readings, temperatureC)
        const lowest = found.cells[found.lowestIndex]!
        for (const cell of found.cells)
          expect(cell.stateOfCharge).toBeGreaterThanOrEqual(lowest.stateOfCharge)
      }),
    )
  })
})

describe('what is refused', () => {
  test.each<[object, (string | number)[]]>([
    [{ readings: [] }, ['readings']],
    [{ readings: [1265] }, ['readings', 0]],
    [{ readings: [1.2, 0.9] }, ['readings', 1]],
    [{ temperatureC: 200 }, ['temperatureC']],
  ])('%j', (change, path) => {
    const parsed = specificGravityInput.safeParse({ readings: [1.26], temperatureC: 20, ...change })
    expect(parsed.error?.issues[0]?.path).toEqual(path)
  })
})
