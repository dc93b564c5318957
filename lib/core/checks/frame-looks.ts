import type { Check } from './catalogue'
import { byTime, type Reading, standing } from './reading'

/** The check of the rounds that looks at the frame number, and the answer of it that is final. */
export const frameCheck = { key: 'frame-number-same', final: 'altered' } as const

/** A reading of that check, with who took it. */
export type FrameReading = Reading & { person: string }

/** What the rounds say of the frame number. */
export type FrameLook = {
  /** Somebody answered that it is altered, at this instant, and it was no slip of the finger; null where nobody did. */
  alteredAt: string | null
  /** The latest answer that stands, where it is a bad one; null where it is not. */
  bad: { label: string; at: string } | null
}

/**
 * Only who gave an answer sets a slip of the finger right, and only within so many minutes. Whoever thinks
 * otherwise later, or was told otherwise, has not made a slip. Common practice, no published source.
 */
export const slipMinutes = 10

/**
 * What the rounds say of the frame number, whatever the identity record says. That it is altered stays said: no
 * later answer and no correction takes it back, but for a slip set right at once by who made it. Every other
 * answer gives way to the latest that stands.
 * @param check null where the shop has taken it out of use: what was answered before counts all the same
 */
export function frameLook(asked: { readings: readonly FrameReading[]; check: Check | null }): FrameLook {
  const { check } = asked
  const readings = asked.readings.filter((reading) => reading.check === frameCheck.key)
  const altered = readings
    .filter(({ kind, value }) => kind === 'answer' && value === frameCheck.final)
    .filter((reading) => !readings.some((later) => isSlipSetRight(reading, later)))
    .sort(byTime)
  const last = standing(readings)
    .filter(({ kind }) => kind === 'answer')
    .sort(byTime)
    .at(-1)
  const said = check?.sort === 'look' && last && check.answers.find(({ key }) => key === last.value)
  return {
    alteredAt: altered.at(-1)?.takenAt ?? null,
    bad: said && last && said.tone === 'bad' ? { label: said.label, at: last.takenAt } : null,
  }
}

function isSlipSetRight(earlier: FrameReading, later: FrameReading): boolean {
  const minutes = (Date.parse(later.takenAt) - Date.parse(earlier.takenAt)) / 60_000
  const corrects = later.supersedes === earlier.id && later.id !== earlier.id
  return corrects && later.person === earlier.person && minutes <= slipMinutes
}
