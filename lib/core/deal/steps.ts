import { meanExcess, meanOf } from '../quantity/three-point'
import { dayPrice } from './day-price'
import type { DealInput } from './deal.input'
import { meanMarginAt } from './margin'

/** From the sale price of a bike with everything right down to its margin. Means in minor units, not rounded. */
export interface MarginSteps {
  /** What it sells at with everything right. */
  sale: number
  /** What the faults that are left take off it. */
  leftFaults: number
  price: number
  /** Gone into it already. */
  spent: number
  /** Parts, labour and outside work still to come. */
  work: number
  /** What every bike costs, buying and selling it included. */
  standing: number
  /** Kept back for what comes after the sale. */
  reserve: number
  /** The days until it is ready and sold. */
  days: number
  /** Below zero where tax is paid back. */
  tax: number
  margin: number
}

/**
 * The mean of each step at a price; sale less all the others is the margin. The mean tax is what remains when
 * every other step is taken off: the margin's own mean is exact, and so is each of them. `spent` is the part of the
 * standing costs that is told by itself, minor units.
 */
export function marginSteps(
  input: DealInput,
  { price, costMean, spent = 0 }: { price: number; costMean: number; spent?: number },
): MarginSteps {
  const { buyingCosts, holding } = input
  const sale = meanOf(input.sale)
  const sold = meanExcess(input.sale, input.saleOff)
  const standing =
    input.standingCosts - spent + input.sellingCosts + buyingCosts.fixed + buyingCosts.shareOfPrice * price
  const days = dayPrice(holding, { price, costMean }) * (meanOf(input.daysToReady) + meanOf(input.daysToSell))
  const reserve = input.reserveShareOfSale * sold
  const margin = meanMarginAt(input, { price, costMean })
  const tax = sold - price - spent - costMean - standing - reserve - days - margin
  return { sale, leftFaults: sale - sold, price, spent, work: costMean, standing, reserve, days, tax, margin }
}
