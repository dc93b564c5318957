import { hoursValue } from '../deal/bench-hour'

/**
 * What is left of a bike after its keep: the mean margin with its bench hours at the bench hour's price in place of the
 * labour cost,
 *
 *     E[margin] + E[hours] · (labour cost − bench hour's price)
 *
 * Its days are in the margin already, and the money in the work stays what the work costs to pay. Without a bench
 * hour's price it is the margin; without a margin it is null. Minor units, not rounded.
 */
export function leftAfterKeep(
  { marginMean, hoursMean }: { marginMean: number | null; hoursMean: number },
  { labourCost, benchHourPrice }: { labourCost: number; benchHourPrice: number | null },
): number | null {
  if (marginMean === null) return null
  const paid = hoursValue({ hours: hoursMean, labourCost, benchHourPrice: null })
  return marginMean + paid - hoursValue({ hours: hoursMean, labourCost, benchHourPrice })
}
