import { boundOfReady } from './bound-ready'
import { costOf, readyTimes } from './cost'
import type { Model } from './model'
import { earliestOf } from './windows'

/** No plan can cost less. */
export function lowerBound(model: Model): number {
  if (model.objective === 'makespan') return costOf(model, readyTimes(model, earliestOf(model).finish))
  return roundedUp(model, boundOfReady(model, { rounds: 100, enough: Number.POSITIVE_INFINITY }))
}

/** Times are whole, so with whole weights costs are; what lies a hair above a whole number may be that number. */
function roundedUp({ bikes }: Model, bound: number): number {
  const slack = 1e-9 * Math.max(1, Math.abs(bound))
  const isWhole = bikes.weight.every(Number.isInteger) && bikes.late.every(Number.isInteger)
  return Math.max(0, isWhole ? Math.ceil(bound - slack) : bound - slack)
}
