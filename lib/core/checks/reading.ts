import { comparable, convert, type Unit } from '../quantity/units'
import type { Answer, Check, Condition, LookCheck, MeasuredCheck, NumberCheck } from './catalogue'

export const readingKinds = ['measured', 'answer', 'code', 'number', 'skipped'] as const
export type ReadingKind = (typeof readingKinds)[number]

/** What a value was read with. Resolution and standard uncertainty are in `unit`. */
export type ReadingInstrument = {
  name: string
  resolution: number
  unit: Unit
  standardUncertainty: number
}

/** One value as taken. Never changed: a correction is a further reading that names the one it supersedes. */
export type Reading = {
  id: string
  /** Key of the check. */
  check: string
  /** Key of the position on the part, null where the check has none. */
  position: string | null
  kind: ReadingKind
  /** As typed: a number, the key of an answer, a code; for `skipped` why it was not checked. */
  value: string
  /** Of a measured value; null: the check's own unit. */
  unit: Unit | null
  conditions: readonly Condition[]
  instrument: ReadingInstrument | null
  note?: string | null
  /** Instant, ISO 8601 in UTC. */
  takenAt: string
  supersedes: string | null
}

/**
 * The readings that count: those that no other reading supersedes. A chain of corrections leaves its last.
 * The superseded ones stay in the record and are shown beside; the order is that of the input.
 */
export function standing(readings: readonly Reading[]): Reading[] {
  const replaced = new Set(readings.filter((r) => r.supersedes !== r.id).map((r) => r.supersedes))
  return readings.filter((reading) => !replaced.has(reading.id))
}

/** Oldest first; readings of the same instant by id, so that the order of the input never matters. */
export function byTime(a: Reading, b: Reading): number {
  const apart = Date.parse(a.takenAt) - Date.parse(b.takenAt)
  if (apart !== 0) return apart
  return a.id < b.id ? -1 : a.id > b.id ? 1 : 0
}

export type Typed =
  | { ok: true; kind: 'measured'; value: number; unit: Unit }
  | { ok: true; kind: 'answer'; answer: Answer }
  | { ok: true; kind: 'code'; code: string }
  | { ok: true; kind: 'number'; value: number }
  | { ok: false; problem: string }

/**
 * What was typed for a check, read as the check's sort wants it, or one sentence that says what to do.
 * Decimals may have a point or a comma. A measured value is checked against the plausible range in the
 * check's unit; `unit` is the one it was typed in, null for the check's own.
 */
export function parseTyped(typed: { check: Check; value: string; unit: Unit | null }): Typed {
  const { check } = typed
  const value = typed.value.trim()
  if (value === '') return { ok: false, problem: 'Nothing was typed.' }
  switch (check.sort) {
    case 'measured':
      return measured(check, value, typed.unit ?? check.unit)
    case 'number':
      return counted(check, value)
    case 'look':
      return answered(check, value)
    case 'code':
      return coded(value)
  }
}

function measured(check: MeasuredCheck, text: string, unit: Unit): Typed {
  if (!comparable(unit, check.unit)) {
    return { ok: false, problem: `${check.title} is measured in ${check.units.join(', ')}, not in ${unit}.` }
  }
  const value = decimal(text)
  if (value === null) return { ok: false, problem: `"${text}" is not a number. Write it like 4.52 or 4,52.` }
  const inOwnUnit = convert(value, unit, check.unit)
  const { min, max } = check.plausible
  // A converted edge may end in …0001: one part in a billion is no slip of the finger.
  const slack = 1e-9 * Math.max(Math.abs(min), Math.abs(max))
  if (inOwnUnit < min - slack || inOwnUnit > max + slack) {
    const range = `${plain(convert(min, check.unit, unit))} to ${plain(convert(max, check.unit, unit))} ${unit}`
    return {
      ok: false,
      problem: `${text} ${unit} cannot be right here: ${range} is possible. Check the figure and its unit.`,
    }
  }
  return { ok: true, kind: 'measured', value, unit }
}

function counted(check: NumberCheck, text: string): Typed {
  // 41,200 may be forty-one thousand or forty-one and a fifth: asked for again, not guessed.
  if (/^\d+[.,]\d{3}$/.test(text)) {
    return { ok: false, problem: `Write ${text.replace(/[.,]/, '')} without a separator, if that is meant.` }
  }
  const value = decimal(text)
  if (value === null) return { ok: false, problem: `"${text}" is not a number.` }
  const { min, max } = check.plausible
  if (value < min || value > max) {
    const range = `${plain(min)} to ${plain(max)} ${check.unitWord}`
    return { ok: false, problem: `${text} cannot be right here: ${range} is possible.` }
  }
  return { ok: true, kind: 'number', value }
}

function answered(check: LookCheck, text: string): Typed {
  const answer = check.answers.find(({ key }) => key === text)
  if (answer) return { ok: true, kind: 'answer', answer }
  const named = check.answers.map(({ label }) => label).join(', ')
  return { ok: false, problem: `Choose one of the answers: ${named}.` }
}

function coded(text: string): Typed {
  const code = text.replace(/\s/g, '')
  if (/^\d{3,4}$/.test(code)) return { ok: true, kind: 'code', code }
  return {
    ok: false,
    problem: 'Type the last three or four digits of the tyre code: the week, then the year.',
  }
}

/** Digits with at most one point or comma; anything else is null rather than a guess. */
function decimal(text: string): number | null {
  if (!/^[-+−]?(\d+([.,]\d*)?|[.,]\d+)$/.test(text)) return null
  return Number(text.replace('−', '-').replace(',', '.'))
}

function plain(value: number): string {
  return String(Number(value.toPrecision(6)))
}
