import type { Check } from '../core/checks/catalogue'
import type { Lacking } from '../core/checks/gates'
import type { Judgement } from '../core/checks/judge'

/** Why a check does not open its round, in the words of the bench. */
export function gateSays(asked: {
  lacks: Lacking
  check: Pick<Check, 'gate'>
  judgement: Judgement | undefined
  /** Instants, ISO 8601 in UTC. */
  takenAt: string | null
  now: string
}): string {
  const { lacks, check, judgement, takenAt, now } = asked
  const found = judgement?.says ?? ''
  switch (lacks) {
    case 'not-checked':
      return judgement?.verdict === 'not-checked' ? found : 'Not checked.'
    case 'not-good':
      return judgement?.verdict === 'too-close' ? found : `Not good: ${found}`
    case 'not-judged':
      return found
    case 'worked-on':
      return 'Read before the work on it.'
    case 'too-old':
      return takenAt === null || !check.gate
        ? 'Too long ago.'
        : `${agoWords(Date.parse(now) - Date.parse(takenAt))} ago; counts ${countsWords(check.gate.hours)}.`
  }
}

function agoWords(milliseconds: number): string {
  const hours = Math.floor(milliseconds / 3_600_000)
  return hours < 48 ? `${hours} hours` : `${Math.floor(hours / 24)} days`
}

function countsWords(hours: number): string {
  if (hours === 24) return 'one day'
  return hours % 24 === 0 ? `${hours / 24} days` : `${hours} hours`
}
