import { costOf, readyTimes } from './cost'
import type { Model } from './model'
import { earliestOf } from './windows'

/** No plan can cost less: what each bike costs if it never had to wait for a resource. */
export function lowerBound(model: Model): number {
  return costOf(model, readyTimes(model, earliestOf(model).finish))
}
