import { type ThreePrices, threePrices } from '../deal/three-prices'
import { type WaysOut, waysOutOf } from '../deal/ways-out'
import type { ThreePoint } from '../quantity/three-point'
import type { BikeResult, BikeToWorkOut } from './bike-result'
import { type NextCheck, nextChecksOf } from './next-checks'
import { type ScopeOfWork, scopeOfWork } from './scope-of-work'

/** What a person noted of the ways out beside putting it right. Minor units; null where nobody did. */
export type OtherWaysNoted = {
  trade: ThreePoint | null
  parts: { value: ThreePoint; stripHours: number; costs: number } | null
  wastePermit: boolean
  registryNotice: boolean
}

/** What the dealer decides with, beyond the deal itself. */
export type DealDesk = {
  prices: ThreePrices | null
  scope: ScopeOfWork | null
  /** Null without any price: then nothing can be compared. */
  waysOut: WaysOut | null
  /** Worked out when asked for, which takes longest. */
  nextChecks: () => NextCheck[] | null
}

/** The dealer's desk for one bike that was worked out. */
export function dealDeskOf(
  bike: BikeToWorkOut,
  { result, noted, bestPrice }: { result: BikeResult; noted: OtherWaysNoted; bestPrice: number | null },
): DealDesk {
  const { figures, price } = bike
  const { faults, jobs, estimate, deal, dealInput } = result
  const asking = price?.basis === 'asking' ? price.amountMinor : null
  return {
    prices: threePrices({ walkAway: deal?.walkAway ?? null, asking }, figures.bargaining),
    scope: scopeOfWork(bike, { faults, jobs, dealInput, costMean: estimate.cost.mean, bestPrice }),
    waysOut: price && waysOutFor(bike, { result, noted, price }),
    nextChecks: () => nextChecksOf(bike, result),
  }
}

function waysOutFor(
  { figures }: BikeToWorkOut,
  {
    result,
    noted,
    price,
  }: { result: BikeResult; noted: OtherWaysNoted; price: NonNullable<BikeToWorkOut['price']> },
): WaysOut {
  const outcome = result.deal?.atAsking ?? null
  const { fixedMinor, shareOfPrice } = figures.buyingCosts
  const stays = result.left.some(
    ({ call, state }) => (call === 'stop' || call === 'must') && state !== 'open',
  )
  return waysOutOf({
    bought: price.basis === 'paid',
    price: price.amountMinor,
    retail: outcome && {
      mean: outcome.expectedMargin,
      low: outcome.margin.quantiles['0.1']!,
      high: outcome.margin.quantiles['0.9']!,
    },
    buyingCosts: fixedMinor + shareOfPrice * price.amountMinor,
    faultStays: stays,
    trade: noted.trade,
    parts: noted.parts,
    wastePermit: noted.wastePermit,
    registryNotice: noted.registryNotice,
    labourCost: figures.labourCostMinor,
    benchHourPrice: figures.benchHourPriceMinor,
    tax: figures.tax,
  })
}
