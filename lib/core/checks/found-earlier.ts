import type { Catalogue, LookCheck } from './catalogue'
import type { Evidence } from './evidence'
import { byTime, type Reading, standing } from './reading'
import { curesOf } from './work-done'

/** An answer that raised a fault and was not corrected or taken back since. */
export type FoundEarlier = { check: LookCheck; answer: string; reading: string; at: string }

/**
 * For each fault that only its job clears, the last answer that raised it: a look that is answered well later does
 * not make it go away, since what leaked once and is dry today has not been put right. A slip is corrected or taken
 * back, and then it never was. Faults that no work cures are left out.
 */
export function foundEarlier(
  { checks, faults }: Pick<Catalogue, 'checks' | 'faults'>,
  readings: readonly Reading[],
): Map<string, FoundEarlier> {
  const stays = new Set(
    faults.filter((fault) => fault.clearedBy === 'job' && curesOf(fault).length > 0).map(({ key }) => key),
  )
  const answers = standing(readings).filter(({ kind }) => kind === 'answer')
  const found = new Map<string, FoundEarlier>()
  for (const check of checks) {
    if (check.sort !== 'look') continue
    // What was answered in the wrong condition was never judged, so it raised nothing.
    const mine = answers
      .filter((reading) => reading.check === check.key)
      .filter(({ conditions }) => (check.conditions ?? []).every((needed) => conditions.includes(needed)))
      .sort(byTime)
    for (const raise of check.raises) {
      if (!('fault' in raise) || raise.when.on !== 'answer' || !stays.has(raise.fault)) continue
      const { answer } = raise.when
      const last = mine.filter(({ value }) => value === answer).at(-1)
      const label = check.answers.find(({ key }) => key === answer)?.label
      const before = found.get(raise.fault)
      if (!last || !label || (before && Date.parse(before.at) > Date.parse(last.takenAt))) continue
      found.set(raise.fault, { check, answer: label, reading: last.id, at: last.takenAt })
    }
  }
  return found
}

/** The words for why a fault is still there although its check is well answered now. */
export function earlierEvidence({ check, answer, reading, at }: FoundEarlier): Evidence {
  return {
    from: 'check',
    check: check.key,
    title: check.title,
    verdict: 'outside',
    says: `${answer} on ${at.slice(0, 10)}, and not put right since: only the work and its recheck clear it.`,
    readings: [reading],
    limitSources: [],
  }
}
