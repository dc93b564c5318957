import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { battery, tables } from '../../lib/core/measure/battery'
import { type BatteryRawInput, batteryInput, chemistries } from '../../lib/core/measure/battery.input'

const rested: BatteryRawInput = { restVolts: 12.45, restHours: 3, temperatureC: 15, chemistry: 'flooded' }
const of = (change: Partial<BatteryRawInput>) => battery(batteryInput.parse({ ...rested, ...change }))

it('answers with a band and no note where there is nothing to note', () => {
  expect(of({})).toEqual({ stateOfCharge: { low: 0.65, likely: 0.75, high: 0.85 }, notes: [] })
})

describe('the band', () => {
  test.each<[number, BatteryRawInput['chemistry'], number]>([
    [12.6, 'flooded', 1],
    [12.345, 'flooded', 0.625],
    [12.6, 'agm', 0.75],
    [12.5, 'gel', 0.625],
    [13.1, 'lifepo4', 0.55],
  ])('of %d V in a %s battery is about %d', (restVolts, chemistry, likely) => {
    expect(of({ restVolts, chemistry }).stateOfCharge.likely).toBeCloseTo(likely, 12)
  })

  it('stays between empty and full, in order, and never falls as the voltage rises', () => {
    const volts = fc.integer({ min: 900, max: 1500 }).map((hundredths) => hundredths / 100)
    fc.assert(
      fc.property(volts, volts, fc.constantFrom(...chemistries), (a, b, chemistry) => {
        const [below, above] = [Math.min(a, b), Math.max(a, b)].map(
          (restVolts) => of({ restVolts, chemistry }).stateOfCharge,
        )
        for (const { low, likely, high } of [below!, above!]) {
          expect([0, low, likely, high, 1].toSorted((x, y) => x - y)).toEqual([0, low, likely, high, 1])
        }
        expect(above!.low).toBeGreaterThanOrEqual(below!.low)
        expect(above!.likely).toBeGreaterThanOrEqual(below!.likely)
        expect(above!.high).toBeGreaterThanOrEqual(below!.high)
      }),
    )
  })
})

describe('notes', () => {
  test.each<[Partial<BatteryRawInput>, RegExp[]]>([
    [{ restHours: 1.9 }, [/under two hours/]],
    [{ restHours: 2 }, []],
    [{ restVolts: 12.68 }, []],
    [{ restVolts: 13.2 }, [/above the table/]],
    [{ restVolts: 10.5 }, [/below the table.*away from sparks/]],
    [{ temperatureC: -5 }, [/25 °C/, /frozen/]],
    [{ temperatureC: -5, chemistry: 'lifepo4', restVolts: 13.2 }, [/25 °C/, /harmed by charging/]],
  ])('%j', (change, expected) => {
    const { notes } = of(change)
    expect(notes).toHaveLength(expected.length)
    for (const [index, pattern] of expected.entries()) expect(notes[index]).toMatch(pattern)
  })
})

it('every table rises in voltage and charge, from empty to full, and names its source', () => {
  for (const { source, points } of Object.values(tables)) {
    expect(source).toMatch(/\w/)
    expect([points[0]?.[1], points.at(-1)?.[1]]).toEqual([0, 1])
    points.slice(1).forEach(([volts, charge], index) => {
      expect(volts).toBeGreaterThan(points[index]![0])
      expect(charge).toBeGreaterThanOrEqual(points[index]![1])
    })
  }
})

describe('what is refused', () => {
  test.each<[object, string]>([
    [{ nominalVolts: 6 }, 'nominalVolts'],
    [{ chemistry: 'nicad' }, 'chemistry'],
    [{ restVolts: -1 }, 'restVolts'],
    [{ restHours: -1 }, 'restHours'],
    [{ temperatureC: '15' }, 'temperatureC'],
  ])('%j', (change, key) => {
    expect(batteryInput.safeParse({ ...rested, ...change }).error?.issues[0]?.path).toEqual([key])
  })
})
