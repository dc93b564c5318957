import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type DistancePoint, distanceHistory } from '../../lib/core/checks/distance'

const point = (day: string, distance: number, unit: 'mi' | 'km' = 'mi'): DistancePoint => ({
  id: `${day}-${distance}`,
  day,
  distance,
  unit,
})
const history = (points: DistancePoint[], clockChanged = false) =>
  distanceHistory({ points, clockChanged, unit: 'mi' })

describe('the distances of a bike', () => {
  it.each([
    [
      'three that rise are proven',
      [point('2020-01-01', 8000), point('2022-05-01', 11000), point('2026-11-20', 19000)],
      'proven',
    ],
    ['two are too few', [point('2020-01-01', 8000), point('2026-11-20', 19000)], 'too few points'],
    [
      'three of one day are one point',
      [point('2026-11-20', 1), point('2026-11-20', 2), point('2026-11-20', 3)],
      'too few points',
    ],
    [
      'a fall is not proven',
      [point('2020-01-01', 28000), point('2022-05-01', 11000), point('2026-11-20', 19000)],
      'not proven',
    ],
    [
      'the same in the other unit is no fall',
      [point('2020-01-01', 25600, 'mi'), point('2022-05-01', 41199, 'km'), point('2026-11-20', 26000)],
      'proven',
    ],
    [
      'kilometres read as miles are a fall back',
      [point('2023-01-01', 41200, 'mi'), point('2024-01-01', 42000, 'km'), point('2026-11-20', 43000, 'km')],
      'not proven',
    ],
  ] as const)('%s', (_, points, verdict) => {
    expect(history([...points]).verdict).toBe(verdict)
  })

  it('a changed clock is not proven, however many points rise', () => {
    const rising = [2020, 2021, 2022, 2023].map((year) => point(`${year}-01-01`, year * 10))
    expect(history(rising, true)).toMatchObject({
      verdict: 'not proven',
      because: ['The clock was changed.'],
    })
  })

  it.each([
    [[], 'No dated distance yet; 3 different days are needed.'],
    [
      [point('2026-11-20', 1), point('2026-11-20', 2)],
      'Distances of only one day; 3 different days are needed.',
    ],
    [
      [point('2020-01-01', 1), point('2026-11-20', 2)],
      'Distances of only 2 days; 3 different days are needed.',
    ],
  ])('says how many days are there: %j', (given, says) => {
    expect(history(given).because).toEqual([says])
  })

  it('says between which two it falls', () => {
    const { because, falls } = history([point('2020-01-01', 28000), point('2022-05-01', 11000)])
    expect(because).toEqual(['11000 mi on 2022-05-01 is below 28000 mi on 2020-01-01.'])
    expect(falls[0]?.by).toBe(17000)
  })

  const points = fc.array(
    fc.record({
      id: fc.uuid(),
      day: fc
        .integer({ min: 0, max: 3000 })
        .map((n) => new Date(Date.UTC(2015, 0, 1 + n)).toISOString().slice(0, 10)),
      distance: fc.integer({ min: 0, max: 90_000 }),
      unit: fc.constantFrom('mi' as const, 'km' as const),
    }),
    { maxLength: 8 },
  )

  it('the order in which they were noted does not matter', () => {
    fc.assert(
      fc.property(points, (given) => {
        expect(history([...given].reverse())).toEqual(history(given))
      }),
    )
  })

  it('once not proven, a further point never proves it', () => {
    fc.assert(
      fc.property(points, points, (some, more) => {
        fc.pre(history(some).verdict === 'not proven')
        expect(history([...some, ...more]).verdict).toBe('not proven')
      }),
    )
  })
})
