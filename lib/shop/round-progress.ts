import type { Judgement } from '../core/checks/judge'

/** How far the checks of a round, or of a bike, have come; checks that do not apply are not counted. */
export type Progress = {
  applicable: number
  /** Read at every position, with a verdict or without one. */
  done: number
  /** Not checked, and somebody said why. */
  skipped: number
  /** Nobody has looked yet, or positions are missing. */
  open: number
}

export function progressOf(judgements: readonly Judgement[]): Progress {
  const applicable = judgements.filter(({ verdict }) => verdict !== 'does-not-apply')
  const open = applicable.filter(isOpen).length
  const skipped = applicable.filter(isSkipped).length
  return { applicable: applicable.length, done: applicable.length - open - skipped, skipped, open }
}

/** A check that still waits for somebody to look. */
export function isOpen(judgement: Judgement): boolean {
  if (judgement.verdict === 'not-checked') return !isSkipped(judgement)
  return judgement.verdict === 'not-judged' && lacksPositions(judgement)
}

export function isSkipped(judgement: Judgement): boolean {
  return judgement.verdict === 'not-checked' && judgement.readings.length > 0
}

function lacksPositions(judgement: Extract<Judgement, { verdict: 'not-judged' }>): boolean {
  const { found } = judgement
  return found?.sort === 'measured' && found.missing.length > 0
}
