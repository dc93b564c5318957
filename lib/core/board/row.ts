import { meanOf } from '../quantity/three-point'
import type { BikeToWorkOut, BoardResult, PriceTaken } from './bike-result'
import { leftAfterKeep } from './left-after-keep'
import { type OtherWaysNoted, waysOutOfBike } from './ways-out-of-bike'

/** What the board needs to know of a bike beside its result. */
export type BikeFacts = {
  id: string
  viewingNo: number
  stockNo: number | null
  stage: string
}

/** One line of the board. Money in minor units, not rounded; null where there is no price or no sale price. */
export type BoardRow = BikeFacts & {
  price: PriceTaken | null
  marginMean: number | null
  /** One in ten ends below. */
  marginLow: number | null
  /** One in ten ends above. */
  marginHigh: number | null
  chanceOfLoss: number | null
  walkAway: number | null
  /** Best way out if finished, less best way out now, less cost still to come; null where one of them is not known. */
  gainFromGoingOn: number | null
  /** The margin with its bench hours at the bench hour's price in place of the labour cost. */
  leftAfterKeep: number | null
  /** Days from now on, on average: until it is ready, and until it is sold, which needs a sale price. */
  daysToReady: number
  daysToSold: number | null
  hoursMean: number
  /** Null where there is next to no bench work to divide by. */
  marginPerBenchHour: number | null
  /** The gain from going on by the bench hours it takes: which bike next. Null where either is not there. */
  gainPerBenchHour: number | null
  costMean: number
  stops: number
  musts: number
  openChecks: number
  holdUp: string
}

export const rankings = [
  'margin',
  'gain-from-going-on',
  'left-after-its-keep',
  'margin-per-bench-hour',
  'gain-per-bench-hour',
  'chance-of-loss',
  'days-to-sold',
] as const
export type Ranking = (typeof rankings)[number]

/** Below so many hours a margin per hour says nothing: six minutes. */
const leastHours = 0.1

export type BoardRowAsked = {
  facts: BikeFacts
  bike: Pick<BikeToWorkOut, 'figures' | 'price' | 'spentMinor'>
  /** What was noted of the ways out beside putting it right. */
  noted: OtherWaysNoted
}

/** The line of one bike on the board. */
export function boardRow(result: BoardResult, { facts, bike, noted }: BoardRowAsked): BoardRow {
  const { deal, dealInput, estimate, daysToReady } = result
  const { labourCostMinor, benchHourPriceMinor } = bike.figures
  const outcome = deal?.atAsking ?? null
  const marginMean = outcome?.expectedMargin ?? null
  const hoursMean = estimate.hours.mean
  const gainFromGoingOn = waysOutOfBike(bike, { result, noted })?.gainFromGoingOn ?? null
  const { id, viewingNo, stockNo, stage } = facts
  return {
    id,
    viewingNo,
    stockNo,
    stage,
    price: result.price,
    marginMean,
    marginLow: outcome?.margin.quantiles['0.1'] ?? null,
    marginHigh: outcome?.margin.quantiles['0.9'] ?? null,
    chanceOfLoss: outcome?.chanceOfLoss ?? null,
    walkAway: deal?.walkAway ?? null,
    gainFromGoingOn,
    leftAfterKeep: leftAfterKeep(
      { marginMean, hoursMean },
      { labourCost: labourCostMinor, benchHourPrice: benchHourPriceMinor },
    ),
    daysToReady,
    daysToSold: dealInput && daysToReady + meanOf(dealInput.daysToSell ?? 0),
    hoursMean,
    marginPerBenchHour: perHour(marginMean, hoursMean),
    gainPerBenchHour: perHour(gainFromGoingOn, hoursMean),
    costMean: estimate.cost.mean,
    stops: result.calls.stop,
    musts: result.calls.must,
    openChecks: result.checksOpen,
    holdUp: result.whatHoldsItUp,
  }
}

/** Nothing where there is next to no work to divide by. */
function perHour(amount: number | null, hours: number): number | null {
  return amount === null || hours < leastHours ? null : amount / hours
}

/** What the board is ranked by: all of it may be missing. */
export type Ranked = Pick<
  BoardRow,
  | 'viewingNo'
  | 'marginMean'
  | 'gainFromGoingOn'
  | 'leftAfterKeep'
  | 'marginPerBenchHour'
  | 'gainPerBenchHour'
  | 'chanceOfLoss'
  | 'daysToSold'
>

const ranked: Record<Ranking, { value: (row: Ranked) => number | null; first: 'highest' | 'lowest' }> = {
  margin: { value: (row) => row.marginMean, first: 'highest' },
  'gain-from-going-on': { value: (row) => row.gainFromGoingOn, first: 'highest' },
  'left-after-its-keep': { value: (row) => row.leftAfterKeep, first: 'highest' },
  'margin-per-bench-hour': { value: (row) => row.marginPerBenchHour, first: 'highest' },
  'gain-per-bench-hour': { value: (row) => row.gainPerBenchHour, first: 'highest' },
  'chance-of-loss': { value: (row) => row.chanceOfLoss, first: 'lowest' },
  'days-to-sold': { value: (row) => row.daysToSold, first: 'lowest' },
}

/**
 * The rows in order, best first; a new list. Rows that have no value to rank by come last; equal rows stand by
 * viewing number, so that the same rows always give the same order.
 */
export function rank<Row extends Ranked>(rows: readonly Row[], by: Ranking): Row[] {
  const { value, first } = ranked[by]
  const sign = first === 'highest' ? -1 : 1
  return [...rows].sort((a, b) => {
    const [ofA, ofB] = [value(a), value(b)]
    if (ofA === null || ofB === null) {
      return Number(ofA === null) - Number(ofB === null) || a.viewingNo - b.viewingNo
    }
    return sign * (ofA - ofB) || a.viewingNo - b.viewingNo
  })
}
