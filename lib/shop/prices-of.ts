import { restingOnStartingValues } from '../core/board/starting-figures'
import type { Condition, Market, NoteReckoned, SalePrice } from '../core/deal/comparables'
import { headOf } from './bike-head'
import { comparableAsTyped } from './comparable-fields'
import type { BikeWithFacts, ShopFacts } from './facts'
import {
  conditionWhenSold,
  type NotedRow,
  readyDay,
  reckonNoted,
  saleTold,
  typedSale,
  weighNoted,
} from './noted-prices'
import type { PriceNoted, PricesNoted } from './read-comparables'

/** What a bike's noted prices come to, out of the prices that count for it; it asks the store nothing. */
export function pricesOf(
  bike: BikeWithFacts,
  given: { shop: ShopFacts; noted: readonly NotedRow[]; names: ReadonlyMap<string, string> },
): PricesNoted {
  const { shop, names } = given
  const price = reckonNoted(bike, given)
  const byId = new Map(weighNoted(bike, given).map((note) => [note.id, note]))
  const notes = given.noted.flatMap((row) => {
    const reckoned = byId.get(row.id)
    return reckoned ? [noteShown(row, { reckoned, names, today: shop.today })] : []
  })
  const resting = restingOnStartingValues(shop.figures)
  return {
    ...headOf(bike),
    version: bike.version,
    currency: shop.currency,
    today: shop.today,
    lengthUnit: shop.lengthUnit,
    distance: bike.distance,
    distanceUnit: bike.distanceUnit as 'mi' | 'km',
    conditionWhenSold,
    readyOn: readyDay(bike, shop),
    sale: saleTold(bike, given),
    typedSale: typedSale(bike),
    reckoned: price && withoutNotes(price),
    notes: notes.sort((a, b) => b.weight - a.weight),
    restsOnStartingValues: resting.includes('notedPrices') || resting.includes('season'),
  }
}

function withoutNotes({ notes: _, ...price }: SalePrice): Omit<SalePrice, 'notes'> {
  return price
}

function noteShown(
  row: NotedRow,
  given: { reckoned: NoteReckoned; names: ReadonlyMap<string, string>; today: string },
): PriceNoted {
  const { reckoned, names, today } = given
  const { make, model, asked, priceMinor, firstSeenOn, lastSeenOn, year, distance, link, note, version } = row
  return {
    ...reckoned,
    ...{ make, model, asked, priceMinor, firstSeenOn, lastSeenOn, year, distance, link, note, version },
    alone: row.bikeId !== null,
    market: row.market as Market,
    distanceUnit: row.distanceUnit as 'mi' | 'km',
    condition: row.condition === 'not known' ? null : (row.condition as Condition),
    who: names.get(row.personId) ?? 'somebody',
    seenToday: lastSeenOn === today,
    typed: comparableAsTyped(row),
  }
}
