/** What makes a day of a bike standing cost something. */
export interface DayPriceTerms {
  /** Space, insurance and fall in price, minor units a day. */
  perDay: number
  /** What money costs a year, as a share: 0.08 is 8 %. */
  moneyPerYear: number
  /** What the place would earn a day with the next bike on it while the stand is full, minor units; else 0. */
  fullStandPerDay?: number
}

/**
 * The day's price, the one that everything reckons with:
 *
 *     perDay + fullStandPerDay + (price + E[cost]) · moneyPerYear / 365
 *
 * `price` is what was or would be paid for the bike, `costMean` the mean of its estimate, both in minor units: the
 * money that is in the bike from the first day. Minor units a day, not rounded.
 */
export function dayPrice(
  { perDay, moneyPerYear, fullStandPerDay = 0 }: DayPriceTerms,
  { price, costMean }: { price: number; costMean: number },
): number {
  return perDay + fullStandPerDay + ((price + costMean) * moneyPerYear) / 365
}
