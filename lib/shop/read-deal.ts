import type { PriceTaken } from '../core/board/bike-result'
import { workOut } from '../core/board/bike-result'
import type { FigureKey } from '../core/board/figures.input'
import { restingOnStartingValues } from '../core/board/starting-figures'
import { type Swing, swings } from '../core/deal/sensitivity'
import { type MarginSteps, marginSteps } from '../core/deal/steps'
import { seenOnly } from '../core/work/seen-only'
import { type BikeHead, headOf } from './bike-head'
import type { Context } from './deed'
import { readBike, readShopAndLimits, toWorkOut } from './facts'
import { readNoted, type SaleTold, saleTold } from './noted-prices'

export type OutcomeShown = {
  priceMinor: number
  marginMean: number
  marginLow: number
  marginHigh: number
  chanceOfLoss: number
  chanceOfTarget: number
}

export type DealShown = BikeHead & {
  version: number
  sale: SaleTold
  currency: string
  today: string
  /** Null without a sale price: nothing can be said about a price then. */
  deal: {
    walkAway: number | null
    /** At the price asked, offered or paid. */
    atPrice: (OutcomeShown & { basis: PriceTaken['basis'] }) | null
    atWalkAway: OutcomeShown | null
    /** Outline of the margin at that price. */
    marginShape: readonly { x: number; y: number }[] | null
    steps: MarginSteps | null
    swings: readonly Swing[]
    targetMinor: number
    maxChanceOfLoss: number
    /** What unseen faults are expected to cost, of the work. */
    unseenCostMean: number
    checksOpen: number
    holdUp: string
  } | null
  /** Figures nobody here has set yet. */
  resting: readonly FigureKey[]
}

/** One bike's deal, worked out afresh. */
export async function readDeal({ store, now }: Context, viewingNo: string): Promise<DealShown> {
  const bike = await readBike(store.db, viewingNo)
  const { shop, ownLimits } = await readShopAndLimits(store.db, { bikeId: bike.id, now })
  const noted = await readNoted(store.db, bike)
  const result = workOut(toWorkOut(bike, { shop, ownLimits, noted, now }))
  return {
    ...headOf(bike),
    version: bike.version,
    sale: saleTold(bike, { shop, noted }),
    currency: shop.currency,
    today: shop.today,
    deal: dealShown(result, shop.figures),
    resting: restingOnStartingValues(shop.figures),
  }
}

type Result = ReturnType<typeof workOut>

function dealShown(
  result: Result,
  figures: { targetMarginMinor: number; maxChanceOfLoss: number },
): DealShown['deal'] {
  const { deal, dealInput, estimate, estimateInput, price } = result
  if (!deal || !dealInput) return null
  const known = seenOnly(estimateInput)
  const seen = new Set((known ?? estimateInput).jobs.map(({ key }) => key))
  const unseen = estimate.lines.filter(({ key }) => !seen.has(key))
  const { atAsking, atWalkAway, walkAway } = deal
  return {
    walkAway,
    atPrice: price && atAsking ? { ...outcomeShown(atAsking, price.amountMinor), basis: price.basis } : null,
    atWalkAway: atWalkAway && walkAway !== null ? outcomeShown(atWalkAway, walkAway) : null,
    marginShape: result.marginShape,
    steps: price && marginSteps(dealInput, { price: price.amountMinor, costMean: estimate.cost.mean }),
    swings: swings(dealInput, { work: endsOf(estimate.cost.quantiles), withoutUnseen: known }),
    targetMinor: figures.targetMarginMinor,
    maxChanceOfLoss: figures.maxChanceOfLoss,
    unseenCostMean: unseen.reduce((sum, line) => sum + line.costMean, 0),
    checksOpen: result.checksOpen,
    holdUp: result.whatHoldsItUp,
  }
}

function outcomeShown(
  outcome: NonNullable<NonNullable<Result['deal']>['atAsking']>,
  priceMinor: number,
): OutcomeShown {
  const { low, high } = endsOf(outcome.margin.quantiles)
  return {
    priceMinor,
    marginMean: outcome.expectedMargin,
    marginLow: low,
    marginHigh: high,
    chanceOfLoss: outcome.chanceOfLoss,
    chanceOfTarget: outcome.chanceOfTarget,
  }
}

function endsOf(quantiles: Readonly<Record<string, number>>): { low: number; high: number } {
  const low = quantiles['0.1']
  const high = quantiles['0.9']
  if (low === undefined || high === undefined) throw new Error('the estimate answers the levels 0.1 and 0.9')
  return { low, high }
}
