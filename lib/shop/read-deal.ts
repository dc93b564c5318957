import type { PriceTaken } from '../core/board/bike-result'
import type { DealDesk } from '../core/board/deal-desk'
import type { FigureKey } from '../core/board/figures.input'
import type { ScopeOfWork } from '../core/board/scope-of-work'
import type { CareTold } from '../core/checks/care-signs'
import type { DealInput } from '../core/deal/deal.input'
import type { Swing } from '../core/deal/sensitivity'
import type { MarginSteps } from '../core/deal/steps'
import type { ThreePrices } from '../core/deal/three-prices'
import type { WaysOut } from '../core/deal/ways-out'
import type { BikeHead } from './bike-head'
import { dealOf } from './deal-of'
import type { Context } from './deed'
import { readBike, readShopAndLimits } from './facts'
import { readNoted, type SaleTold } from './noted-prices'
import { readOtherWays } from './other-ways'
import type { OtherWaysShown } from './other-ways-of'
import type { SavingShown } from './savings-shown'
import { type KeptWhatIf, readWhatIfs } from './what-ifs'

export type OutcomeShown = {
  priceMinor: number
  marginMean: number
  marginLow: number
  marginHigh: number
  chanceOfLoss: number
  chanceOfTarget: number
}

export type NextCheckShown = {
  check: string
  title: string
  round: string
  minutes: number
  valueMinor: number
  /** What it looks for, and the chance that it is there; of several causes, the job that cures the one it tells of. */
  looksFor: string
  cause: string | null
  chance: number
  ifClean: number | null
  ifFound: number | null
}

export type Desk = {
  prices: ThreePrices | null
  scope: Omit<ScopeOfWork, 'input'> | null
  waysOut: WaysOut | null
  otherWays: OtherWaysShown
  /** Null where there is no price to decide on. */
  nextChecks: readonly NextCheckShown[] | null
  /** The round that evidence is missing for, and its checks: those come first. */
  firstNeeds: { round: string; titles: readonly string[] } | null
  leftAfterKeepMinor: number | null
  cost: { low: number; middle: number; high: number; shape: readonly { x: number; y: number }[] | null }
  hoursMean: number
  /** Labour done once for several jobs. */
  savings: readonly SavingShown[]
  care: CareTold
  /** For what-ifs: the input of the calculation, and titles of its jobs. */
  dealInput: DealInput
  addable: DealDesk['addable']
  jobTitles: Readonly<Record<string, string>>
  benchHourPriceMinor: number
  openShare: number
  aimShare: number
  /** What-ifs kept for this bike. */
  kept: readonly KeptWhatIf[]
}

export type DealShown = BikeHead & {
  version: number
  zone: string
  sale: SaleTold
  currency: string
  today: string
  desk: Desk | null
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
  const otherWays = await readOtherWays(store.db, bike.id)
  const kept = await readWhatIfs(store.db, bike.id)
  return dealOf(bike, { shop, ownLimits, noted, otherWays, kept, now })
}
