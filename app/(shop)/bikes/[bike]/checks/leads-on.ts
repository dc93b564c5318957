import type { SeenCheck } from './as-seen-here'

/** Within and nothing to note: nobody has to look at it a second time. */
export function isPlainlyGood({ judgement }: SeenCheck): boolean {
  return judgement.verdict === 'within' && !judgement.noted
}
