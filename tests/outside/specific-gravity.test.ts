import { describe, expect, test } from 'vitest'
import { battery } from '../../lib/core/measure/battery'
import { specificGravity } from '../../lib/core/measure/specific-gravity'
import { convert } from '../../lib/core/quantity/units'

const at = (readings: number[], degF: number) =>
  specificGravity({ readings, temperatureC: convert(degF, 'degF', 'degC') })

describe('charge at 80 °F (US Army TM 5-3820-256-24-4, table 2, read)', () => {
  test.each([
    [1.265, 1],
    [1.225, 0.75],
    [1.19, 0.5],
    [1.155, 0.25],
    [1.12, 0],
  ])('%d is %d of a full charge', (gravity, charge) => {
    expect(at([gravity], 80).cells[0]?.stateOfCharge).toBeCloseTo(charge, 9)
  })
})

describe('the temperature (US Army TM 5-4210-230-14&P-1, read)', () => {
  test('1.250 at 20 °F is 1.226 at 80 °F', () => {
    expect(at([1.25], 20).cells[0]?.corrected).toBeCloseTo(1.226, 9)
  })

  test('0.004 is added for 10 °F above 80 °F and taken off for 10 °F below (rule read, values computed)', () => {
    expect(at([1.25], 90).cells[0]?.corrected).toBeCloseTo(1.254, 9)
    expect(at([1.25], 70).cells[0]?.corrected).toBeCloseTo(1.246, 9)
    expect(at([1.25], 80).cells[0]?.corrected).toBeCloseTo(1.25, 9)
  })
})

test('more than 0.025 between the cells of a charged battery is unserviceable (US Army TM 9-6140-200-14 §4-7, read)', () => {
  expect(at([1.265, 1.24, 1.26, 1.255, 1.262, 1.26], 80).evenness).toBe('even')
  const apart = at([1.265, 1.239, 1.26, 1.255, 1.262, 1.26], 80)
  expect(apart).toMatchObject({ evenness: 'apart', lowestIndex: 1 })
  expect(apart.notes.join(' ')).toContain('unserviceable')
})

describe('gravity and rest volts tell the same charge (a public battery table, read, as ranges)', () => {
  test.each([
    [1.265, 12.6],
    [1.225, 12.45],
    [1.19, 12.24],
    [1.155, 12.06],
  ])('%d and %d V', (gravity, restVolts) => {
    const byVolts = battery({
      restVolts,
      restHours: 12,
      temperatureC: 25,
      chemistry: 'flooded',
      nominalVolts: 12,
    })
    const byGravity = at([gravity], 80).cells[0]!.stateOfCharge
    expect(byGravity).toBeCloseTo(byVolts.stateOfCharge.likely, 9)
  })
})
