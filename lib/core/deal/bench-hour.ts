/**
 * What bench hours are worth, minor units, not rounded: `hours` at the bench hour's price, or at the labour cost where
 * that is null. The bench hour's price is what an hour could earn on other work and takes the place of the labour cost;
 * on an idle bench it is 0, since nothing else would have been done. `hours` from 0; both prices are minor units an
 * hour, from 0.
 */
export function hoursValue({
  hours,
  labourCost,
  benchHourPrice,
}: {
  hours: number
  labourCost: number
  benchHourPrice: number | null
}): number {
  return hours * (benchHourPrice ?? labourCost)
}
