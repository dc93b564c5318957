import type { PriceTaken } from '../core/board/bike-result'
import { workOut } from '../core/board/bike-result'
import { type DealDesk, dealDeskOf } from '../core/board/deal-desk'
import type { FigureKey, Figures } from '../core/board/figures.input'
import { leftAfterKeep } from '../core/board/left-after-keep'
import type { ScopeOfWork } from '../core/board/scope-of-work'
import { restingOnStartingValues } from '../core/board/starting-figures'
import type { CareTold } from '../core/checks/care-signs'
import type { DealInput } from '../core/deal/deal.input'
import { type Swing, swings } from '../core/deal/sensitivity'
import { type MarginSteps, marginSteps } from '../core/deal/steps'
import type { ThreePrices } from '../core/deal/three-prices'
import type { WaysOut } from '../core/deal/ways-out'
import { seenOnly } from '../core/work/seen-only'
import { type BikeHead, headOf } from './bike-head'
import type { Context } from './deed'
import { readBike, readShopAndLimits, toWorkOut } from './facts'
import { bestNoted, readNoted, type SaleTold, saleTold } from './noted-prices'
import { type OtherWaysShown, readOtherWays } from './other-ways'
import { type SavingShown, savingsShown } from './savings-shown'
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
  const input = toWorkOut(bike, { shop, ownLimits, noted, now })
  const result = workOut(input)
  const otherWays = await readOtherWays(store.db, bike.id)
  const kept = await readWhatIfs(store.db, bike.id)
  const desk = dealDeskOf(input, { result, noted: otherWays, bestPrice: bestNoted(bike, { shop, noted }) })
  return {
    ...headOf(bike),
    version: bike.version,
    zone: shop.zone,
    sale: saleTold(bike, { shop, noted }),
    currency: shop.currency,
    today: shop.today,
    deal: dealShown(result, { figures: shop.figures, spent: input.spentMinor ?? 0 }),
    desk: deskShown(desk, { result, otherWays, kept, figures: shop.figures }),
    resting: restingOnStartingValues(shop.figures),
  }
}

type Result = ReturnType<typeof workOut>

/** Of so many checks the prices under either answer are worked out. */
const checksShown = 3

function deskShown(
  desk: DealDesk,
  {
    result,
    otherWays,
    kept,
    figures,
  }: {
    result: Result
    otherWays: OtherWaysShown
    kept: readonly KeptWhatIf[]
    figures: Figures
  },
): Desk | null {
  const { dealInput, estimate, costShape, locks, jobs, deal } = result
  if (!dealInput) return null
  const { low, high } = endsOf(estimate.cost.quantiles)
  const held = locks.find(
    ({ open, needs }) => !open && needs.some(({ clearedUntil }) => clearedUntil === null),
  )
  const { labourCostMinor, benchHourPriceMinor, bargaining } = figures
  return {
    prices: desk.prices,
    scope: desk.scope && { jobs: desk.scope.jobs, gain: desk.scope.gain },
    waysOut: desk.waysOut,
    otherWays,
    nextChecks:
      desk
        .nextChecks()
        ?.filter(({ value }) => value >= 1)
        .slice(0, checksShown)
        .map((one) => ({
          check: one.check,
          title: one.title,
          round: one.round,
          minutes: one.minutes,
          valueMinor: one.value,
          looksFor: one.looksFor.title,
          cause: one.looksFor.cause,
          chance: one.looksFor.chance,
          ifClean: one.ifClean?.() ?? null,
          ifFound: one.ifFound?.() ?? null,
        })) ?? null,
    firstNeeds: held
      ? {
          round: held.round,
          titles: held.needs.filter(({ clearedUntil }) => clearedUntil === null).map(({ title }) => title),
        }
      : null,
    leftAfterKeepMinor: leftAfterKeep(
      { marginMean: deal?.atAsking?.expectedMargin ?? null, hoursMean: estimate.hours.mean },
      { labourCost: labourCostMinor, benchHourPrice: benchHourPriceMinor },
    ),
    cost: { low, middle: estimate.cost.mean, high, shape: costShape },
    hoursMean: estimate.hours.mean,
    savings: savingsShown(result),
    care: result.care,
    dealInput,
    addable: desk.addable,
    jobTitles: Object.fromEntries(jobs.map(({ key, title }) => [key, title])),
    benchHourPriceMinor,
    openShare: bargaining.openShare,
    aimShare: bargaining.aimShare,
    kept,
  }
}

function dealShown(
  result: Result,
  { figures, spent }: { figures: { targetMarginMinor: number; maxChanceOfLoss: number }; spent: number },
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
    steps: price && marginSteps(dealInput, { price: price.amountMinor, costMean: estimate.cost.mean, spent }),
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
