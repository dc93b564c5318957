import { workOut } from '../core/board/bike-result'
import { type DealDesk, dealDeskOf } from '../core/board/deal-desk'
import type { Figures } from '../core/board/figures.input'
import { leftAfterKeep } from '../core/board/left-after-keep'
import { restingOnStartingValues } from '../core/board/starting-figures'
import { swings } from '../core/deal/sensitivity'
import { marginSteps } from '../core/deal/steps'
import { seenOnly } from '../core/work/seen-only'
import { headOf } from './bike-head'
import type { BikeWithFacts, LimitRow, ShopFacts } from './facts'
import { bestNoted, type NotedRow, saleTold } from './noted-prices'
import type { OtherWaysShown } from './other-ways-of'
import type { DealShown, Desk, OutcomeShown } from './read-deal'
import { savingsShown } from './savings-shown'
import { toWorkOut } from './to-work-out'
import type { KeptWhatIf } from './what-ifs'

/** What a deal is made of beside the bike. */
type Told = {
  shop: ShopFacts
  ownLimits: readonly LimitRow[]
  /** Prices noted that count for this bike. */
  noted: readonly NotedRow[]
  otherWays: OtherWaysShown
  kept: readonly KeptWhatIf[]
  now: Date
}

/** One bike's deal out of what is stored of it; it asks the store nothing. */
export function dealOf(bike: BikeWithFacts, told: Told): DealShown {
  const { shop, ownLimits, noted, otherWays, kept, now } = told
  const input = toWorkOut(bike, { shop, ownLimits, noted, now })
  const result = workOut(input)
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
