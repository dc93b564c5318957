import type { PriceTaken } from './bike-result'

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
