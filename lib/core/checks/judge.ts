import type { tyreDate } from '../codes/tyre-date'
import type { Unit } from '../quantity/units'
import type { Answer, Check, Condition } from './catalogue'
import type { LimitInForce } from './limits'

/** Ages of a tyre in years: the general guidance, and the shop's own sale line below it. */
export type TyreAges = { guidance: number; saleLine: number }

export const verdicts = [
  'within',
  'outside',
  'too-close',
  'not-judged',
  'not-checked',
  'does-not-apply',
] as const
export type VerdictWord = (typeof verdicts)[number]

export type TyreDateRead = ReturnType<typeof tyreDate>

/** One position of a measured check; `value` in the check's unit, null where it still lacks a reading. */
export type PositionValue = {
  position: string | null
  label: string
  value: number | null
  /** Readings averaged into `value`. */
  readings: readonly string[]
}

/** What was found, by the sort of check. */
export type Found =
  | {
      sort: 'measured'
      /** The judged value in `unit`. */
      value: number
      unit: Unit
      standardUncertainty: number
      /** Chance that the true value keeps the limit; null without a limit. */
      conformanceProbability: number | null
      /** Share of the usable wear that is left; null where it cannot be said. */
      wearLeft: number | null
      limit: LimitInForce | null
      positions: readonly PositionValue[]
      /** Labels of positions that still lack a reading. */
      missing: readonly string[]
      /** Key of the position that decided, null for a mean or a check without positions. */
      worstPosition: string | null
    }
  | { sort: 'look'; answer: Answer }
  | {
      sort: 'code'
      tyre: TyreDateRead
      /** The least the tyre's age can be, in years. */
      ageYears: number
    }
  | { sort: 'number'; value: number; unitWord: string }

export type NotJudgedWhy =
  /** Set by model and nobody has entered a limit, or nothing to judge a number by. */
  | 'no-limit'
  /** Not taken in the conditions the check asks for. */
  | 'wrong-condition'
  /** Inside so far, and positions are missing. */
  | 'too-few'
  /** The code or number as typed says nothing; `says` tells what is wrong with it. */
  | 'unreadable'

type JudgementBase = {
  /** Key of the check. */
  check: string
  title: string
  sort: Check['sort']
  safety: boolean
  /** Ids of the readings it rests on. */
  readings: readonly string[]
  /** One plain sentence, the same on page and paper. */
  says: string
}

/** The verdict on one check of one bike, with all that it rests on. */
export type Judgement =
  | (JudgementBase & {
      verdict: 'within'
      found: Found
      belowSaleLine: boolean | null
      noted: boolean
    })
  | (JudgementBase & {
      verdict: 'outside'
      found: Found
      belowSaleLine: boolean | null
    })
  | (JudgementBase & {
      verdict: 'too-close'
      found: Extract<Found, { sort: 'measured' }>
      conformanceProbability: number
      belowSaleLine: boolean | null
    })
  | (JudgementBase & {
      verdict: 'not-judged'
      why: NotJudgedWhy
      found: Found | null
      belowSaleLine: boolean | null
      /** Conditions that lack, for `wrong-condition`. */
      needs: readonly Condition[]
    })
  | (JudgementBase & { verdict: 'not-checked'; because: string | null })
  | (JudgementBase & { verdict: 'does-not-apply' })
