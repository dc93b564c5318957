import { rankedUrgency } from './bike-rules'
import { boundOfMakespan } from './bound-makespan'
import { boundOfReady } from './bound-ready'
import type { Model } from './model'

/** No plan can cost less than `bound`; with hints at a good order as more urgent first. */
export function lowerBound(model: Model): { bound: number; hints: Float64Array[] } {
  if (model.objective === 'makespan') return { bound: boundOfMakespan(model), hints: [] }
  const { bound, bikes, tasks } = boundOfReady(model, 50)
  const hints = [
    rankedUrgency(
      model,
      bikes.map((end) => -end),
    ),
    tasks.map((end) => -end),
  ]
  return { bound: roundedUp(model, bound), hints }
}

/** By how much sums of costs that are not whole may be off by their rounding: what is nearer than that is met. */
export function slackOf(bound: number): number {
  return 3e-9 * Math.max(1, Math.abs(bound))
}

/** Times are whole, so with whole weights costs are; what lies a hair above a whole number may be that number. */
function roundedUp({ bikes }: Model, bound: number): number {
  const slack = 1e-9 * Math.max(1, Math.abs(bound))
  const isWhole = bikes.weight.every(Number.isInteger) && bikes.late.every(Number.isInteger)
  return Math.max(0, isWhole ? Math.ceil(bound - slack) : bound - slack)
}
