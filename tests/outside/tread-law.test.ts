import { describe, expect, test } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import type { BikeKind } from '../../lib/core/checks/bike-kind'
import type { Country, MeasuredCheck } from '../../lib/core/checks/catalogue'
import { effectiveLimit, lawLimits } from '../../lib/core/checks/limits'
import { convert } from '../../lib/core/quantity/units'

const treads = startingCatalogue.checks.filter(
  (check): check is MeasuredCheck => check.sort === 'measured' && check.law !== undefined,
)
const kindOf = (bikeClass: BikeKind['class']): BikeKind => ({
  finalDrive: 'chain',
  cooling: 'air',
  fuelling: 'carburettors',
  frontBrake: 'single-disc',
  rearBrake: 'drum',
  abs: 'no',
  wheels: 'cast',
  strokes: 'four',
  centreStand: 'yes',
  class: bikeClass,
  rims: 'alloy',
  camDrive: 'chain',
  starter: 'electric',
  immobiliser: 'no',
})

/** The least tread in mm that counts for a front tyre, with nothing entered by anybody; null for none. */
function leastTread(country: Country, bikeClass: BikeKind['class']): number | null {
  const check = treads.find(({ key }) => key.endsWith('-front'))!
  const entered = lawLimits({ checks: [check], country, kind: kindOf(bikeClass) })
  const limit = effectiveLimit({ check, entered, position: null })
  return limit?.min ? convert(limit.min.value, limit.unit, 'mm') : null
}

test('both tyres have the same law', () => {
  expect(treads.map(({ key }) => key.replace(/(front|rear)/, ''))).toHaveLength(2)
  expect(treads[0]!.law).toEqual(treads[1]!.law)
})

describe('least tread by law', () => {
  test.each<[Country, BikeKind['class'], number | null, string]>([
    ['GB', 'motorcycle', 1, 'Highway Code annex 6, read'],
    ['GB', 'moped', null, 'Highway Code annex 6, read: the pattern must be visible, no depth'],
    ['DE', 'motorcycle', 1.6, 'StVZO section 36(2), read in a copy'],
    ['DE', 'light', 1, 'StVZO section 36(2), read in a copy'],
    ['DE', 'moped', 1, 'StVZO section 36(2), read in a copy'],
    ['AT', 'motorcycle', 1.6, 'KDV section 4(4), read in a copy'],
    ['AT', 'light', 1, 'KDV section 4(4), read in a copy'],
    ['AT', 'moped', 1, 'KDV section 4(4), read in a copy'],
    ['US', 'motorcycle', 0.79375, 'FMVSS 119 S6.4 and COMAR 11.14.03.05, read; 1/32 in computed'],
    ['other', 'motorcycle', null, 'no law is known: the shop enters its own'],
  ])('%s, %s: %s mm (%s)', (country, bikeClass, least) => {
    const found = leastTread(country, bikeClass)
    if (least === null) expect(found).toBeNull()
    else expect(found).toBeCloseTo(least, 12)
  })

  test('every figure names the law it is from', () => {
    for (const { source } of treads.flatMap(({ law = [] }) => law)) {
      expect(source.kind).toBe('law')
      expect(source.says).toMatch(/Highway Code|StVZO|KDV|FMVSS/)
    }
  })

  test('a tyre on its wear bars (0.8 mm, FMVSS 119 S6.4) is below the law of three of these countries (computed)', () => {
    const below = (['GB', 'DE', 'AT', 'US'] as const).filter(
      (country) => 0.8 < (leastTread(country, 'motorcycle') ?? 0),
    )
    expect(below).toEqual(['GB', 'DE', 'AT'])
  })
})

test('no law on the age of tyres was found, so the ages are the shop’s own and the check says so', () => {
  const dates = startingCatalogue.checks.filter(
    (check) => check.sort === 'code' && check.code === 'tyre-date',
  )
  expect(dates).toHaveLength(2)
  for (const { source } of dates) expect(source.says).toMatch(/common practice/)
})
