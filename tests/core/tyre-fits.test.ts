import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { type TyrePoint, tyreFits } from '../../lib/core/codes/tyre-fits'
import { tyreSize } from '../../lib/core/codes/tyre-size'
import { loadKg, speedKmh } from '../../lib/core/codes/tyre-symbols'

const fits = (fitted: string, asked: string) =>
  tyreFits({ fitted: tyreSize({ marking: fitted }), asked: tyreSize({ marking: asked }) })
const not = (points: TyrePoint[]) =>
  points.filter(({ stands }) => stands !== 'kept').map(({ point, stands }) => `${point} ${stands}`)

describe('a fitted tyre against the one asked for', () => {
  test.each<[string, string, string[]]>([
    ['110/80-18 58H', '110/80-18 58H', []],
    ['110/80-18 62V', '110/80-18 58H', []],
    ['110/80-18 57H', '110/80-18 58H', ['load broken']],
    ['110/80-18 58S', '110/80-18 58H', ['speed broken']],
    ['120/80-18 58H', '110/80-18 58H', ['width broken']],
    ['110/90-18 58H', '110/80-18 58H', ['ratio broken']],
    ['110/80-17 58H', '110/80-18 58H', ['rim broken']],
    ['110/80R18 58H', '110/80-18 58H', ['build broken']],
    ['110/80-18', '110/80-18 58H', ['load not-told', 'speed not-told']],
    ['190/50 ZR17 73W', '190/50 ZR17 (73W)', ['speed broken']],
    ['190/50 ZR17 (73W)', '190/50 ZR17 73W', []],
    ['190/50 ZR17 73V', '190/50 ZR17', ['load not-told', 'speed broken']],
    ['130/90B16 67H', 'MT90B16 67H', []],
    ['3.50-18 56P', '90/100-18 56P', ['width broken', 'ratio not-told']],
  ])('%s for %s: %j', (fitted, asked, expected) => {
    expect(not(fits(fitted, asked))).toEqual(expected)
  })

  it('says what is short in figures', () => {
    const said = fits('110/80-18 57S', '110/80-18 58H').map(({ says }) => says)
    expect(said).toContain('It carries only 230 kg, 236 kg is asked for.')
    expect(said).toContain('It is made only for 180 km/h, 210 km/h is asked for.')
  })
})

it('of two tyres of a size, one at least does for the other in load, and in speed', () => {
  const index = fc.constantFrom(...Object.keys(loadKg))
  const symbol = fc.constantFrom(...Object.keys(speedKmh))
  const service = fc
    .tuple(index, symbol, fc.boolean())
    .map(([i, s, over]) => (over ? `(${i}${s})` : `${i}${s}`))
  fc.assert(
    fc.property(service, service, (a, b) => {
      const [there, back] = [
        fits(`110/80-18 ${a}`, `110/80-18 ${b}`),
        fits(`110/80-18 ${b}`, `110/80-18 ${a}`),
      ]
      for (const point of ['load', 'speed'] as const) {
        const stands = [there, back].map((points) => points.find((one) => one.point === point)?.stands)
        expect(stands).toContain('kept')
        if (a === b) expect(stands).toEqual(['kept', 'kept'])
      }
    }),
  )
})
