import { type CareTold, careOf } from '../checks/care-signs'
import { type Call, calls } from '../checks/catalogue'
import type { FaultState } from '../checks/faults'
import { hiddenTermsOf } from '../checks/hidden'
import type { Judgement } from '../checks/judge'
import { type BikeToJudge, judgeBike } from '../checks/judge-bike'
import type { RoundLock } from '../checks/locks'
import { type Deal, type DealInput, type Prospect, prospectOf } from '../deal/deal'
import { type Shape, shapeOf } from '../quantity/shape'
import type { ThreePoint } from '../quantity/three-point'
import { type Estimate, type EstimateInput, estimate, estimateMeans, workSpreads } from '../work/estimate'
import type { AskedOutside } from '../work/parts'
import { type JobLine, type LeftFault, proposeJobs } from '../work/propose-jobs'
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

export type BikeToWorkOut = Omit<BikeToJudge, 'ages' | 'hidden'> & {
  figures: Figures
  /** Sale price with everything right, minor units. */
  sale: ThreePoint | null
  price: PriceTaken | null
  /** Days until it is ready by the bench plan; left out where it is in none. */
  plannedDays?: ThreePoint
  /**
   * Gone into it already and in no estimate any more: parts, outside work, hours of work that is ended. Whole minor
   * units. It is in the margin, and in nothing that is still to be gained.
   */
  spentMinor?: number
  /** What suppliers and others outside ask for parts and work, or were paid already. */
  told?: AskedOutside
}

/** Everything that follows from what is known of one bike. */
export type BikeResult = {
  judgements: readonly Judgement[]
  faults: readonly FaultState[]
  locks: readonly RoundLock[]
  /** How the bike was cared for, by its tell-tales: the estimate rests on `care.after`. */
  care: CareTold
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
  /** By the bench plan; where it is in none, until work starts and then its expected hours at those of a day. */
  daysToReady: number
  price: PriceTaken | null
}

/** What a line of the board is made from: all of a bike's result that it shows, and no more. */
export type BoardResult = Pick<
  BikeResult,
  'deal' | 'calls' | 'checksOpen' | 'whatHoldsItUp' | 'price' | 'daysToReady'
> & {
  estimate: { hours: { mean: number }; cost: { mean: number } }
  left: readonly Pick<LeftFault, 'call' | 'state'>[]
  dealInput: Pick<DealInput, 'daysToSell'> | null
}

/**
 * Everything that follows from what is known of one bike: readings to verdicts, verdicts to faults, faults to
 * jobs, jobs to an estimate, and with a sale price to a deal. Each line carries what it rests on.
 */
export function workOut(bike: BikeToWorkOut): BikeResult {
  const { judged, care, weighed, proposal, plan, prospect, progress } = prepared(bike)
  const { catalogue, price } = bike
  const { estimateInput, dealInput, daysToReady } = plan
  const estimated = estimate(estimateInput)
  return {
    ...judged,
    care,
    jobs: proposal.jobs,
    estimateInput,
    estimate: estimated,
    savings: savingsOf({ estimateInput, estimate: estimated, jobs: proposal.jobs, catalogue }),
    left: withGains(weighed, { faults: judged.faults, proposal, plan }),
    dealInput,
    deal: prospect && dealAt(prospect, price),
    costShape: pointsOf(prospect?.costShape() ?? shapeOf(workSpreads(estimateInput).cost())),
    marginShape: prospect && price ? pointsOf(prospect.marginShapeAt(price.amountMinor)) : null,
    ...progress,
    ...standingOf(bike, { judged, proposal, progress, hoursMean: estimated.hours.mean }),
    daysToReady,
    price,
  }
}

/** The same for a line of the board, without the spread of the hours, the pictures and the gains of what is left. */
export function workOutForBoard(bike: BikeToWorkOut): BoardResult {
  const { judged, proposal, plan, prospect, progress } = prepared(bike)
  const { hours, cost } = estimateMeans(plan.estimateInput)
  return {
    estimate: { hours, cost },
    left: proposal.left,
    dealInput: plan.dealInput,
    deal: prospect && dealAt(prospect, bike.price),
    daysToReady: plan.daysToReady,
    checksOpen: progress.checksOpen,
    ...standingOf(bike, { judged, proposal, progress, hoursMean: hours.mean }),
    price: bike.price,
  }
}

/** The work that a bike asks for, priced, without its spread: next to no time to work out. */
export function proposedWork(bike: BikeToWorkOut) {
  const { catalogue, kind, decisions, figures, work } = bike
  const judged = judgeBike({ ...bike, ages: figures.tyreAges, hidden: hiddenTermsOf(figures) })
  const { faults } = judged
  const { finished } = work
  const care = careOf({ catalogue, kind, readings: bike.readings, finished, care: figures.care })
  // From here on the bike's own chances of the care states take the place of the shop's.
  const weighed = { ...bike, figures: { ...figures, care: care.after } }
  const proposal = proposeJobs({ catalogue, kind, faults, decisions, care: care.after, finished })
  const plan = planOf(weighed, proposal)
  return { judged, care, weighed, proposal, plan, progress: progressOf(judged.judgements) }
}

function prepared(bike: BikeToWorkOut) {
  const work = proposedWork(bike)
  const { dealInput } = work.plan
  // One distribution of the cost serves the deal and both pictures: it is the dear part of the calculation.
  return { ...work, prospect: dealInput && prospectOf(dealInput) }
}

function standingOf(
  bike: BikeToWorkOut,
  of: Pick<ReturnType<typeof prepared>, 'judged' | 'proposal' | 'progress'> & { hoursMean: number },
) {
  const { judged, proposal, progress, hoursMean } = of
  const there = judged.faults.filter(({ state }) => state === 'found' || state === 'added')
  return {
    calls: Object.fromEntries(
      calls.map((call) => [call, there.filter((fault) => fault.call === call).length]),
    ) as Record<Call, number>,
    whatHoldsItUp: whatHoldsItUp({
      faults: there,
      judgements: judged.judgements,
      safetyOpen: progress.safetyOpen,
      checksOpen: progress.checksOpen,
      jobs: proposal.jobs,
      hoursMean,
      hasSale: bike.sale !== null,
      hasPrice: bike.price !== null,
    }),
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
  const open = applying.filter(lacksVerdict)
  return {
    checksDone: applying.length - open.length,
    checksOpen: open.length,
    safetyOpen: open.filter(({ safety }) => safety).map(({ check }) => check),
  }
}

/** A number that nothing judges is done once it is noted; a measured value without its limit is not. */
export function lacksVerdict(judgement: Judgement): boolean {
  if (judgement.verdict === 'not-checked') return true
  if (judgement.verdict !== 'not-judged') return false
  return !(judgement.sort === 'number' && judgement.why === 'no-limit')
}

function pointsOf({ points }: Shape): Shape['points'] | null {
  return points.length > 0 ? points : null
}
