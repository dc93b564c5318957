import { describe, expect, it, test } from 'vitest'
import { startingFigures } from '../../lib/core/board/starting-figures'
import { salePriceFrom } from '../../lib/core/deal/comparables'
import { salePriceInput } from '../../lib/core/deal/comparables.input'
import { pertThrough } from '../../lib/core/deal/comparables-three-point'
import { cdfOf } from '../../lib/core/quantity/three-point'
import { byNotes, noted, notedOn } from '../support/noted-prices'

const priceOf = (...given: Parameters<typeof byNotes>) => salePriceFrom(byNotes(...given))!
const oneNote = (over: Parameters<typeof noted>[1]) => priceOf([noted(200_000, over)]).notes[0]!

describe('what a note says this bike would sell at', () => {
  test.each<[string, Parameters<typeof noted>[1], number]>([
    ['a dealer’s sale is worth what it says', {}, 200_000],
    ['what was asked, 93 % of it', { asked: true }, 186_000],
    [
      'an advert that stood from the 14th to the 13th of the month after next has stood one full month',
      { asked: true, firstSeenOn: '2026-06-14', lastSeenOn: '2026-08-13' },
      200_000 * 0.915,
    ],
    [
      'to the 14th it is two',
      { asked: true, firstSeenOn: '2026-06-14', lastSeenOn: '2026-08-14' },
      200_000 * 0.9,
    ],
    [
      'an advert of many years is worth half the usual ratio and no less',
      { asked: true, firstSeenOn: '2019-01-01', lastSeenOn: '2026-08-14' },
      93_000,
    ],
    ['a sale that was first seen long ago loses nothing', { firstSeenOn: '2025-01-01' }, 200_000],
    ['an auction’s hammer price, 1.25 of it', { market: 'auction' }, 250_000],
    ['a private sale, 1.08 of it', { market: 'private' }, 216_000],
    [
      'sold in January it says more of August: January brings 0.95 of the usual',
      { firstSeenOn: '2026-01-15', lastSeenOn: '2026-01-15' },
      200_000 / 0.95,
    ],
  ])('%s', (_what, over, value) => {
    expect(oneNote(over).value).toBeCloseTo(value, 6)
  })

  it('is told for the month the bike will be ready', () => {
    const { season, notes } = priceOf([noted(200_000)], { readyOn: '2027-05-02' })
    expect(season).toEqual({ month: 5, factor: 1.04 })
    expect(notes[0]!.value).toBeCloseTo(208_000, 6)
  })
})

describe('how much a note counts', () => {
  test.each<[string, Parameters<typeof noted>[1], number]>([
    ['today, the same bike, from a dealer: 1', {}, 1],
    ['half after the half-life of 180 days', { firstSeenOn: '2026-01-01', lastSeenOn: '2026-02-16' }, 0.5],
    ['a private note 0.8', { market: 'private' }, 0.8],
    ['four years apart, one scale: exp(−½)', { year: 2001 }, Math.exp(-0.5)],
    ['eight years apart: exp(−2)', { year: 1989 }, Math.exp(-2)],
    ['20,000 km apart, one scale', { distance: 30_000 }, Math.exp(-0.5)],
    ['miles count as what they are', { distance: 50_000 / 1.609344, distanceUnit: 'mi' }, 1],
    ['two steps of condition: 0.6 · 0.6', { condition: 'rough' }, 0.36],
    ['no year counts as one scale apart', { year: null }, Math.exp(-0.5)],
    ['no distance as well', { distance: null }, Math.exp(-0.5)],
    ['no condition counts as one step apart', { condition: null }, 0.6],
    ['a note of a day still to come counts as one of today', { lastSeenOn: '2026-08-20' }, 1],
  ])('%s', (_what, over, weight) => {
    expect(oneNote(over).weight).toBeCloseTo(weight, 9)
  })

  it('tells how far apart the two bikes are', () => {
    const { apart, daysOld } = oneNote({ year: 2000, condition: 'worn', distance: null })
    expect({ apart, daysOld }).toEqual({ apart: { years: 3, km: null, steps: -1 }, daysOld: 0 })
  })

  it('what is not known of the bike itself counts as one scale apart too', () => {
    const unknown = { year: null, distanceKm: null, condition: null }
    expect(priceOf([noted(200_000)], { bike: unknown }).notes[0]!.weight).toBeCloseTo(
      Math.exp(-0.5) * Math.exp(-0.5) * 0.6,
      9,
    )
  })
})

describe('what the notes come to', () => {
  it('is nothing without a note, or with none that counts', () => {
    expect(salePriceFrom(byNotes([]))).toBeNull()
    const { markets } = startingFigures.notedPrices
    const terms = {
      ...startingFigures.notedPrices,
      markets: { ...markets, auction: { weight: 0, toRetail: 1 } },
    }
    expect(salePriceFrom(byNotes([noted(200_000, { market: 'auction' })], { terms }))).toBeNull()
  })

  it('of one note is its value, pushed apart by 15 % either way, and says why', () => {
    const price = priceOf([noted(200_000)])
    expect(price).toMatchObject({ effective: 1, counted: 1, outsideNotes: { below: true, above: true } })
    expect(price.levels.low).toBeCloseTo(170_000, 6)
    expect(price.levels.high).toBeCloseTo(230_000, 6)
    expect(price.sale.likely).toBe(200_000)
    expect(price.says).toEqual([
      expect.stringMatching(/^There is one note alone: the spread is widened/),
      expect.stringMatching(/^The lowest and the highest it may bring lie outside everything noted/),
    ])
  })

  it('of six equal notes is not widened', () => {
    const price = priceOf([190, 194, 198, 202, 206, 210].map((hundreds) => noted(hundreds * 1000)))
    expect(price).toMatchObject({ widenedBy: 0, effective: 6 })
    // Between neighbours at (6 − 1) · 0.1 = 0.5 of the way from the first to the second.
    expect(price.quantiles.low).toBeCloseTo(192_000, 6)
    expect(price.quantiles.middle).toBeCloseTo(200_000, 6)
    expect(price.quantiles.high).toBeCloseTo(208_000, 6)
    expect(price.says.join()).not.toContain('widened')
  })

  it('is one price where six notes agree to the penny', () => {
    const six = Array.from({ length: 6 }, (_, at) => noted(203_150, { id: `${at}` }))
    expect(priceOf(six)).toMatchObject({
      sale: { low: 203_150, likely: 203_150, high: 203_150 },
      outsideNotes: { below: false, above: false },
      says: [],
    })
  })

  it('many notes of bikes unlike this one count like few, and it says so', () => {
    const far = Array.from({ length: 9 }, (_, at) => noted(200_000, { id: `${at}`, year: 1984 }))
    const price = priceOf(far)
    expect(price.effective).toBeCloseTo(9, 9)
    expect(price.counted).toBeLessThan(0.1)
    expect(price.widenedBy).toBeCloseTo(80_000, 6)
    expect(price.says[0]).toMatch(/^Together the notes count no more than a tenth of a fresh dealer’s price/)
  })

  it('never falls below nothing, however far the notes are apart', () => {
    const { sale } = priceOf([noted(1000), noted(900_000)])
    expect(sale.low).toBe(0)
    expect(sale.low <= sale.likely && sale.likely <= sale.high).toBe(true)
  })
})

describe('three points through three levels', () => {
  test.each([
    { low: 1000, middle: 1050, high: 1100 },
    { low: 1000, middle: 1040, high: 1100 },
    { low: 1000, middle: 1065, high: 1100 },
    { low: 2000, middle: 2350, high: 2600 },
  ])('$low, $middle and $high are the 10, 50 and 90 % levels of their points', ({ low, middle, high }) => {
    const points = pertThrough({ low, middle, high })
    expect(cdfOf(points, low)).toBeCloseTo(0.1, 6)
    expect(cdfOf(points, middle)).toBeCloseTo(0.5, 5)
    expect(cdfOf(points, high)).toBeCloseTo(0.9, 6)
  })

  it('a middle that leans further than the shape can keeps the outer levels', () => {
    const points = pertThrough({ low: 1000, middle: 1005, high: 1200 })
    expect(cdfOf(points, 1000)).toBeCloseTo(0.1, 6)
    expect(cdfOf(points, 1200)).toBeCloseTo(0.9, 6)
    expect(points.likely).toBe(points.low)
  })
})

describe('what is read', () => {
  it('refuses a note that was last seen before it was first seen, at that day', () => {
    const input = byNotes([noted(200_000, { firstSeenOn: notedOn, lastSeenOn: '2026-08-14' })])
    const read = salePriceInput.safeParse(input)
    expect(read.error?.issues.map(({ path }) => path)).toEqual([['notes', 0, 'lastSeenOn']])
  })
})
