import type { Condition, Market, NoteReckoned, SalePrice } from '../core/deal/comparables'
import type { ThreePoint } from '../core/quantity/three-point'
import type { BikeHead } from './bike-head'
import type { Context } from './deed'
import { readBike, readShopFacts } from './facts'
import { readNoted, type SaleTold } from './noted-prices'
import { pricesOf } from './prices-of'

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
  return pricesOf(bike, { shop, noted: rows, names: new Map(people.map(({ id, name }) => [id, name])) })
}
