import type { DecisionKind } from '../../../../../lib/core/checks/decision.input'
import { lowOf, type Uncertain } from '../../../../../lib/core/quantity/three-point'
import { formatEstimate, formatMoney } from '../../../../_ui/formats'

/** What each kind of decision did, before the name of who made it. */
export const decisionWords: Record<DecisionKind, string> = {
  'add-fault': 'Added',
  'drop-fault': 'Dropped',
  'change-call': 'Call changed',
  'choose-job': 'Job chosen',
  'add-job': 'Added',
  'drop-job': 'Dropped',
  'change-job': 'Changed on this bike',
}

/** A range, or one figure where it is certain: "0.3 to 1.2 h". */
export function rangeOf(value: Uncertain, write: (value: number) => string): string {
  if (typeof value === 'number' || value.low === value.high) return write(lowOf(value))
  return `${write(value.low)} to ${write(value.high)}`
}

/** Money that rests on estimates. What is small but not nothing is never written as nothing. */
export function estimateWords(minor: number, currency: string): string {
  const smallest = 1000
  if (minor > 0 && minor < smallest / 2) return `under ${formatMoney(smallest, currency)}`
  return formatEstimate(minor, currency)
}

/** What doing a job brings or costs in the end, after tax. */
export function gainWords(gainMinor: number, currency: string): string {
  const least = 500
  if (Math.abs(gainMinor) < least) return 'about nothing either way'
  const sign = gainMinor > 0 ? '+' : ''
  return `${sign}${formatEstimate(gainMinor, currency)} after tax`
}

/** Around a fold whose line says nothing of its own: on paper it is there only where it was opened. */
export const shutIsNotPrinted = 'print:not-has-[details[open]]:hidden'
