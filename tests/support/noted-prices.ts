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

/** What the form for a price sends: a dealer's advert, seen three weeks before the day of the tests. */
export const priceOfForm = {
  market: 'trade',
  asked: 'asked',
  price: '2,495',
  firstSeenOn: '2026-10-20',
  lastSeenOn: '2026-11-04',
  year: '1998',
  distance: '24,000',
  distanceUnit: 'mi',
  condition: 'tidy',
  link: '',
  note: '',
} as const

const columns = [
  ...['id', 'make', 'model', 'for viewing', 'year', 'distance', 'unit', 'condition', 'market'],
  ...['asked or sold', 'price', 'first seen', 'last seen', 'link', 'note'],
]

/** A table of noted prices with these lines; cells that are left out at the end are empty. */
export function priceTable(...lines: readonly (readonly string[])[]): string {
  const filled = lines.map((cells) => columns.map((_, at) => cells[at] ?? ''))
  return [columns, ...filled].map((cells) => cells.join(',')).join('\n')
}
