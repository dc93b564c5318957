import type { Shape } from '../quantity/shape'
import type { ThreePoint } from '../quantity/three-point'
import { type EstimateInput, estimateMeans } from '../work/estimate'
import { hoursValue } from './bench-hour'
import { prospectOf } from './deal'
import type { DealInput } from './deal.input'

/** A job that nobody must do, ready to be taken in: what it adds to the estimate, and what leaving it costs. */
export type AddableJob = {
  job: EstimateInput['jobs'][number]
  /** Its operations with all that they need. */
  operations: EstimateInput['operations']
  saleOffMinor: number
  slowerDays: number
}

/** What is tried out; what is left out stays as it is. Minor units. */
export type WhatIf = {
  asking?: number
  sale?: ThreePoint
  labourCost?: number
  benchHourPrice?: number
  targetMargin?: number
  maxChanceOfLoss?: number
  /** Keys of jobs left out, and of those taken in. */
  out?: readonly string[]
  in?: readonly string[]
}

export type WhatIfAnswer = {
  walkAway: number | null
  /** At the asking price; null without one. */
  margin: { mean: number; low: number; high: number; chanceOfLoss: number; shape: Shape } | null
  costMean: number
  hoursMean: number
  /** The mean margin with its hours at the bench hour's price in place of the labour cost. */
  leftAfterKeep: number | null
}

/** The deal worked out once more with some of its figures and jobs changed. Nothing is stored. */
export function whatIf(
  input: DealInput,
  { changes, addable }: { changes: WhatIf; addable: readonly AddableJob[] },
): WhatIfAnswer {
  const changed = changedInput(input, { changes, addable })
  const prospect = prospectOf(changed)
  const { cost, hours } = estimateMeans(changed.estimate)
  const outcome = changed.asking === undefined ? null : prospect.at(changed.asking)
  const labourCost = changed.estimate.labourRate
  return {
    walkAway: prospect.walkAway(),
    margin: outcome && {
      mean: outcome.expectedMargin,
      low: outcome.margin.quantiles['0.1']!,
      high: outcome.margin.quantiles['0.9']!,
      chanceOfLoss: outcome.chanceOfLoss,
      shape: prospect.marginShapeAt(changed.asking!),
    },
    costMean: cost.mean,
    hoursMean: hours.mean,
    leftAfterKeep:
      outcome &&
      outcome.expectedMargin +
        hours.mean * labourCost -
        hoursValue({ hours: hours.mean, labourCost, benchHourPrice: changes.benchHourPrice ?? null }),
  }
}

/** The input of `calc deal` that a what-if stands for. */
export function changedInput(
  input: DealInput,
  { changes, addable }: { changes: WhatIf; addable: readonly AddableJob[] },
): DealInput {
  const takenIn = addable.filter(({ job }) => changes.in?.includes(job.key))
  const out = new Set(changes.out ?? [])
  const { estimate, rule } = input
  const off = takenIn.reduce((sum, { saleOffMinor }) => sum + saleOffMinor, 0)
  const sooner = takenIn.reduce((sum, { slowerDays }) => sum + slowerDays, 0)
  return {
    ...input,
    ...(changes.asking !== undefined && { asking: changes.asking }),
    sale: changes.sale ?? input.sale,
    saleOff: Math.max(0, input.saleOff - off),
    daysToSell: earlierBy(input.daysToSell, sooner),
    estimate: {
      ...estimate,
      labourRate: changes.labourCost ?? estimate.labourRate,
      operations: Object.assign({}, estimate.operations, ...takenIn.map(({ operations }) => operations)),
      jobs: [...estimate.jobs.filter(({ key }) => !out.has(key)), ...takenIn.map(({ job }) => job)],
      // A group that loses a job keeps the chances of the others.
      oneOf: estimate.oneOf.flatMap((group) => withoutJobs(group, out)),
    },
    rule: {
      ...rule,
      targetMargin: changes.targetMargin ?? rule.targetMargin,
      ...(rule.kind === 'average' &&
        changes.maxChanceOfLoss !== undefined && { maxChanceOfLoss: changes.maxChanceOfLoss }),
    },
  }
}

function withoutJobs(
  group: EstimateInput['oneOf'][number],
  out: ReadonlySet<string>,
): EstimateInput['oneOf'] {
  const left = Object.entries(group.jobs).filter(([job]) => !out.has(job))
  const share = left.reduce((sum, [, one]) => sum + one, 0)
  if (left.length === Object.keys(group.jobs).length) return [group]
  if (share <= 0) return []
  const times = (chance: number) => chance * share
  return [
    {
      ...group,
      chance:
        typeof group.chance === 'number'
          ? times(group.chance)
          : Object.fromEntries(Object.entries(group.chance).map(([state, chance]) => [state, times(chance)])),
      jobs: Object.fromEntries(left.map(([job, one]) => [job, one / share])),
    },
  ]
}

function earlierBy(days: DealInput['daysToSell'], sooner: number): DealInput['daysToSell'] {
  const less = (value: number) => Math.max(0, value - sooner)
  if (typeof days === 'number') return less(days)
  return { low: less(days.low), likely: less(days.likely), high: less(days.high) }
}
