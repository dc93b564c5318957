import type { FaultState } from '../checks/faults'
import { meanMarginAt } from '../deal/margin'
import { type JobLine, type LeftFault, type Proposal, proposeJobs } from '../work/propose-jobs'
import type { BikeToWorkOut } from './bike-result'
import { type Plan, planOf } from './terms'

/** A fault left as it is, and for one that may pay: what doing it would change. */
export type LeftWithGain = LeftFault & { doing: Doing | null }

export type Doing = {
  job: string
  title: string
  /** What the estimate grows by, on average: a shared operation is already paid for. Minor units, not rounded. */
  costMeanMinor: number
  hoursMean: number
  /**
   * Expected margin with the job less without it, after tax and the days it takes, at the bike's price or
   * else for nothing paid. Minor units, not rounded; null without a sale price.
   */
  gainMinor: number | null
  pays: boolean | null
}

/**
 * Beside each fault that is there and judged by money, what its job would change: the bike is worked out once
 * more with the job added, the same way as if a person had added it.
 */
export function withGains(
  bike: BikeToWorkOut,
  worked: { faults: readonly FaultState[]; proposal: Proposal; plan: Plan },
): LeftWithGain[] {
  // A job may be in already for another fault that nobody has ruled out, by a small chance: it can be done all the same.
  const offered = new Map(
    worked.proposal.jobs.filter(({ state }) => state !== 'dropped').map((line) => [line.key, line]),
  )
  return worked.proposal.left.map((fault) => {
    const line = fault.call === 'pays' && fault.job !== null ? offered.get(fault.job) : undefined
    return { ...fault, doing: line ? doing(bike, { ...worked, line }) : null }
  })
}

function doing(
  bike: BikeToWorkOut,
  { faults, plan, line }: { faults: readonly FaultState[]; plan: Plan; line: JobLine },
): Doing {
  const proposal = proposeJobs({
    catalogue: bike.catalogue,
    kind: bike.kind,
    faults,
    decisions: [...bike.decisions, { kind: 'add-job', id: 'what-if', key: line.key, reason: 'what if' }],
    care: bike.figures.care,
    finished: bike.work.finished,
  })
  const withIt = planOf(bike, proposal)
  const gainMinor = gain(bike, { withIt, without: plan })
  return {
    job: line.key,
    title: line.title,
    costMeanMinor: withIt.costMean - plan.costMean,
    hoursMean: withIt.hoursMean - plan.hoursMean,
    gainMinor,
    pays: gainMinor === null ? null : gainMinor > 0,
  }
}

function gain({ price }: BikeToWorkOut, { withIt, without }: { withIt: Plan; without: Plan }): number | null {
  const at = (plan: Plan) =>
    plan.dealInput &&
    meanMarginAt(plan.dealInput, { price: price?.amountMinor ?? 0, costMean: plan.costMean })
  const done = at(withIt)
  const left = at(without)
  return done === null || left === null ? null : done - left
}
