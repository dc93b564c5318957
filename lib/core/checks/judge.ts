import { type TyreDate, tyreDate } from '../codes/tyre-date'
import { type TyreSize, tyreSize } from '../codes/tyre-size'
import { daysBetween } from '../quantity/days'
import { CalcProblem } from '../quantity/problem'
import type { Unit } from '../quantity/units'
import { type BikeKind, fitsKind } from './bike-kind'
import type { Answer, Check, CodeCheck, Condition, LookCheck, NumberCheck } from './catalogue'
import { judgeMeasured } from './judge-measured'
import type { EnteredLimit, LimitInForce } from './limits'
import {
  byTime,
  type DoneOn,
  parseDoneOn,
  parseTyped,
  type Reading,
  type ReadingKind,
  standing,
} from './reading'
import { conditionWords, doneOnSays, lookSays, numberSays, tyreSays, tyreSizeSays } from './says'

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
      tyre: TyreDate
      /** The least the tyre's age can be, in years. */
      ageYears: number
    }
  | { sort: 'number'; value: number; unitWord: string }
  | { sort: 'tyre-size'; tyre: TyreSize }
  | {
      sort: 'done-on'
      done: DoneOn
      /** The most it can be, in years to one decimal; null where nobody knows. */
      ageYears: number | null
    }

export type NotJudgedWhy =
  /** Set by model and nobody has entered a limit, or nothing to judge a number by. */
  | 'no-limit'
  /** Not taken in the conditions the check asks for. */
  | 'wrong-condition'
  /** Counts only with the engine speed, which nobody noted. */
  | 'no-engine-speed'
  /** Inside so far, and positions are missing. */
  | 'too-few'
  /** The code or number as typed says nothing; `says` tells what is wrong with it. */
  | 'unreadable'

/** An instrument that was used after its calibration had run out, and since when. */
export type OverdueInstrument = { name: string; due: string }

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
  /** Instruments that were overdue for calibration when one of those readings was taken. */
  overdue?: readonly OverdueInstrument[]
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

export type ToJudge = {
  check: Check
  /** Those of the bike; only the ones of this check are looked at. */
  readings: readonly Reading[]
  limits: readonly EnteredLimit[]
  kind: BikeKind
  /** For each check the instant of the last finished work on what it looks at. */
  worked?: ReadonlyMap<string, string>
  /** Day of the judgement, YYYY-MM-DD: a tyre ages. */
  asOf: string
  ages: TyreAges
}

/**
 * The verdict on one check of one bike. Superseded readings do not count. Of answers, codes and numbers the
 * latest counts; measured values taken again at one position are averaged. Where the latest reading is a
 * skip the check is not checked, with the reason that was given. The order of the readings does not matter.
 */
export function judge(asked: ToJudge): Judgement {
  const { check, kind } = asked
  const base = baseOf(check)
  if (!fitsKind(kind, check.appliesTo)) {
    return { ...base, verdict: 'does-not-apply', says: 'Does not apply to this kind of bike.' }
  }
  const mine = standing(asked.readings.filter((reading) => reading.check === check.key)).sort(byTime)
  const readable = withoutSkipped(mine).filter((reading) => reading.kind === readingKindOf[check.sort])
  const taken = sinceWork(readable, asked.worked?.get(check.key))
  if (taken.length === 0) return notChecked(base, mine)
  if (check.sort === 'measured') {
    return withOverdue(judgeMeasured({ check, taken, limits: asked.limits, base }), taken)
  }
  const latest = taken.at(-1)!
  const judged = judgeLatest(check, latest, base, asked)
  const needs = (check.conditions ?? []).filter((one) => !latest.conditions.includes(one))
  if (needs.length === 0 || !('found' in judged)) return judged
  const says = `${judged.says} Kept and not judged: it has to be done ${needs.map((c) => conditionWords[c]).join(' and ')}.`
  const { found, readings } = judged
  return {
    ...base,
    readings,
    found,
    verdict: 'not-judged',
    why: 'wrong-condition',
    belowSaleLine: null,
    needs,
    says,
  }
}

function judgeLatest(
  check: Exclude<Check, { sort: 'measured' }>,
  latest: Reading,
  base: Base,
  asked: ToJudge,
): Judgement {
  switch (check.sort) {
    case 'look':
      return judgeLook(check, latest, base)
    case 'code':
      return judgeCode(check, latest, base, asked)
    case 'number':
      return judgeNumber(check, latest, base)
  }
}

/**
 * Once a position was read after the work, what was read there before it is of a part that is no longer there.
 * A position that was not read again keeps what it had, so that half a recheck closes nothing.
 */
function sinceWork(taken: readonly Reading[], workedAt: string | undefined): readonly Reading[] {
  if (workedAt === undefined) return taken
  const isNew = ({ takenAt }: Reading) => Date.parse(takenAt) > Date.parse(workedAt)
  const readAgain = new Set(taken.filter(isNew).map(({ position }) => position))
  return taken.filter((reading) => isNew(reading) || !readAgain.has(reading.position))
}

function withOverdue(judgement: Judgement, taken: readonly Reading[]): Judgement {
  const used = taken.filter(({ id }) => judgement.readings.includes(id))
  const overdue = new Map<string, OverdueInstrument>()
  for (const { instrument, takenAt } of used) {
    const due = instrument?.calibrationDue
    if (instrument && due && takenAt.slice(0, 10) > due)
      overdue.set(instrument.name, { name: instrument.name, due })
  }
  return overdue.size === 0 ? judgement : { ...judgement, overdue: [...overdue.values()] }
}

/** Judges every check of a catalogue, in its order. */
export function judgeAll(asked: Omit<ToJudge, 'check'> & { checks: readonly Check[] }): Judgement[] {
  return asked.checks.map((check) => judge({ ...asked, check }))
}

const readingKindOf = {
  measured: 'measured',
  look: 'answer',
  code: 'code',
  number: 'number',
} as const satisfies Record<Check['sort'], ReadingKind>

type Base = ReturnType<typeof baseOf>

function baseOf(check: Check) {
  const none: readonly string[] = []
  return {
    check: check.key,
    title: check.title,
    sort: check.sort,
    safety: check.safety === true,
    readings: none,
  }
}

/** A skip of the whole check sets aside what came before it; a skip of one position only that position. */
function withoutSkipped(mine: readonly Reading[]): Reading[] {
  if (mine.at(-1)?.kind === 'skipped' && mine.at(-1)?.position === null) return []
  const latestAt = new Map(mine.map((reading) => [reading.position, reading]))
  return mine.filter((r) => r.kind !== 'skipped' && latestAt.get(r.position)?.kind !== 'skipped')
}

function notChecked(base: Base, mine: readonly Reading[]): Judgement {
  const skip = mine.filter((reading) => reading.kind === 'skipped').at(-1)
  const because = skip?.value.trim() || skip?.note?.trim() || null
  const says = because ? `Not checked: ${because}` : 'Not checked.'
  return { ...base, readings: skip ? [skip.id] : [], verdict: 'not-checked', because, says }
}

function unreadable(base: Base, reading: Reading, says: string): Judgement {
  return {
    ...base,
    readings: [reading.id],
    verdict: 'not-judged',
    why: 'unreadable',
    found: null,
    belowSaleLine: null,
    needs: [],
    says,
  }
}

function judgeLook(check: LookCheck, reading: Reading, base: Base): Judgement {
  const typed = parseTyped({ check, value: reading.value, unit: null })
  if (!typed.ok) return unreadable(base, reading, typed.problem)
  if (typed.kind !== 'answer') return unreadable(base, reading, 'This is no answer.')
  const { answer } = typed
  const found: Found = { sort: 'look', answer }
  const common = { ...base, readings: [reading.id], found, belowSaleLine: null, says: lookSays(answer) }
  if (answer.tone === 'bad') return { ...common, verdict: 'outside' }
  return { ...common, verdict: 'within', noted: answer.tone === 'note' }
}

function judgeNumber(check: NumberCheck, reading: Reading, base: Base): Judgement {
  const typed = parseTyped({ check, value: reading.value, unit: null })
  if (!typed.ok) return unreadable(base, reading, typed.problem)
  if (typed.kind !== 'number') return unreadable(base, reading, 'This is no number.')
  const { value } = typed
  const { unitWord } = check
  const common = {
    ...base,
    readings: [reading.id],
    found: { sort: 'number', value, unitWord } as const,
    belowSaleLine: null,
  }
  const bounds = check.raises.flatMap(({ when }) => (when.on === 'over' || when.on === 'under' ? [when] : []))
  const broken = bounds.find((when) => (when.on === 'over' ? value > when.than : value < when.than))
  const told = { value, unitWord, broken: broken?.on ?? 'over', than: broken?.than ?? 0 }
  if (broken) return { ...common, verdict: 'outside', says: numberSays.outside(told) }
  if (bounds.length > 0) {
    return { ...common, verdict: 'within', noted: false, says: numberSays.within(told) }
  }
  return { ...common, verdict: 'not-judged', why: 'no-limit', needs: [], says: numberSays.noted(told) }
}

function judgeCode(
  check: CodeCheck,
  reading: Reading,
  base: Base,
  { asOf, ages }: Pick<ToJudge, 'asOf' | 'ages'>,
): Judgement {
  const typed = parseTyped({ check, value: reading.value, unit: null })
  if (!typed.ok) return unreadable(base, reading, typed.problem)
  if (typed.kind !== 'code') return unreadable(base, reading, 'This is no code.')
  if (check.code === 'done-on') return judgeDoneOn(check, typed.code, reading, base, asOf)
  if (check.code === 'tyre-size') return judgeTyreSize(typed.code, reading, base)
  const decoded = decode(() => tyreDate({ code: typed.code, asOf }))
  if ('problem' in decoded) return unreadable(base, reading, decoded.problem)
  const tyre = decoded.read
  const { least, most } = agesOf(tyre, asOf)
  const told = { tyre, ageYears: least, ages }
  const common = {
    ...base,
    readings: [reading.id],
    found: { sort: 'code', tyre, ageYears: least } as const,
    belowSaleLine: least > ages.saleLine,
  }
  if (least > ages.guidance) return { ...common, verdict: 'outside', says: tyreSays.outside(told) }
  if (most > ages.guidance) {
    return {
      ...common,
      verdict: 'not-judged',
      why: 'unreadable',
      needs: [],
      says: tyreSays['decade-unknown'](told),
    }
  }
  const says = tyreSays[common.belowSaleLine ? 'below-sale-line' : 'within'](told)
  return { ...common, verdict: 'within', noted: false, says }
}

/** A size only tells: what the model asks for is on its sheet, and nothing is judged here. */
function judgeTyreSize(marking: string, reading: Reading, base: Base): Judgement {
  const decoded = decode(() => tyreSize({ marking }))
  if ('problem' in decoded) return unreadable(base, reading, decoded.problem)
  return {
    ...base,
    readings: [reading.id],
    found: { sort: 'tyre-size', tyre: decoded.read },
    belowSaleLine: null,
    verdict: 'not-judged',
    why: 'no-limit',
    needs: [],
    says: tyreSizeSays(decoded.read),
  }
}

/** Due where nobody knows when, or where the longest it can be is over the years of the check. */
function judgeDoneOn(
  check: Extract<CodeCheck, { code: 'done-on' }>,
  code: string,
  reading: Reading,
  base: Base,
  asOf: string,
): Judgement {
  const done = parseDoneOn(code)
  if (!done) return unreadable(base, reading, 'This is no date.')
  const { overYears } = check
  if (done.known && done.from > asOf) {
    return unreadable(base, reading, `${done.words} has not come yet. Correct the date.`)
  }
  const ageYears = done.known ? yearsBetween(done.from, asOf) : null
  const found: Found = { sort: 'done-on', done, ageYears }
  const common = { ...base, readings: [reading.id], found, belowSaleLine: null }
  const told = { done, ageYears, overYears }
  if (ageYears === null) return { ...common, verdict: 'outside', says: doneOnSays.unknown(told) }
  if (ageYears > overYears) return { ...common, verdict: 'outside', says: doneOnSays.due(told) }
  return { ...common, verdict: 'within', noted: false, says: doneOnSays.within(told) }
}

function decode<T>(read: () => T): { read: T } | { problem: string } {
  try {
    return { read: read() }
  } catch (error) {
    if (error instanceof CalcProblem) return { problem: `${error.message} ${error.hint}` }
    throw error
  }
}

/** A code of three digits leaves the decade open: the age lies between that of the latest and the earliest. */
function agesOf(tyre: TyreDate, asOf: string): { least: number; most: number } {
  if (tyre.certain) return { least: tyre.ageYears, most: tyre.ageYears }
  const ages = tyre.candidates.map(({ from }) => yearsBetween(from, asOf))
  return { least: Math.min(...ages), most: Math.max(...ages) }
}

/** To one decimal, a year being 365.25 days: the way the date of a tyre is told everywhere. */
function yearsBetween(from: string, to: string): number {
  return Math.round((daysBetween(from, to) / 365.25) * 10) / 10
}
