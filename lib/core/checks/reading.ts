import { comparable, convert, type Unit } from '../quantity/units'
import type { Answer, Check, CodeCheck, Condition, LookCheck, MeasuredCheck, NumberCheck } from './catalogue'

/** `withdrawn`: takes an earlier reading back without putting another in its place. */
export const readingKinds = ['measured', 'answer', 'code', 'number', 'skipped', 'withdrawn'] as const
export type ReadingKind = (typeof readingKinds)[number]

/** What a value was read with. Resolution and standard uncertainty are in `unit`. */
export type ReadingInstrument = {
  name: string
  resolution: number
  unit: Unit
  standardUncertainty: number
  /** The last day of its calibration when it was used, YYYY-MM-DD. */
  calibrationDue?: string | null
}

/** One value as taken. Never changed: a correction is a further reading that names the one it supersedes. */
export type Reading = {
  id: string
  /** Key of the check. */
  check: string
  /** Key of the position on the part, null where the check has none. */
  position: string | null
  kind: ReadingKind
  /** As typed: a number, the key of an answer, a code; for `skipped` and `withdrawn` the reason. */
  value: string
  /** Of a measured value; null: the check's own unit. */
  unit: Unit | null
  conditions: readonly Condition[]
  instrument: ReadingInstrument | null
  /** Of the engine while it was taken, in revolutions a minute; null where nobody noted it. */
  engineSpeed?: number | null
  note?: string | null
  /** Instant, ISO 8601 in UTC. */
  takenAt: string
  supersedes: string | null
}

/**
 * The readings that count: those that no other reading supersedes. A chain of corrections leaves its last; one
 * that was taken back leaves nothing. The superseded ones stay in the record and are shown beside; the order is
 * that of the input.
 */
export function standing(readings: readonly Reading[]): Reading[] {
  const replaced = new Set(readings.filter((r) => r.supersedes !== r.id).map((r) => r.supersedes))
  return readings.filter(({ id, kind }) => kind !== 'withdrawn' && !replaced.has(id))
}

/** Oldest first; readings of the same instant by id, so that the order of the input never matters. */
export function byTime(a: Reading, b: Reading): number {
  const apart = Date.parse(a.takenAt) - Date.parse(b.takenAt)
  if (apart !== 0) return apart
  return a.id < b.id ? -1 : a.id > b.id ? 1 : 0
}

/**
 * For each check the instant since which all of it that stands was read: of the latest reading at each position
 * the oldest, since a part that was measured again at one place only is not all new. A skip is no reading.
 */
export function readSince(readings: readonly Reading[]): Map<string, string> {
  const latest = new Map<string, Reading>()
  for (const reading of standing(readings.filter(({ kind }) => kind !== 'skipped')).sort(byTime)) {
    latest.set(`${reading.check} ${reading.position ?? ''}`, reading)
  }
  const since = new Map<string, string>()
  for (const { check, takenAt } of [...latest.values()].sort(byTime)) {
    if (!since.has(check)) since.set(check, takenAt)
  }
  return since
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
      return coded(check, value)
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

function coded(check: CodeCheck, text: string): Typed {
  if (check.code === 'tyre-size') return { ok: true, kind: 'code', code: text }
  if (check.code === 'done-on') {
    const done = parseDoneOn(text)
    return done ? { ok: true, kind: 'code', code: text } : { ok: false, problem: doneOnProblem }
  }
  const code = text.replace(/\s/g, '')
  if (/^\d{3,4}$/.test(code)) return { ok: true, kind: 'code', code }
  return {
    ok: false,
    problem: 'Type the last three or four digits of the tyre code: the week, then the year.',
  }
}

/** When something was last done: a day range by its first and last day, or nobody knows. */
export type DoneOn = { known: false } | { known: true; from: string; to: string; words: string }

const doneOnProblem =
  'Type the year, like 2021, or year and month, like 2021-06; choose unknown if nobody can say.'

/** A year, a year and a month, a day, or "unknown"; null where it is none of these. */
export function parseDoneOn(text: string): DoneOn | null {
  const typed = text.trim().toLowerCase()
  if (typed === 'unknown') return { known: false }
  const [, year, month, day] = /^((?:19|20)\d\d)(?:-(0[1-9]|1[0-2])(?:-(\d\d))?)?$/.exec(typed) ?? []
  if (!year) return null
  if (!month) return { known: true, from: `${year}-01-01`, to: `${year}-12-31`, words: year }
  const last = daysInMonth(Number(year), Number(month))
  if (!day) return { known: true, from: `${typed}-01`, to: `${typed}-${last}`, words: typed }
  if (Number(day) < 1 || Number(day) > last) return null
  return { known: true, from: typed, to: typed, words: typed }
}

function daysInMonth(year: number, month: number): number {
  return new Date(Date.UTC(year, month, 0)).getUTCDate()
}

/** Digits with at most one point or comma; anything else is null rather than a guess. */
function decimal(text: string): number | null {
  if (!/^[-+−]?(\d+([.,]\d*)?|[.,]\d+)$/.test(text)) return null
  return Number(text.replace('−', '-').replace(',', '.'))
}

function plain(value: number): string {
  return String(Number(value.toPrecision(6)))
}
