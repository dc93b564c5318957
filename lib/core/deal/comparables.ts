import type { Day } from '../quantity/days'
import { daysBetween, yearOf } from '../quantity/days'
import type { ThreePoint } from '../quantity/three-point'
import { convert } from '../quantity/units'
import type { NotedPrice, SalePriceInput } from './comparables.input'
import { effectiveSize, weightedQuantile } from './comparables-quantile'
import { pertThrough } from './comparables-three-point'

/** Steps of condition, worst first; neighbours are one step apart. */
export const conditions = ['rough', 'worn', 'tidy', 'very good'] as const
export type Condition = (typeof conditions)[number]

export const markets = ['private', 'trade', 'auction'] as const
export type Market = (typeof markets)[number]

/** A noted price with what it says of this bike and how much that counts. */
export type NoteReckoned = {
  id: string
  /** What the bike would sell at by this note, minor units, not rounded. */
  value: number
  /** What the noted price was multiplied with to get there. */
  times: { sold: number; toRetail: number; season: number }
  /** Full months that it stood, where it was asked. */
  monthsStood: number
  weight: number
  /** Of all weight. */
  share: number
  /** What the weight is the product of; each is 1 where nothing speaks against the note, but for the market's own. */
  counts: { market: number; age: number; year: number; distance: number; condition: number }
  daysOld: number
  /** The note's less the bike's own: years, kilometres, steps of condition. Null where one of the two is not known. */
  apart: { years: number | null; km: number | null; steps: number | null }
}

export type SalePrice = {
  /** For the deal: whole minor units. */
  sale: ThreePoint
  /** Of the notes' values as they are, minor units, not rounded. */
  quantiles: { low: number; middle: number; high: number }
  /** One sale in ten falls below, one rises above: the quantiles, widened. */
  levels: { low: number; high: number }
  /** By how much each level was pushed outwards, minor units. */
  widenedBy: number
  /** How many equal notes would be as good (Kish). */
  effective: number
  /** What decides on the widening: that, or the sum of the weights where it is less. */
  counted: number
  /** Whether the lowest and the highest of `sale` lie outside everything noted. */
  outsideNotes: { below: boolean; above: boolean }
  /** Of the month it will be ready: 1 to 12, and the shop's factor. */
  season: { month: number; factor: number }
  /** In the order of the input. */
  notes: readonly NoteReckoned[]
  /** Why it is as wide as it is, in sentences. */
  says: readonly string[]
}

/** From so many on nothing is widened. */
const enoughNotes = 6
/**
 * One lone note is pushed apart by 0.18 · (1 − 1/6) = 15 % of its value either way, two by 6 %, four by 1.5 %.
 * Common practice, no source: two bikes of one sort that look alike in an advert sell about so far apart.
 */
const widening = 0.18
/** However little the notes count, a level is pushed by no more than this share of the middle. */
const mostWidening = 0.4
/** An advert that stands for years says little, and nothing worse than this share of the usual ratio. */
const leastOfRatio = 0.5

/**
 * What a bike with everything right would sell at, by prices noted of similar ones. Null where no note has a weight.
 * Prices are in minor units of one currency.
 *
 *     value  = price · sold · toRetail · season(ready)/season(seen)
 *     sold   = soldToAsked − longStandingPerMonth · full months it stood; 1 for a sale
 *     weight = market · ½^(age/halfLife) · exp(−½(Δyear/scale)²) · exp(−½(Δdistance/scale)²) · conditionStep^|Δsteps|
 *
 * What is not known of the note or of the bike counts as one scale, or one step, apart.
 * @throws CalcProblem where a day does not exist.
 */
export function salePriceFrom(input: SalePriceInput): SalePrice | null {
  const notes = reckonNotes(input)
  const counting = notes.filter(({ weight }) => weight > 0)
  if (counting.length === 0) return null
  const effective = effectiveSize(counting.map(({ weight }) => weight))
  const sum = counting.reduce((total, { weight }) => total + weight, 0)
  const counted = Math.min(effective, sum)
  const at = (level: number) => weightedQuantile(counting, { level })
  const quantiles = { low: at(0.1), middle: at(0.5), high: at(0.9) }
  const widenedBy = wideningOf(counted) * quantiles.middle
  const levels = { low: Math.max(0, quantiles.low - widenedBy), high: quantiles.high + widenedBy }
  const sale = wholeMinor(pertThrough({ ...levels, middle: quantiles.middle }))
  const values = counting.map(({ value }) => value)
  const outsideNotes = {
    below: sale.low < Math.round(Math.min(...values)),
    above: sale.high > Math.round(Math.max(...values)),
  }
  const month = monthOf(input.readyOn)
  return {
    sale,
    quantiles,
    levels,
    widenedBy,
    effective,
    counted,
    outsideNotes,
    season: { month, factor: input.season[month - 1]! },
    notes,
    says: saysOf({ notes: counting.length, effective, sum, widened: widenedBy > 0, outsideNotes }),
  }
}

/** Each note by itself, in the order given; also where none of them has a weight. @throws CalcProblem as above. */
export function reckonNotes(input: SalePriceInput): NoteReckoned[] {
  const weighed = input.notes.map((note) => weighOne(note, input))
  const total = weighed.reduce((sum, { weight }) => sum + weight, 0)
  return weighed.map((note) => ({ ...note, share: total > 0 ? note.weight / total : 0 }))
}

function weighOne(note: NotedPrice, input: SalePriceInput): Omit<NoteReckoned, 'share'> {
  const { bike, terms, season, asOf, readyOn } = input
  const market = terms.markets[note.market]
  const monthsStood = note.asked ? fullMonths(note.firstSeenOn, note.lastSeenOn) : 0
  const times = {
    sold: note.asked ? soldShare(terms, monthsStood) : 1,
    toRetail: market.toRetail,
    season: season[monthOf(readyOn) - 1]! / season[monthOf(note.lastSeenOn) - 1]!,
  }
  const daysOld = Math.max(0, daysBetween(note.lastSeenOn, asOf))
  const apart = apartOf(note, bike)
  const counts = {
    market: market.weight,
    age: 0.5 ** (daysOld / terms.halfLifeDays),
    year: bell(apart.years, terms.yearScale),
    distance: bell(apart.km, terms.distanceScaleKm),
    condition: terms.conditionStep ** Math.abs(apart.steps ?? 1),
  }
  return {
    id: note.id,
    value: note.price * times.sold * times.toRetail * times.season,
    times,
    monthsStood,
    weight: counts.market * counts.age * counts.year * counts.distance * counts.condition,
    counts,
    daysOld,
    apart,
  }
}

function soldShare(terms: SalePriceInput['terms'], months: number): number {
  const share = terms.soldToAsked - terms.longStandingPerMonth * months
  return Math.max(leastOfRatio * terms.soldToAsked, share)
}

function apartOf(note: NotedPrice, bike: SalePriceInput['bike']): NoteReckoned['apart'] {
  const km = note.distance === null ? null : convert(note.distance, note.distanceUnit, 'km')
  const stepOf = (condition: NotedPrice['condition']) =>
    condition === null ? null : conditions.indexOf(condition)
  return {
    years: difference(note.year, bike.year),
    km: difference(km, bike.distanceKm),
    steps: difference(stepOf(note.condition), stepOf(bike.condition)),
  }
}

function difference(of: number | null, from: number | null): number | null {
  return of === null || from === null ? null : of - from
}

/** exp(−½(Δ/scale)²); one scale apart where the difference is not known. */
function bell(apart: number | null, scale: number): number {
  const scales = apart === null ? 1 : apart / scale
  return Math.exp(-0.5 * scales * scales)
}

function wideningOf(counted: number): number {
  return Math.min(mostWidening, widening * Math.max(0, 1 / counted - 1 / enoughNotes))
}

/** Calendar months that are over: from the 15th of one to the 14th of the next is none, to the 15th is one. */
function fullMonths(from: Day, to: Day): number {
  const begun = 12 * (yearOf(to) - yearOf(from)) + monthOf(to) - monthOf(from)
  return Math.max(0, begun - (to.slice(8) < from.slice(8) ? 1 : 0))
}

function monthOf(day: Day): number {
  return Number(day.slice(5, 7))
}

function wholeMinor({ low, likely, high }: ThreePoint): ThreePoint {
  return { low: Math.round(low), likely: Math.round(likely), high: Math.round(high) }
}

function saysOf(of: {
  notes: number
  effective: number
  sum: number
  widened: boolean
  outsideNotes: SalePrice['outsideNotes']
}): string[] {
  const { notes, effective, sum, widened, outsideNotes } = of
  const says: string[] = []
  if (widened) {
    const why =
      sum < effective
        ? `Together the notes count no more than ${tenths(sum)} of a fresh dealer’s price for the very same bike`
        : notes === 1
          ? 'There is one note alone'
          : `The ${notes} notes count like ${tenths(effective)} equal ones`
    says.push(`${why}: the spread is widened, since so little does not tell how far prices go.`)
  }
  const { below, above } = outsideNotes
  if (below || above) {
    const where =
      below && above
        ? 'The lowest and the highest it may bring lie'
        : `The ${below ? 'lowest' : 'highest'} it may bring lies`
    says.push(`${where} outside everything noted: the next sale need not fall between the ones seen so far.`)
  }
  return says
}

function tenths(count: number): string {
  return count < 0.1 ? 'a tenth' : String(Math.round(count * 10) / 10)
}
