import type { BoardResult, PriceTaken } from './bike-result'

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
  hoursMean: number
  /** Null where there is next to no bench work to divide by. */
  marginPerBenchHour: number | null
  costMean: number
  stops: number
  musts: number
  openChecks: number
  holdUp: string
}

export const rankings = ['margin', 'margin-per-bench-hour', 'chance-of-loss'] as const
export type Ranking = (typeof rankings)[number]

/** Below so many hours a margin per hour says nothing: six minutes. */
const leastHours = 0.1

/** The line of one bike on the board. */
export function boardRow(result: BoardResult, facts: BikeFacts): BoardRow {
  const { deal, estimate } = result
  const outcome = deal?.atAsking ?? null
  const marginMean = outcome?.expectedMargin ?? null
  const hoursMean = estimate.hours.mean
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
    hoursMean,
    marginPerBenchHour: marginMean === null || hoursMean < leastHours ? null : marginMean / hoursMean,
    costMean: estimate.cost.mean,
    stops: result.calls.stop,
    musts: result.calls.must,
    openChecks: result.checksOpen,
    holdUp: result.whatHoldsItUp,
  }
}

const ranked: Record<Ranking, { value: (row: BoardRow) => number | null; first: 'highest' | 'lowest' }> = {
  margin: { value: (row) => row.marginMean, first: 'highest' },
  'margin-per-bench-hour': { value: (row) => row.marginPerBenchHour, first: 'highest' },
  'chance-of-loss': { value: (row) => row.chanceOfLoss, first: 'lowest' },
}

/**
 * The rows in order, best first; a new list. Rows that have no value to rank by come last; equal rows stand by
 * viewing number, so that the same rows always give the same order.
 */
export function rank<Row extends BoardRow>(rows: readonly Row[], by: Ranking): Row[] {
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
