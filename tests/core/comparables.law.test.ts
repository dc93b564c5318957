import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { startingFigures } from '../../lib/core/board/starting-figures'
import { conditions, markets, salePriceFrom } from '../../lib/core/deal/comparables'
import type { NotedPrice } from '../../lib/core/deal/comparables.input'
import { addDays } from '../../lib/core/quantity/days'
import { byNotes, noted, notedOn } from '../support/noted-prices'

/** Without a year, a distance or a condition too; seen within the last three years. */
const anyNote: fc.Arbitrary<NotedPrice> = fc
  .record({
    market: fc.constantFrom(...markets),
    asked: fc.boolean(),
    price: fc.integer({ min: 20_000, max: 2_000_000 }),
    stood: fc.integer({ min: 0, max: 400 }),
    old: fc.integer({ min: 0, max: 1000 }),
    year: fc.option(fc.integer({ min: 1985, max: 2010 })),
    distance: fc.option(fc.integer({ min: 0, max: 120_000 })),
    distanceUnit: fc.constantFrom('mi' as const, 'km' as const),
    condition: fc.option(fc.constantFrom(...conditions)),
  })
  .map(({ stood, old, ...note }) => {
    const lastSeenOn = addDays(notedOn, -old)
    return {
      ...note,
      id: `${note.price} ${old} ${stood}`,
      lastSeenOn,
      firstSeenOn: addDays(lastSeenOn, -stood),
    }
  })

const anyNotes = fc.array(anyNote, { minLength: 1, maxLength: 12 })
const equal = fc.array(fc.integer({ min: 150_000, max: 250_000 }), { minLength: 1, maxLength: 9 })
const runs = { numRuns: 60 }

const priceOf = (...given: Parameters<typeof byNotes>) => salePriceFrom(byNotes(...given))!
const levelsOf = (notes: readonly NotedPrice[]) => priceOf(notes).levels

describe('a sale price by noted prices', () => {
  it('does not depend on the order of the notes', () => {
    fc.assert(
      fc.property(anyNotes, (notes) => {
        const [one, other] = [priceOf(notes), priceOf([...notes].reverse())]
        expect(other.sale).toEqual(one.sale)
        expect(other.says).toEqual(one.says)
      }),
      runs,
    )
  })

  it('is in order, whole, and holds its own middle', () => {
    fc.assert(
      fc.property(anyNotes, (notes) => {
        const { sale, quantiles, levels } = priceOf(notes)
        expect([sale.low, sale.likely, sale.high].every(Number.isInteger)).toBe(true)
        expect(0 <= sale.low && sale.low <= sale.likely && sale.likely <= sale.high).toBe(true)
        // They are not rounded: two that are the same may differ in the last place.
        const upTo = (value: number) => value + 1e-9 * Math.abs(value)
        expect(levels.low).toBeLessThanOrEqual(upTo(quantiles.low))
        expect(quantiles.low).toBeLessThanOrEqual(upTo(quantiles.middle))
        expect(quantiles.middle).toBeLessThanOrEqual(upTo(quantiles.high))
        expect(quantiles.high).toBeLessThanOrEqual(upTo(levels.high))
      }),
      runs,
    )
  })

  it('never lies outside what was noted without saying so', () => {
    fc.assert(
      fc.property(anyNotes, (notes) => {
        const { sale, quantiles, outsideNotes, notes: reckoned, says } = priceOf(notes)
        const values = reckoned.map(({ value }) => value)
        const [least, most] = [Math.min(...values), Math.max(...values)]
        expect(quantiles.low).toBeGreaterThanOrEqual(least * (1 - 1e-12))
        expect(quantiles.high).toBeLessThanOrEqual(most * (1 + 1e-12))
        expect(outsideNotes).toEqual({
          below: sale.low < Math.round(least),
          above: sale.high > Math.round(most),
        })
        const said = says.some((sentence) => sentence.includes('outside everything noted'))
        expect(said).toBe(outsideNotes.below || outsideNotes.above)
      }),
      runs,
    )
  })

  it('a note of weight 0 changes nothing', () => {
    const { markets: own } = startingFigures.notedPrices
    const terms = { ...startingFigures.notedPrices, markets: { ...own, auction: { weight: 0, toRetail: 1 } } }
    fc.assert(
      fc.property(anyNotes, anyNote, (notes, more) => {
        const counting = notes.map((note) => ({ ...note, market: 'trade' as const }))
        const { notes: _, ...before } = priceOf(counting, { terms })
        const { notes: __, ...after } = priceOf([...counting, { ...more, market: 'auction' }], { terms })
        expect(after).toEqual(before)
      }),
      runs,
    )
  })

  it('a note of hardly any weight changes hardly anything: there is no jump', () => {
    const { markets: own } = startingFigures.notedPrices
    const terms = {
      ...startingFigures.notedPrices,
      markets: { ...own, auction: { weight: 1e-9, toRetail: 1 } },
    }
    fc.assert(
      fc.property(equal, fc.integer({ min: 1000, max: 900_000 }), (prices, far) => {
        const trade = prices.map((price) => noted(price))
        const before = priceOf(trade, { terms })
        const after = priceOf([...trade, noted(far, { market: 'auction' })], { terms })
        expect(Math.abs(after.quantiles.low - before.quantiles.low)).toBeLessThan(1)
        expect(Math.abs(after.quantiles.high - before.quantiles.high)).toBeLessThan(1)
        expect(Math.abs(after.sale.likely - before.sale.likely)).toBeLessThan(5)
      }),
      runs,
    )
  })

  it('three times the prices is three times the answer', () => {
    fc.assert(
      fc.property(anyNotes, (notes) => {
        const one = priceOf(notes)
        const three = priceOf(notes.map((note) => ({ ...note, price: 3 * note.price })))
        for (const point of ['low', 'likely', 'high'] as const) {
          // Each is rounded to whole minor units: half of one, thrice, and half of one.
          expect(Math.abs(three.sale[point] - 3 * one.sale[point])).toBeLessThanOrEqual(2)
        }
        expect(three.effective).toBeCloseTo(one.effective, 9)
      }),
      runs,
    )
  })

  it('the more notes agree on a price, the narrower it is, until nothing is widened; outside of them it says so', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 50_000, max: 900_000 }),
        fc.constantFrom(...markets),
        fc.integer({ min: 0, max: 300 }),
        (price, market, old) => {
          const lastSeenOn = addDays(notedOn, -old)
          const agreeing = Array.from({ length: 9 }, (_, at) =>
            noted(price, { id: `${at}`, market, lastSeenOn, firstSeenOn: lastSeenOn }),
          )
          const told = agreeing.map((_, at) => priceOf(agreeing.slice(0, at + 1)))
          for (const [at, { levels, sale, widenedBy, counted, says, notes }] of told.entries()) {
            const { value } = notes[0]!
            const before = told[at - 1]
            if (before) {
              const width = levels.high - levels.low
              const was = before.levels.high - before.levels.low
              // A cap holds where hardly anything counts; from six on nothing is widened.
              const narrows = before.widenedBy > 0 && before.widenedBy < 0.4 * value * (1 - 1e-9)
              if (narrows) expect(width).toBeLessThan(was)
              else expect(width).toBeLessThanOrEqual(was + 1e-6)
            }
            expect(widenedBy > 0).toBe(counted < 6 - 1e-9)
            const outside = sale.low < Math.round(value) || sale.high > Math.round(value)
            expect(says.some((one) => one.includes('outside everything noted'))).toBe(outside)
          }
        },
      ),
      runs,
    )
  })

  it('a further note that says what the middle says never makes it wider', () => {
    fc.assert(
      fc.property(equal, (prices) => {
        const before = prices.map((price) => noted(price))
        const middle = Math.round(priceOf(before).quantiles.middle)
        const [was, is] = [levelsOf(before), levelsOf([...before, noted(middle)])]
        // The middle was rounded to whole minor units.
        expect(is.high - is.low).toBeLessThanOrEqual(was.high - was.low + 1)
      }),
      runs,
    )
  })

  it('twice the weight of every market is the same price where nothing is widened', () => {
    const { markets: own } = startingFigures.notedPrices
    const twice = Object.fromEntries(
      Object.entries(own).map(([name, market]) => [name, { ...market, weight: 2 * market.weight }]),
    ) as typeof own
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 150_000, max: 250_000 }), { minLength: 6, maxLength: 9 }),
        (prices) => {
          const notes = prices.map((price) => noted(price))
          const terms = { ...startingFigures.notedPrices, markets: twice }
          expect(priceOf(notes, { terms }).sale).toEqual(priceOf(notes).sale)
        },
      ),
      runs,
    )
  })
})
