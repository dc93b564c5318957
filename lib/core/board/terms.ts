import type { DealInput } from '../deal/deal.input'
import { meanOf, type ThreePoint, type Uncertain } from '../quantity/three-point'
import type { EstimateInput } from '../work/estimate.input'
import { momentsOf } from '../work/moments'
import { estimateInputOf } from '../work/propose-estimate'
import type { Proposal } from '../work/propose-jobs'
import { workOf } from '../work/work'
import type { BikeToWorkOut } from './bike-result'
import type { Figures } from './figures.input'

/** What a set of jobs comes to, ready for the estimate and the deal; means are exact. */
export type Plan = {
  estimateInput: EstimateInput
  hoursMean: number
  /** Minor units, not rounded. */
  costMean: number
  /** Mean. */
  daysToReady: number
  /** Null without a sale price. */
  dealInput: DealInput | null
}

/** The shop's figures and one bike's jobs as the estimate and the deal want them. */
export function planOf(bike: BikeToWorkOut, proposal: Proposal): Plan {
  const { figures } = bike
  const estimateInput = estimateInputOf({
    proposal,
    catalogue: bike.catalogue,
    terms: figures,
    ...(bike.told && { told: bike.told }),
  })
  const { hours, cost } = momentsOf(workOf(estimateInput), estimateInput.labourRate)
  const planned = bike.plannedDays ?? daysUntilReady(figures, hours.mean)
  const daysToReady = meanOf(planned)
  const saleOff = proposal.left.reduce((sum, { expectedSaleOffMinor }) => sum + expectedSaleOffMinor, 0)
  const slower = proposal.left.reduce((sum, { expectedSlowerDays }) => sum + expectedSlowerDays, 0)
  const dealInput = dealInputOf(bike, {
    estimateInput,
    daysToReady: planned,
    saleOff: Math.round(saleOff),
    slower,
  })
  return { estimateInput, hoursMean: hours.mean, costMean: cost.mean, daysToReady, dealInput }
}

/** Days before work starts, then the expected hours at what one bike gets of the bench in a day. */
function daysUntilReady({ workshop }: Figures, hoursMean: number): number {
  return workshop.daysBeforeStart + hoursMean / workshop.benchHoursPerDay
}

/** What is left makes a bike stand longer, by so many days whether it goes well or drags on. */
function laterBy({ low, likely, high }: ThreePoint, days: number): ThreePoint {
  return { low: low + days, likely: likely + days, high: high + days }
}

function dealInputOf(
  { figures, sale, price, spentMinor = 0 }: BikeToWorkOut,
  plan: { estimateInput: EstimateInput; daysToReady: Uncertain; saleOff: number; slower: number },
): DealInput | null {
  if (sale === null) return null
  return {
    sale,
    saleOff: plan.saleOff,
    estimate: plan.estimateInput,
    standingCosts: figures.standingCostsMinor + spentMinor,
    holding: { perDay: figures.dayPrice.perDayMinor, moneyPerYear: figures.dayPrice.moneyPerYear },
    daysToReady: plan.daysToReady,
    daysToSell: laterBy(figures.daysToSell, plan.slower),
    sellingCosts: figures.sellingCostsMinor,
    buyingCosts: { fixed: figures.buyingCosts.fixedMinor, shareOfPrice: figures.buyingCosts.shareOfPrice },
    reserveShareOfSale: figures.reserveShareOfSale,
    tax: figures.tax,
    rule: {
      kind: 'average',
      targetMargin: figures.targetMarginMinor,
      maxChanceOfLoss: figures.maxChanceOfLoss,
    },
    ...(price && { asking: price.amountMinor }),
  }
}
