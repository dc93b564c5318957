import { uuidv7 } from 'uuidv7'
import type { Condition } from '../../../../../lib/core/checks/catalogue'
import { parseTyped, type ReadingKind } from '../../../../../lib/core/checks/reading'
import type { Unit } from '../../../../../lib/core/quantity/units'
import type { CheckShown, Sheet } from '../../../../../lib/shop/read-sheet'
import type { Kept } from '../../../../_ui/outbox/outbox'
import { asCheck } from './as-seen-here'

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
  note: string | null
  takenAt: string
  supersedes: string | null
}

/** What the person at the sheet says about a reading; the rest is known. */
export type Said = Pick<ReadingBody, 'kind' | 'value'> &
  Partial<Pick<ReadingBody, 'position' | 'unit' | 'instrument' | 'note' | 'supersedes'>>

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
  const needed = check.sort === 'measured' ? (check.conditions ?? []) : []
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
    note: said.note ?? null,
    takenAt: now.toISOString(),
    supersedes: said.supersedes ?? null,
  }
  const typed = [said.kind === 'skipped' ? 'not checked:' : '', said.value, said.unit ?? ''].join(' ').trim()
  const note = said.note ? ` (${said.note})` : ''
  return {
    id,
    author: sheet.person.id,
    to: 'sync',
    deed: 'record-reading',
    body,
    label: labelOf(check, body.position),
    typed: `${typed}${note}`,
  }
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

function labelOf(check: CheckShown, position: string | null): string {
  const at = check.sort === 'measured' && check.positions.find(({ key }) => key === position)
  return at ? `${check.title}, ${at.label}` : check.title
}
