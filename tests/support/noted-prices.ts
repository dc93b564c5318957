import { startingFigures } from '../../lib/core/board/starting-figures'
import type { NotedPrice, SalePriceInput } from '../../lib/core/deal/comparables.input'

/** The day the tests of noted prices are told for, and a month in which the season leaves prices alone. */
export const notedOn = '2026-08-15'

/** A fresh dealer's sale of the very same bike: it weighs 1 and is worth what it says. */
export function noted(price: number, over: Partial<NotedPrice> = {}): NotedPrice {
  return {
    id: `${price}`,
    market: 'trade',
    asked: false,
    price,
    firstSeenOn: notedOn,
    lastSeenOn: notedOn,
    year: 1997,
    distance: 50_000,
    distanceUnit: 'km',
    condition: 'tidy',
    ...over,
  }
}

export function byNotes(notes: readonly NotedPrice[], over: Partial<SalePriceInput> = {}): SalePriceInput {
  return {
    notes: [...notes],
    bike: { year: 1997, distanceKm: 50_000, condition: 'tidy' },
    terms: startingFigures.notedPrices,
    season: startingFigures.season,
    asOf: notedOn,
    readyOn: notedOn,
    ...over,
  }
}
