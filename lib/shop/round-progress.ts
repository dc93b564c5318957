import { type Check, shortPlaces } from '../core/checks/catalogue'
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

/** Places that nobody has read yet, although others are: one more reading is welcome whatever the verdict. */
export function lacksPositions(judgement: Judgement): boolean {
  const found = 'found' in judgement ? judgement.found : null
  return found?.sort === 'measured' && found.missing.length > 0
}

type ShortRow = {
  check: Pick<Check, 'short' | 'minutes'>
  judgement: Judgement
  staleDays: number | null
}

export type ShortRound<R> = {
  /** All of its checks that apply, in the order one walks round the bike. */
  rows: readonly R[]
  /** Those that are asked for: never answered, or so long ago that they are asked again. */
  asked: readonly R[]
  /** Of those that are asked, in whole minutes. */
  minutesLeft: number
  /** Of all of them, in whole minutes. */
  minutes: number
}

/** The dealer's short round out of the rows of a sheet: the same checks and the same readings. */
export function shortRound<R extends ShortRow>(all: readonly R[]): ShortRound<R> {
  const rows = shortPlaces.flatMap((place) => all.filter(({ check }) => check.short === place))
  const asked = rows.filter(isAsked)
  return { rows, asked, minutesLeft: minutesOf(asked), minutes: minutesOf(rows) }
}

/** Waits for somebody to look, or was answered so long ago that it is asked again. */
export function isAsked({ judgement, staleDays }: Pick<ShortRow, 'judgement' | 'staleDays'>): boolean {
  return isOpen(judgement) || staleDays !== null
}

function minutesOf(rows: readonly ShortRow[]): number {
  return Math.ceil(rows.reduce((sum, { check }) => sum + check.minutes, 0))
}
