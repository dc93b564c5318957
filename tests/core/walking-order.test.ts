import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { type Check, standPlaces } from '../../lib/core/checks/catalogue'
import { inWalkingOrder } from '../../lib/core/checks/walking-order'

const at = (key: string, standAt?: Check['standAt']) => ({ check: { key, standAt } })
const keys = (rows: readonly { check: { key: string } }[]) => rows.map(({ check }) => check.key)

describe('the order of a round', () => {
  it('goes from place to place, what comes before anything else first, what has no place last', () => {
    const rows = [
      at('own'),
      at('rear', 'rear'),
      at('front', 'front'),
      at('fuel', 'first'),
      at('front 2', 'front'),
    ]
    expect(keys(inWalkingOrder(rows))).toEqual(['fuel', 'front', 'front 2', 'rear', 'own'])
  })

  it('keeps every check once, and the order of the catalogue at each place', () => {
    const rows = fc.array(fc.option(fc.constantFrom(...standPlaces), { nil: undefined }))
    fc.assert(
      fc.property(rows, (places) => {
        const given = places.map((place, no) => at(String(no), place))
        const walked = inWalkingOrder(given)
        expect(walked.length).toBe(given.length)
        for (const place of [...standPlaces, undefined]) {
          const there = (all: typeof given) => keys(all.filter(({ check }) => check.standAt === place))
          expect(there(walked)).toEqual(there(given))
        }
      }),
    )
  })

  it('begins the cold round with what could burn or fall, then the brakes, then the oil', () => {
    const first = startingCatalogue.checks.filter(({ standAt }) => standAt === 'first')
    expect(keys(first.map((check) => ({ check })))).toEqual([
      'fuel-leaks',
      'stands-safely',
      'cylinders-cold',
      'front-brake-lever',
      'rear-brake-pedal',
      'front-drum-bite',
      'rear-drum-bite',
      'brake-leaks-front',
      'brake-leaks-rear',
      'oil-level',
      'oil-smell',
      'two-stroke-oil',
    ])
  })

  it('has a place for every check of the cold and the stand round, and leaves the others to the order of time', () => {
    for (const { key, round, standAt } of startingCatalogue.checks) {
      const walked = round === 'cold' || round === 'stand'
      expect(standAt !== undefined, key).toBe(walked)
    }
  })
})
