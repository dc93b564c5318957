import { daysBetween } from '../quantity/days'
import type { Check } from './catalogue'
import type { Judgement } from './judge'
import { byTime, type Reading, standing } from './reading'

/**
 * How many days old the answer of a check is where that is more than it stays good for, else null. A stale
 * answer still stands in every verdict, fault and price; it is only asked for again.
 */
export function staleDays(asked: {
  check: Pick<Check, 'key' | 'staleAfterDays'>
  judgement: Judgement
  readings: readonly Reading[]
  /** Day, YYYY-MM-DD. */
  asOf: string
}): number | null {
  const { check, judgement, readings, asOf } = asked
  if (check.staleAfterDays === undefined || judgement.verdict === 'not-checked') return null
  const last = standing(readings.filter((reading) => reading.check === check.key))
    .sort(byTime)
    .at(-1)
  if (!last) return null
  const days = daysBetween(last.takenAt.slice(0, 10), asOf)
  return days > check.staleAfterDays ? days : null
}
