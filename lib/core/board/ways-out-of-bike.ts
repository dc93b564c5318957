import { type WaysOut, waysOutOf } from '../deal/ways-out'
import type { ThreePoint } from '../quantity/three-point'
import type { LeftFault } from '../work/propose-jobs'
import type { BikeResult, BikeToWorkOut } from './bike-result'

/** What a person noted of the ways out beside putting it right. Minor units; null where nobody did. */
export type OtherWaysNoted = {
  trade: ThreePoint | null
  parts: { value: ThreePoint; stripHours: number; costs: number } | null
  wastePermit: boolean
  registryNotice: boolean
}

/** The ways out of one bike that was worked out; null without any price, since then nothing can be compared. */
export function waysOutOfBike(
  { figures, price, spentMinor = 0 }: Pick<BikeToWorkOut, 'figures' | 'price' | 'spentMinor'>,
  {
    result,
    noted,
  }: {
    result: Pick<BikeResult, 'deal'> & { left: readonly Pick<LeftFault, 'call' | 'state'>[] }
    noted: OtherWaysNoted
  },
): WaysOut | null {
  if (!price) return null
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
    // Spent like the fees, so that it is in no way out.
    buyingCosts: fixedMinor + shareOfPrice * price.amountMinor + spentMinor,
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
