import type { BikeKind } from '../checks/bike-kind'
import { type Call, type Catalogue, calls } from '../checks/catalogue'
import type { Decision } from '../checks/decision.input'
import { deriveFaults, type FaultState } from '../checks/faults'
import { type Judgement, judgeAll } from '../checks/judge'
import type { EnteredLimit } from '../checks/limits'
import { type Clearing, locks, type RoundLock } from '../checks/locks'
import type { Reading } from '../checks/reading'
import { type Deal, type DealInput, type Prospect, prospectOf } from '../deal/deal'
import { type Shape, shapeOf } from '../quantity/shape'
import type { ThreePoint } from '../quantity/three-point'
import { type Estimate, type EstimateInput, estimate, workSpreads } from '../work/estimate'
import { type JobLine, proposeJobs } from '../work/propose-jobs'
import type { Figures } from './figures.input'
import { whatHoldsItUp } from './hold-up'
import { type LeftWithGain, withGains } from './left'
import { type SharedOperation, savingsOf } from './savings'
import { planOf } from './terms'

/** The price a bike is reckoned at: paid if bought, else offered, else asked. Minor units. */
export type PriceTaken = {
  amountMinor: number
  basis: 'paid' | 'offered' | 'asking'
}

export type BikeToWorkOut = {
  catalogue: Catalogue
  kind: BikeKind
  readings: readonly Reading[]
  /** Limits entered for this bike, its model or the shop. */
  limits: readonly EnteredLimit[]
  /** Without those withdrawn. */
  decisions: readonly Decision[]
  clearings: readonly Clearing[]
  figures: Figures
  /** Sale price with everything right, minor units. */
  sale: ThreePoint | null
  price: PriceTaken | null
  /** Day of the calculation, YYYY-MM-DD. */
  asOf: string
  /** Instant, ISO 8601 in UTC: decides which clearings still hold. */
  now: string
}

/** Everything that follows from what is known of one bike. */
export type BikeResult = {
  judgements: readonly Judgement[]
  faults: readonly FaultState[]
  locks: readonly RoundLock[]
  jobs: readonly JobLine[]
  estimateInput: EstimateInput
  estimate: Estimate
  savings: readonly SharedOperation[]
  left: readonly LeftWithGain[]
  dealInput: DealInput | null
  deal: Deal | null
  /** Outline of the distribution, for drawing; null where there is none or it is a single value. */
  costShape: Shape['points'] | null
  /** At `price`. */
  marginShape: Shape['points'] | null
  /** Checks that apply and have a verdict, or note something that nothing judges. */
  checksDone: number
  checksOpen: number
  /** Open checks of the guarded sort, in the order of the catalogue. */
  safetyOpen: readonly string[]
  /** Faults there, by call. */
  calls: Readonly<Record<Call, number>>
  whatHoldsItUp: string
  /** Until work starts, then its expected hours at the bench hours of a day. */
  daysToReady: number
  price: PriceTaken | null
}

/**
 * Everything that follows from what is known of one bike: readings to verdicts, verdicts to faults, faults to
 * jobs, jobs to an estimate, and with a sale price to a deal. Each line carries what it rests on.
 */
export function workOut(bike: BikeToWorkOut): BikeResult {
  const { catalogue, kind, decisions, figures, price } = bike
  const judgements = judgeAll({
    checks: catalogue.checks,
    readings: bike.readings,
    limits: bike.limits,
    kind,
    asOf: bike.asOf,
    ages: figures.tyreAges,
  })
  const faults = deriveFaults({ catalogue, kind, judgements, decisions })
  const proposal = proposeJobs({ catalogue, kind, faults, decisions, care: figures.care })
  const plan = planOf(bike, proposal)
  const estimated = estimate(plan.estimateInput)
  const { dealInput, daysToReady } = plan
  // One distribution of the cost serves the deal and both pictures: it is the dear part of the calculation.
  const prospect = dealInput && prospectOf(dealInput)
  const roundLocks = locks({ faults, clearings: bike.clearings, now: bike.now })
  const progress = progressOf(judgements)
  const there = faults.filter(({ state }) => state === 'found' || state === 'added')
  return {
    judgements,
    faults,
    locks: roundLocks,
    jobs: proposal.jobs,
    estimateInput: plan.estimateInput,
    estimate: estimated,
    savings: savingsOf({
      estimateInput: plan.estimateInput,
      estimate: estimated,
      jobs: proposal.jobs,
      catalogue,
    }),
    left: withGains(bike, { faults, proposal, plan }),
    dealInput,
    deal: prospect && dealAt(prospect, price),
    costShape: pointsOf(prospect?.costShape() ?? shapeOf(workSpreads(plan.estimateInput).cost())),
    marginShape: prospect && price ? pointsOf(prospect.marginShapeAt(price.amountMinor)) : null,
    ...progress,
    calls: Object.fromEntries(
      calls.map((call) => [call, there.filter((fault) => fault.call === call).length]),
    ) as Record<Call, number>,
    whatHoldsItUp: whatHoldsItUp({
      faults: there,
      judgements,
      safetyOpen: progress.safetyOpen,
      checksOpen: progress.checksOpen,
      jobs: proposal.jobs,
      hoursMean: estimated.hours.mean,
      hasSale: bike.sale !== null,
      hasPrice: price !== null,
    }),
    daysToReady,
    price,
  }
}

function dealAt(prospect: Prospect, price: PriceTaken | null): Deal {
  const walkAway = prospect.walkAway()
  return {
    walkAway,
    atAsking: price && prospect.at(price.amountMinor),
    atWalkAway: walkAway === null ? null : prospect.at(walkAway),
  }
}

function progressOf(judgements: readonly Judgement[]) {
  const applying = judgements.filter(({ verdict }) => verdict !== 'does-not-apply')
  const open = applying.filter(isOpen)
  return {
    checksDone: applying.length - open.length,
    checksOpen: open.length,
    safetyOpen: open.filter(({ safety }) => safety).map(({ check }) => check),
  }
}

/** A number that nothing judges is done once it is noted; a measured value without its limit is not. */
function isOpen(judgement: Judgement): boolean {
  if (judgement.verdict === 'not-checked') return true
  if (judgement.verdict !== 'not-judged') return false
  return !(judgement.sort === 'number' && judgement.why === 'no-limit')
}

function pointsOf({ points }: Shape): Shape['points'] | null {
  return points.length > 0 ? points : null
}
