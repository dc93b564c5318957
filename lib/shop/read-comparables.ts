import { restingOnStartingValues } from '../core/board/starting-figures'
import type { Condition, Market, NoteReckoned, SalePrice } from '../core/deal/comparables'
import type { ThreePoint } from '../core/quantity/three-point'
import { type BikeHead, headOf } from './bike-head'
import { comparableAsTyped } from './comparables'
import type { Context } from './deed'
import { readBike, readShopFacts } from './facts'
import {
  conditionWhenSold,
  type NotedRow,
  readNoted,
  readyDay,
  reckonNoted,
  type SaleTold,
  saleTold,
  typedSale,
  weighNoted,
} from './noted-prices'

/** A noted price with what it says of this bike, and how the form that corrects it shows it. */
export type PriceNoted = NoteReckoned & {
  version: number
  alone: boolean
  make: string
  model: string
  market: Market
  asked: boolean
  priceMinor: number
  firstSeenOn: string
  lastSeenOn: string
  year: number | null
  distance: number | null
  distanceUnit: 'mi' | 'km'
  /** Null where nobody said. */
  condition: Condition | null
  link: string
  note: string
  who: string
  seenToday: boolean
  /** By the names of the form's fields. */
  typed: Readonly<Record<string, string>>
}

export type PricesNoted = BikeHead & {
  version: number
  currency: string
  today: string
  lengthUnit: string
  distance: number | null
  distanceUnit: 'mi' | 'km'
  /** What the bike is held as against the notes. */
  conditionWhenSold: Condition
  readyOn: string
  /** What counts. */
  sale: SaleTold
  /** What a person typed on the bike. */
  typedSale: ThreePoint | null
  /** What the noted prices come to, whether they count or not. */
  reckoned: Omit<SalePrice, 'notes'> | null
  /** Those that count most first. */
  notes: readonly PriceNoted[]
  /** Whether the terms still are the invented ones the program began with. */
  restsOnStartingValues: boolean
}

/** The prices noted for one bike and what they come to; refused where there is no such bike. */
export async function readPrices({ store, now }: Context, viewingNo: string): Promise<PricesNoted> {
  const { db } = store
  const bike = await readBike(db, viewingNo)
  const [shop, rows, people] = await Promise.all([
    readShopFacts(db, now),
    readNoted(db, bike),
    db.person.findMany({ select: { id: true, name: true } }),
  ])
  const given = { shop, noted: rows }
  const price = reckonNoted(bike, given)
  const names = new Map(people.map(({ id, name }) => [id, name]))
  const byId = new Map(weighNoted(bike, given).map((note) => [note.id, note]))
  const notes = rows.flatMap((row) => {
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
