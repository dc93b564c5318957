import type { Check, Raise, Source, When } from './catalogue'
import type { Judgement, VerdictWord } from './judge'

/** Why something is said: opens to the check, its readings and the limit's source, or to a person's word. */
export type Evidence =
  | {
      from: 'check'
      check: string
      title: string
      verdict: VerdictWord
      says: string
      readings: readonly string[]
      limitSources: readonly Source[]
    }
  | { from: 'decision'; decision: string; says: string }

/** What one judgement has to say about one raise of its check. */
export type Ask =
  /** The raise fires. */
  | { is: 'fires'; onSaleLine: boolean }
  /** Too close to call: the chance that the bound is broken. */
  | { is: 'doubtful'; chance: number }
  /** Answered, and the raise does not fire. */
  | { is: 'clean' }
  /** No verdict yet. */
  | { is: 'open' }

/** Reads a raise against the judgement of its check. */
export function askOf(check: Check, judgement: Judgement, raise: Raise): Ask {
  const { when } = raise
  const onSaleLine = speaksOfSaleLine(when)
  if (fires(check, judgement, when)) return { is: 'fires', onSaleLine }
  if (judgement.verdict === 'too-close' && !onSaleLine) {
    const otherSide = oneSided(when) && nearerSide(judgement) !== when.on
    if (otherSide) return { is: 'clean' }
    return { is: 'doubtful', chance: 1 - judgement.conformanceProbability }
  }
  return answered(judgement, onSaleLine) ? { is: 'clean' } : { is: 'open' }
}

export function evidenceOf(judgement: Judgement): Evidence {
  return {
    from: 'check',
    check: judgement.check,
    title: judgement.title,
    verdict: judgement.verdict,
    says: judgement.says,
    readings: judgement.readings,
    limitSources: limitSourcesOf(judgement),
  }
}

/**
 * A sale line is there for what the limit still allows: past the limit the raise on the limit speaks, where
 * the check has one, so that one worn part is one fault.
 */
function fires(check: Check, judgement: Judgement, when: When): boolean {
  const found = 'found' in judgement ? judgement.found : null
  switch (when.on) {
    case 'outside':
      return judgement.verdict === 'outside'
    case 'above-limit':
    case 'below-limit':
      return judgement.verdict === 'outside' && nearerSide(judgement) === when.on
    case 'answer':
      return found?.sort === 'look' && found.answer.key === when.answer
    case 'over':
      return found?.sort === 'number' && found.value > when.than
    case 'under':
      return found?.sort === 'number' && found.value < when.than
    case 'below-sale-line':
      return belowSaleLineOnly(check, judgement)
    case 'older-than':
      return when.years === 'guidance' ? judgement.verdict === 'outside' : belowSaleLineOnly(check, judgement)
  }
}

function oneSided(when: When): boolean {
  return when.on === 'above-limit' || when.on === 'below-limit'
}

/** The bound that a measured value is past, or closest to. */
function nearerSide(judgement: Judgement): 'above-limit' | 'below-limit' | null {
  const found = 'found' in judgement ? judgement.found : null
  if (found?.sort !== 'measured' || !found.limit) return null
  const { min, max } = found.limit
  const over = max ? found.value - max.value : Number.NEGATIVE_INFINITY
  const under = min ? min.value - found.value : Number.NEGATIVE_INFINITY
  return over > under ? 'above-limit' : 'below-limit'
}

function belowSaleLineOnly(check: Check, judgement: Judgement): boolean {
  if (!('belowSaleLine' in judgement) || !judgement.belowSaleLine) return false
  const limitSpeaks = check.raises.some(
    ({ when }) =>
      when.on === 'outside' || oneSided(when) || (when.on === 'older-than' && when.years === 'guidance'),
  )
  return judgement.verdict !== 'outside' || !limitSpeaks
}

function speaksOfSaleLine(when: When): boolean {
  return when.on === 'below-sale-line' || (when.on === 'older-than' && when.years === 'sale-line')
}

function answered(judgement: Judgement, onSaleLine: boolean): boolean {
  if (judgement.verdict === 'within' || judgement.verdict === 'outside') return true
  if (!onSaleLine || !('belowSaleLine' in judgement)) return false
  // The sale line needs no limit: all positions read and none below it answers it.
  const complete = judgement.found?.sort === 'measured' && judgement.found.missing.length === 0
  return judgement.belowSaleLine === false && complete
}

function limitSourcesOf(judgement: Judgement): Source[] {
  if (!('found' in judgement) || judgement.found?.sort !== 'measured') return []
  const { limit } = judgement.found
  const bounds = [
    limit?.min,
    limit?.max,
    ...(judgement.belowSaleLine ? [limit?.saleMin, limit?.saleMax] : []),
  ]
  return bounds.flatMap((bound) => (bound ? [bound.source] : []))
}
