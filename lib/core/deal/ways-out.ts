import type { ThreePoint } from '../quantity/three-point'
import { meanOf } from '../quantity/three-point'
import { hoursValue } from './bench-hour'
import { taxUnrounded } from './tax'
import type { TaxTerms } from './tax.input'

export const waysOut = ['retail', 'trade', 'break', 'pass-up'] as const
/** Put right and sold here; on to the trade as it stands; broken for parts; not bought at all. */
export type WayOut = (typeof waysOut)[number]

/** What one way still brings from here on: money paid already is not in it. Minor units, not rounded. */
export interface Way {
  way: WayOut
  /** Mean; null where it is not known or not open. */
  toBeGained: number | null
  /** One in ten comes to less, one in ten to more; equal where nothing is uncertain. */
  low: number | null
  high: number | null
  /** Why it is shut, or what is missing to tell. */
  shut: WayShut | null
}

export type WayShut =
  | 'fault-stays'
  | 'no-sale-price'
  | 'no-trade-price'
  | 'no-parts-price'
  | 'waste-permit'
  | 'registry-notice'
  | 'bought'

export interface WaysOutAsked {
  /** Paid already, so that it comes back whatever is done. */
  bought: boolean
  /** What is or would be paid for the bike; without a price nothing is reckoned but the way on to others. */
  price: number
  /** Margin at that price once put right and sold here; null without a sale price. */
  retail: { mean: number; low: number; high: number } | null
  /** What is bought with the price beside it: fees, which are spent once it is bought. */
  buyingCosts: number
  /** A stop or a must that no job in the estimate cures keeps it from being sold to the public. */
  faultStays: boolean
  trade: ThreePoint | null
  parts: { value: ThreePoint; stripHours: number; costs: number } | null
  /** Told by the shop: it may take bikes apart, and the registry is told. */
  wastePermit: boolean
  registryNotice: boolean
  labourCost: number
  benchHourPrice: number | null
  tax: TaxTerms
}

export interface WaysOut {
  ways: readonly Way[]
  /** The one that brings most; of equals the first. */
  best: WayOut | null
  /**
   * Best way out if finished, less best way out as it stands, less cost still to come (which is in the first already).
   * Null where one of the two is not known.
   */
  gainFromGoingOn: number | null
}

/**
 * What can still be made of a bike, by what is still to be gained: what comes in from here on less what goes out from
 * here on. What was paid for a bike that is bought is spent and in no way; of one that is not, each way but passing
 * up still has to pay the price. Tax falls by the shop's scheme on what each way brings. Common practice, no source.
 */
export function waysOutOf(asked: WaysOutAsked): WaysOut {
  const ways = [retail(asked), trade(asked), breaking(asked), passUp(asked)]
  const open = ways.filter((way): way is Way & { toBeGained: number } => way.toBeGained !== null)
  const best = open.reduce<(typeof open)[number] | null>(
    (most, way) => (most === null || way.toBeGained > most.toBeGained ? way : most),
    null,
  )
  const asItStands = open.filter(({ way }) => way !== 'retail').map(({ toBeGained }) => toBeGained)
  const finished = ways[0]!.toBeGained
  return {
    ways,
    best: best?.way ?? null,
    gainFromGoingOn: finished === null || asItStands.length === 0 ? null : finished - Math.max(...asItStands),
  }
}

/** A margin has the price taken off; what is still to be gained of a bike that is paid for has not. */
function spent({ bought, price, buyingCosts }: WaysOutAsked): number {
  return bought ? price + buyingCosts : 0
}

function retail(asked: WaysOutAsked): Way {
  if (asked.faultStays) return shut('retail', 'fault-stays')
  if (!asked.retail) return shut('retail', 'no-sale-price')
  const { mean, low, high } = asked.retail
  const back = spent(asked)
  return { way: 'retail', toBeGained: mean + back, low: low + back, high: high + back, shut: null }
}

function trade(asked: WaysOutAsked): Way {
  if (!asked.trade) return shut('trade', 'no-trade-price')
  return takings('trade', asked.trade, { less: 0, asked })
}

function breaking(asked: WaysOutAsked): Way {
  if (!asked.parts) return shut('break', 'no-parts-price')
  if (!asked.wastePermit) return shut('break', 'waste-permit')
  if (!asked.registryNotice) return shut('break', 'registry-notice')
  const { labourCost, benchHourPrice } = asked
  const less = hoursValue({ hours: asked.parts.stripHours, labourCost, benchHourPrice }) + asked.parts.costs
  return takings('break', asked.parts.value, { less, asked })
}

function passUp({ bought }: WaysOutAsked): Way {
  if (bought) return shut('pass-up', 'bought')
  return { way: 'pass-up', toBeGained: 0, low: 0, high: 0, shut: null }
}

/** Three points are taken at their mean and, for the ends, at the low and the high one. */
function takings(
  way: WayOut,
  value: ThreePoint,
  { less, asked }: { less: number; asked: WaysOutAsked },
): Way {
  const { bought, price, buyingCosts, tax } = asked
  const of = (amount: number) =>
    amount - taxUnrounded(tax, { purchase: price, sale: amount }) - less - (bought ? 0 : price + buyingCosts)
  return { way, toBeGained: of(meanOf(value)), low: of(value.low), high: of(value.high), shut: null }
}

function shut(way: WayOut, why: WayShut): Way {
  return { way, toBeGained: null, low: null, high: null, shut: why }
}
