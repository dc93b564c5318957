import { describe, expect, test } from 'vitest'
import { battery } from '../../lib/core/measure/battery'
import { type BatteryRawInput, batteryInput } from '../../lib/core/measure/battery.input'

const of = (restVolts: number, chemistry: BatteryRawInput['chemistry']) =>
  battery(batteryInput.parse({ restVolts, chemistry, restHours: 12, temperatureC: 25 })).stateOfCharge

describe('flooded batteries', () => {
  // Charge by specific gravity at 80 °F: US Army TM 5-3820-256-24-4, table 2, read: 1.265 is 100 %, 1.225 75 %,
  // 1.190 50 %, 1.155 25 %. Volts by specific gravity: a public battery table, read, as ranges.
  test.each([
    [1, 12.6, 12.68, '1.265–1.285'],
    [0.75, 12.4, 12.45, '1.220–1.225'],
    [0.5, 12.2, 12.24, '1.175–1.190'],
    [0.25, 12, 12.06, '1.140–1.155'],
  ])(
    'a charge of %d, %d to %d V (specific gravity %s), lies in the band at both ends',
    (charge, from, to) => {
      for (const volts of [from, to]) {
        const { low, high } = of(volts, 'flooded')
        expect(low).toBeLessThanOrEqual(charge)
        expect(high).toBeGreaterThanOrEqual(charge)
      }
    },
  )
})

test('12.6 V is full by one flooded table and about 75 % by one AGM table (tables as found, computed)', () => {
  expect(of(12.6, 'flooded').likely).toBe(1)
  expect(of(12.6, 'agm').likely).toBeCloseTo(0.75, 12)
})

test('12.6 V at rest is good in a flooded battery (common practice, no source)', () => {
  expect(of(12.6, 'flooded').low).toBeGreaterThan(0.8)
})

test('the rest before reading differs by source, from half an hour to a day, so a short one is told (read)', () => {
  const notes = (restHours: number) =>
    battery({ restVolts: 12.6, restHours, temperatureC: 25, chemistry: 'flooded', nominalVolts: 12 }).notes
  expect(notes(0.5).join(' ')).toMatch(/rested for under two hours/)
  expect(notes(8)).toEqual([])
})
