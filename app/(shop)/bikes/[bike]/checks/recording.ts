import { uuidv7 } from 'uuidv7'
import type { Condition, Instrument } from '../../../../../lib/core/checks/catalogue'
import { byTime, parseTyped, type ReadingKind, standing } from '../../../../../lib/core/checks/reading'
import type { Unit } from '../../../../../lib/core/quantity/units'
import type { PhotoMark } from '../../../../../lib/shop/photo-marks'
import type { CheckShown, Sheet } from '../../../../../lib/shop/read-sheet'
import { marksInWords } from '../../../../_ui/marked-photo'
import type { Kept } from '../../../../_ui/outbox/outbox'
import { asCheck, type SeenCheck, type SeenReading } from './as-seen-here'
import type { DrawingBody, SeenPhoto } from './photos-seen'

/** One reading as it is sent. */
export type ReadingBody = {
  id: string
  bike: string
  check: string
  position: string | null
  kind: ReadingKind
  value: string
  unit: Unit | null
  conditions: readonly Condition[]
  instrument: string | null
  engineSpeed: number | null
  note: string | null
  takenAt: string
  supersedes: string | null
}

/** What the person at the sheet says about a reading; the rest is known. */
export type Said = Pick<ReadingBody, 'kind' | 'value'> &
  Partial<Pick<ReadingBody, 'position' | 'unit' | 'instrument' | 'engineSpeed' | 'note' | 'supersedes'>>

/** A limit for this bike as it is sent. */
export type LimitBody = {
  id: string
  bike: string
  check: string
  position: string | null
  min: number | null
  max: number | null
  asNew: number | null
  saleMin: null
  saleMax: null
  unit: Unit
  source: 'stamped' | 'maker'
  note: string | null
}

/** What the person says about a limit; the rest is known. */
export type LimitFigures = Omit<LimitBody, 'id' | 'bike' | 'check' | 'saleMin' | 'saleMax'>

type At = { sheet: Sheet; check: CheckShown; now: Date }

export function keptReading(said: Said, given: At & { holding: readonly Condition[] }): Kept {
  const { sheet, check, now, holding } = given
  const id = uuidv7()
  const isTaken = said.kind !== 'withdrawn'
  const needed = isTaken ? (check.conditions ?? []) : []
  const body: ReadingBody = {
    id,
    bike: sheet.bike.id,
    check: check.key,
    position: said.position ?? null,
    kind: said.kind,
    value: said.value,
    unit: said.unit ?? null,
    // Only those that this check asks for: what holds for the round is no statement about every check of it.
    conditions: needed.filter((condition) => holding.includes(condition)),
    instrument: said.instrument ?? null,
    engineSpeed: said.engineSpeed ?? null,
    note: said.note ?? null,
    takenAt: now.toISOString(),
    supersedes: said.supersedes ?? null,
  }
  const typed = [kindSaid[said.kind] ?? '', valueSaid(check, said), said.unit ?? ''].join(' ').trim()
  const note = said.note ? ` (${said.note})` : ''
  return {
    id,
    author: sheet.person.id,
    to: 'sync',
    deed: 'record-reading',
    body,
    label: labelOf(check, body.position),
    typed: `${typed}${note}`,
    ...(!isTaken && body.supersedes && { takesBack: body.supersedes }),
  }
}

/** An answer in the words that were tapped. */
function valueSaid(check: CheckShown, { kind, value }: Said): string {
  const answers = kind === 'answer' && check.sort === 'look' ? check.answers : []
  return answers.find(({ key }) => key === value)?.label ?? value
}

const kindSaid: Partial<Record<ReadingKind, string>> = { skipped: 'not checked:', withdrawn: 'taken back:' }

/** Takes one reading back: it stays in the record, struck out, and counts no longer. */
export function takenBack(reading: SeenReading, because: string): Said {
  return { kind: 'withdrawn', value: because, position: reading.position, supersedes: reading.id }
}

/**
 * What one entry comes to as readings. Repeats of one day are averaged; a measured value of an earlier day is
 * another state of the part, so the new one takes its place, and of several such the others are taken back. The
 * new one goes first: it is what lets somebody take back what another person read.
 */
export function saidOn(row: SeenCheck, said: Said, now: Date): Said[] {
  if (said.kind !== 'measured' || said.supersedes) return [said]
  const [latest, ...others] = earlierAt(row, said.position ?? null, now)
  if (!latest) return [said]
  const because = 'Measured again on a later day'
  return [{ ...said, supersedes: latest.id }, ...others.map((reading) => takenBack(reading, because))]
}

/** Readings of earlier days that still count at one position, the latest first. */
export function earlierAt(row: SeenCheck, position: string | null, now: Date): SeenReading[] {
  const today = now.toISOString().slice(0, 10)
  const counting = new Set(standing(row.readings).map(({ id }) => id))
  return row.readings
    .filter(({ id, kind }) => counting.has(id) && kind === 'measured')
    .filter((reading) => reading.position === position && reading.takenAt.slice(0, 10) < today)
    .sort((a, b) => byTime(b, a))
}

/** The reading that another took the place of, recorded once more in the place of that other. */
export function putBack(earlier: SeenReading, by: SeenReading, instruments: readonly Instrument[]): Said {
  const { kind, value, position, unit, engineSpeed, note } = earlier
  const instrument = instruments.find(({ name }) => name === earlier.instrument?.name)?.key ?? null
  const again = { position, unit, instrument, engineSpeed: engineSpeed ?? null }
  return { kind, value, ...again, note: note ?? 'Put back: the correction was a slip', supersedes: by.id }
}

export function keptLimit(figures: LimitFigures, { sheet, check }: At): Kept {
  const id = uuidv7()
  const { min, max, asNew, unit } = figures
  const body: LimitBody = {
    id,
    bike: sheet.bike.id,
    check: check.key,
    saleMin: null,
    saleMax: null,
    ...figures,
  }
  const said = [
    min !== null && `least ${min}`,
    max !== null && `most ${max}`,
    asNew !== null && `new ${asNew}`,
  ]
  return {
    id,
    author: sheet.person.id,
    to: 'sync',
    deed: 'set-bike-limit',
    body,
    label: `Limit of ${labelOf(check, figures.position)}`,
    typed: `${said.filter(Boolean).join(', ')} ${unit}`,
  }
}

export function keptPhoto(bytes: Blob, { sheet, check, now }: At): Kept {
  const facts = { bike: sheet.bike.id, check: check.key, takenAt: now.toISOString() }
  return {
    id: uuidv7(),
    author: sheet.person.id,
    to: 'photos',
    facts,
    bytes,
    label: `Photo for ${check.title}`,
    typed: `${Math.max(1, Math.round(bytes.size / 1000))} kB`,
  }
}

/** Takes a photo back that was just added; should that be refused, there is nothing to take back. */
export function keptPhotoBack(
  { id, title }: { id: string; title: string },
  { sheet }: Pick<At, 'sheet'>,
): Kept {
  return {
    id: uuidv7(),
    author: sheet.person.id,
    to: 'sync',
    deed: 'take-back-photo',
    body: { photo: id, because: 'Undone at once' },
    label: `Photo for ${title}`,
    typed: 'taken back',
    takesBack: id,
  }
}

/** What is drawn beside a photo from now on. It rests on the photo and on what was drawn before, where those wait. */
export function keptDrawing(
  marks: readonly PhotoMark[],
  {
    photo,
    title,
    sheet,
  }: { photo: Pick<SeenPhoto, 'id' | 'version' | 'drawingHere'>; title: string } & Pick<At, 'sheet'>,
): Kept {
  const body: DrawingBody = { photo: photo.id, version: photo.version, marks }
  return {
    id: uuidv7(),
    author: sheet.person.id,
    to: 'sync',
    deed: 'mark-photo',
    body,
    label: `Drawn on a photo for ${title}`,
    typed: marksInWords(marks) || 'nothing',
    restsOn: [photo.id, ...(photo.drawingHere ? [photo.drawingHere.kept.id] : [])],
  }
}

/** What was typed on the pad as it is sent, or what is wrong with it: "4." becomes 4, ".5" becomes 0.5. */
export function readPad(
  check: CheckShown,
  typed: string,
  unit: Unit | null,
): { ok: true; value: string } | { ok: false; problem: string } {
  const value = typed
    .trim()
    .replace(/[.,]$/, '')
    .replace(/^(-?)[.,]/, '$10.')
  const read = parseTyped({ check: asCheck(check), value, unit })
  return read.ok ? { ok: true, value } : { ok: false, problem: read.problem }
}

/** The engine speed as typed, in revolutions a minute; empty is none. The server asks for the same bounds. */
export function readEngineSpeed(
  typed: string,
): { ok: true; value: number | null } | { ok: false; problem: string } {
  const text = typed.trim()
  if (text === '') return { ok: true, value: null }
  const value = /^\d{1,5}$/.test(text) ? Number(text) : Number.NaN
  if (value >= 100 && value <= 20_000) return { ok: true, value }
  return { ok: false, problem: 'Give the engine speed in revolutions a minute, like 5000.' }
}

function labelOf(check: CheckShown, position: string | null): string {
  const at = check.sort === 'measured' && check.positions.find(({ key }) => key === position)
  return at ? `${check.title}, ${at.label}` : check.title
}
