import { describe, expect, test } from 'vitest'
import { verdict } from '../../lib/core/measure/verdict'
import { type VerdictRawInput, verdictInput } from '../../lib/core/measure/verdict.input'

const judge = (input: VerdictRawInput) => verdict(verdictInput.parse(input))

/** One exact reading with a stated standard uncertainty. */
const reading = (value: number, u: number, limit: { min?: number; max?: number }) =>
  judge({
    readings: [value],
    unit: 'mm',
    limit: { ...limit, unit: 'mm' },
    judgedOn: 'each',
    instrument: { resolution: 0, unit: 'mm', standardUncertainty: u },
    rule: 'guarded',
  })

describe('the uncertainty of a digital display (GUM F.2.2.1, read in copies)', () => {
  test.each([
    [0.01, 0.002887],
    [0.05, 0.014434],
    [0.1, 0.028868],
  ])('a step of %d gives %d', (resolution, expected) => {
    const found = judge({
      readings: [1],
      unit: 'mm',
      judgedOn: 'lowest',
      instrument: { resolution, unit: 'mm' },
    })
    expect(found.standardUncertainty).toBeCloseTo(expected, 6)
  })
})

describe('the risk of passing a part wrongly at the edge of acceptance', () => {
  test.each<[string, number, number, number]>([
    ['guard band 0: 50 % (ILAC-G8:09/2019 table 1, read in copies)', 0, 0.5, 6],
    ['guard band U = 2u: 2.275 % (ILAC-G8:09/2019 table 1, read in copies; Φ computed)', 2, 0.02275, 5],
    ['guard band 0.83 U: 4.846 % (ISO 14253-1:2017, read in copies; Φ computed)', 1.66, 0.04846, 5],
    ['guard band 1.5 U: 0.135 % (ILAC-G8:09/2019 table 1, read in copies; Φ computed)', 3, 0.00135, 5],
    ['guard band 3 U: about 1e-9 (ILAC-G8:09/2019 table 1, read in copies; Φ computed)', 6, 1e-9, 10],
  ])('%s', (_, guard, risk, places) => {
    const found = reading(10 - guard * 0.1, 0.1, { max: 10 })
    expect(1 - (found.conformanceProbability ?? 0)).toBeCloseTo(risk, places)
  })
})

describe('acceptance of 10 ± 1 with U = 0.2 and a guard band of U: 10 ± 0.8 (read, limits computed)', () => {
  test.each([
    [10.8, 'within'],
    [10.81, 'too-close'],
    [11, 'too-close'],
    [11.01, 'outside'],
    [9.2, 'within'],
    [9.19, 'too-close'],
    [8.99, 'outside'],
  ])('%d is %s', (value, expected) => {
    expect(reading(value, 0.1, { min: 9, max: 11 }).verdict).toBe(expected)
  })
})

describe('acceptance of 10 ± 1 with U = 0.2 and wider guard bands (read, limits computed)', () => {
  test.each([
    ['1.5 U: ± 0.7', 0.7, 0.00135, 5],
    ['3 U: ± 0.4', 0.4, 1e-9, 10],
  ])('%s, at either end of which the risk is that of the table', (_, half, risk, places) => {
    for (const value of [10 - half, 10 + half]) {
      const found = reading(value, 0.1, { min: 9, max: 11 })
      expect(1 - (found.conformanceProbability ?? 0)).toBeCloseTo(risk, places)
    }
  })
})

test('a voltage of −5.47 with u = 0.05 keeps V ≤ −5.40 with chance 0.919 (JCGM 106:2012 clause 7, from memory)', () => {
  const found = judge({
    readings: [-5.47],
    unit: 'V',
    limit: { max: -5.4, unit: 'V' },
    judgedOn: 'highest',
    instrument: { resolution: 0, unit: 'V', standardUncertainty: 0.05 },
    rule: 'guarded',
  })
  expect(found.conformanceProbability).toBeCloseTo(0.919, 3)
})

describe('the normal distribution (standard tables, read)', () => {
  test.each([
    [1, 0.841345],
    [1.645, 0.950015],
    [1.96, 0.975002],
    [3, 0.99865],
  ])('Φ(%d) = %d', (z, expected) => {
    expect(reading(0, 1, { max: z }).conformanceProbability).toBeCloseTo(expected, 6)
    expect(reading(0, 1, { min: -z }).conformanceProbability).toBeCloseTo(expected, 6)
  })
})
