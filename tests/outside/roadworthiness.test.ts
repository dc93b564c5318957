import { describe, expect, test } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import type { MeasuredCheck } from '../../lib/core/checks/catalogue'
import { verdict } from '../../lib/core/measure/verdict'
import type { Unit } from '../../lib/core/quantity/units'

const measured = startingCatalogue.checks.filter((check): check is MeasuredCheck => check.sort === 'measured')
const named = (pattern: RegExp) => measured.filter(({ key }) => pattern.test(key))
const judge = (value: number, unit: Unit, { min, max }: { min?: number; max?: number }) =>
  verdict({
    readings: [value],
    unit,
    limit: { ...(min === undefined ? {} : { min }), ...(max === undefined ? {} : { max }), unit },
    judgedOn: 'each',
    rule: 'simple',
  }).verdict

describe("rims, side to side (the United Kingdom's motorcycle inspection manual, 5.2.2, read)", () => {
  const rims = named(/^rim-/)
  test.each([
    ['steel', 4],
    ['alloy', 2],
  ] as const)('a %s rim may be out by %d mm', (material, most) => {
    const its = rims.filter(({ appliesTo }) => appliesTo?.rims?.includes(material))
    expect(its.map(({ key }) => (key.includes('front') ? 'front' : 'rear'))).toEqual(
      expect.arrayContaining(['front', 'rear']),
    )
    for (const { limit } of its) {
      expect(limit).toMatchObject({ max: most, unit: 'mm', source: { kind: 'standard' } })
      expect(limit!.source.says).toContain('5.2.2')
      expect(judge(most, 'mm', limit!)).toBe('within')
      expect(judge(most + 0.1, 'mm', limit!)).toBe('outside')
    }
  })

  test('no rim is judged by both figures', () => {
    for (const { appliesTo } of rims) expect(appliesTo?.rims).toHaveLength(1)
  })
})

describe('brake efficiency (the manual’s older edition, 3.3, read in copies)', () => {
  const brakes = named(/^brake-tester-/)
  test('one brake must reach 30 %, the other 25 %', () => {
    expect(brakes.map(({ limit }) => limit?.min).sort()).toEqual([25, 30])
    for (const { unit, limit } of brakes) {
      expect(unit).toBe('%')
      expect(limit!.source).toMatchObject({ kind: 'standard', says: expect.stringContaining('3.3') })
    }
  })

  test.each([
    // 300 kg weigh 2,942 N at 9.80665 m/s².
    [900, 300, 30.6, 'within'],
    [880, 300, 29.9, 'outside'],
  ])('%d N at %d kg of machine and rider is %d %%: %s of 30 %% (computed)', (force, kg, share, expected) => {
    const efficiency = (100 * force) / (kg * 9.80665)
    expect(efficiency).toBeCloseTo(share, 1)
    expect(judge(efficiency, '%', brakes.find(({ limit }) => limit?.min === 30)!.limit!)).toBe(expected)
  })
})

describe('a chain over 20 pitches (JIS B 1801 as quoted, read in a copy)', () => {
  test.each([
    [12.7, 254, 261.6],
    [15.875, 317.5, 327],
  ])('of a pitch of %d mm: %d mm new, replace at %d mm', (pitch, asNew, max) => {
    const check = named(/^chain-length/).find(({ limit }) => limit?.asNew === asNew)
    expect(check?.limit).toMatchObject({ max, unit: 'mm', source: { kind: 'standard' } })
    expect(check?.limit?.source.says).toContain('JIS B 1801')
    expect(20 * pitch).toBeCloseTo(asNew, 9)
    // The quoted figures are 3 % rounded to the tenth, the second a little short of it.
    expect(Math.abs(max - 1.03 * asNew)).toBeLessThan(0.05)
  })

  test('the makers’ limits run from 1 to 3 %, so that the general figure says it gives way to the model’s', () => {
    for (const { limit } of named(/^chain-length/)) expect(limit?.source.says).toMatch(/model/)
  })
})
