import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import type { Check } from '../core/checks/catalogue'
import { mostCsv, readCsv, writeCsv } from './csv'
import { type Context, type Done, deed, type Inside, type Who } from './deed'
import type { LimitRow } from './facts'
import { lineOf, lineOrNull, most } from './fields'
import { requireLimitFits } from './limit-fits'
import { figuresWords } from './limit-words'
import { holdsForOf, type LimitTyped, limitInput, limitSources, putLimit, yearOrNull } from './limits'
import { type ModelAsked, type ModelFacts, readModel, readModelSheet, stateOf } from './model-sheet'
import { type FieldMessages, Refusal, refuse } from './refusal'
import { isForModel } from './to-work-out'

/* Entering the limits of one model many at a time: from a form with a row a check, or from a table. */

const ofModel = {
  make: lineOf(most.name, 'Name the make.'),
  model: lineOf(most.name, 'Name the model.'),
  /** What the person saw: nothing is written where an entry of the model changed since. */
  seen: z.string().max(64).default(''),
}

const cell = z.string().max(400)
/** As typed; which of them are used is seen from the figures. */
const typedRow = z.strictObject({
  check: cell,
  position: cell.default(''),
  unit: cell.default(''),
  min: cell.default(''),
  max: cell.default(''),
  asNew: cell.default(''),
  saleMin: cell.default(''),
  saleMax: cell.default(''),
})
type TypedRow = z.output<typeof typedRow>

export const modelLimitsInput = z
  .strictObject({
    ...ofModel,
    yearFrom: yearOrNull,
    yearTo: yearOrNull,
    source: z.enum(limitSources, { error: 'Say where the figures come from.' }),
    note: lineOrNull(most.line),
    rows: z.record(z.string().regex(/^[\w-]{1,160}$/), typedRow),
  })
  .refine(({ yearFrom, yearTo }) => yearFrom === null || yearTo === null || yearFrom <= yearTo, {
    path: ['yearTo'],
    message: 'The last year is before the first.',
  })

const figureNames = ['min', 'max', 'asNew', 'saleMin', 'saleMax'] as const
const isEmpty = (row: Pick<TypedRow, (typeof figureNames)[number]>) =>
  figureNames.every((name) => row[name].trim() === '')

/** Enters all the rows that hold a figure, or none of them; each message stands at its row's field. */
export const setModelLimits = deed('limit:set', modelLimitsInput, async (input, inside) => {
  const { rows, seen, ...common } = input
  const facts = await readModel(inside.tx, common)
  requireSeen(facts, seen)
  const fields: FieldMessages = {}
  const typed = Object.entries(rows).flatMap(([number, row]) => {
    if (isEmpty(row)) return []
    const read = readTyped({ ...row, ...common }, facts.catalogue.checks)
    if (read.ok) return [read.typed]
    const title = facts.catalogue.checks.find(({ key }) => key === row.check)?.title ?? 'One row'
    for (const [field, message] of Object.entries(read.fields))
      fields[`rows.${number}.${field}`] = `${title}: ${message}`
    return []
  })
  const count = Object.keys(fields).length
  if (count > 0) {
    const message = count === 1 ? 'One field needs another look.' : `${count} fields need another look.`
    refuse('malformed', `${message} Nothing is entered yet.`, { fields })
  }
  if (typed.length === 0) refuse('malformed', 'Fill in the figures of one check at least.')
  const limits = await putAll(typed, inside)
  return { answer: { entered: typed.length }, event: { bikeId: null, body: { limits } } }
})

type Read = { ok: true; typed: LimitTyped } | { ok: false; fields: FieldMessages }

/** By the same rules as a limit entered by itself. */
function readTyped(row: Record<string, unknown>, checks: readonly Check[]): Read {
  const parsed = limitInput.safeParse({ ...row, id: uuidv7(), scope: 'model' })
  if (!parsed.success) {
    const fields: FieldMessages = {}
    for (const { path, message } of parsed.error.issues) fields[String(path[0] ?? '')] ??= message
    return { ok: false, fields }
  }
  try {
    requireLimitFits(checks, parsed.data)
    return { ok: true, typed: parsed.data }
  } catch (error) {
    if (error instanceof Refusal) return { ok: false, fields: error.plain.fields }
    throw error
  }
}

async function putAll(typed: readonly LimitTyped[], inside: Inside): Promise<object[]> {
  const bodies: object[] = []
  for (const one of typed) bodies.push(await putLimit(one, inside))
  return bodies
}

function requireSeen(facts: ModelFacts, seen: string): void {
  if (stateOf(facts.rows) === seen) return
  refuse(
    'stale',
    'A limit of this model was entered or taken back since you opened this. Nothing is changed: load the page again.',
  )
}

const figureColumns = {
  min: 'at least',
  max: 'at most',
  asNew: 'as new',
  saleMin: 'sale line at least',
  saleMax: 'sale line at most',
} as const

/** What a table must have to be read again. */
const columns = [
  'check',
  'position',
  'from year',
  'to year',
  ...Object.values(figureColumns),
  'unit',
  'source',
  'note',
] as const
/** For the reader alone; passed over when it is read again. */
const told = ['title', 'place', 'holds now', 'because'] as const

/** The sheet of a model as a table: its entries, and an empty line for each place where it has none. */
export async function modelSheetCsv(
  context: Context & { who: Who },
  asked: ModelAsked,
): Promise<{ name: string; text: string }> {
  const sheet = await readModelSheet(context, asked)
  const { rows, makeKey, modelKey, year } = await readModel(context.store.db, asked)
  const lines = sheet.checks.flatMap((check) => {
    const placeOf = (position: string | null) =>
      check.positions.find(({ key }) => key === position)?.label ??
      (position === null ? 'everywhere' : position)
    const holding = (position: string | null) => {
      const groups = check.limits.filter(
        ({ at }) => position === null || at.length === 0 || at.includes(placeOf(position)),
      )
      const words = groups.map(
        ({ at, words }) => `${at.length > 0 ? `${at.join(', ')}: ` : ''}${words ?? 'set by model'}`,
      )
      const because = groups.flatMap(({ sources }) =>
        sources.map(({ kind, says }) => (says.startsWith(kind) ? says : `${kind}: ${says}`)),
      )
      return { 'holds now': words.join('; '), because: [...new Set(because)].join('; ') }
    }
    const own = rows.filter(
      (row) =>
        row.scope === 'model' && row.check === check.key && isForModel(row, { makeKey, modelKey, year }),
    )
    const said = { check: check.key, title: check.title }
    return [
      ...own.map((row) => ({
        ...said,
        ...cellsOf(row),
        place: placeOf(row.position),
        ...holding(row.position),
      })),
      ...check.unentered.map((position) => ({
        ...said,
        ...noCells,
        position,
        unit: check.unit,
        place: placeOf(position),
        ...holding(position),
      })),
    ]
  })
  const name = ['limits', makeKey, modelKey, year ?? ''].filter((part) => part !== '').join('-')
  return { name: `${name}.csv`, text: writeCsv([...columns, ...told], lines) }
}

const noCells = {
  'from year': null,
  'to year': null,
  'at least': null,
  'at most': null,
  'as new': null,
  'sale line at least': null,
  'sale line at most': null,
  source: 'maker',
  note: null,
}

function cellsOf(row: LimitRow) {
  return {
    position: row.position,
    'from year': row.yearFrom,
    'to year': row.yearTo,
    'at least': row.min,
    'at most': row.max,
    'as new': row.asNew,
    'sale line at least': row.saleMin,
    'sale line at most': row.saleMax,
    unit: row.unit,
    source: row.source,
    note: row.sourceNote,
  }
}

export type LineOfImport = {
  /** Of the table, as a program for tables counts it. */
  line: number
  check: string
  /** Position and years, as far as they narrow it. */
  at: string
  does: 'new' | 'change' | 'take back' | 'refused'
  from: string | null
  to: string | null
  /** Why it is refused. */
  why: string | null
}

export type ImportShown = {
  step: 'shown'
  csv: string
  seen: string
  lines: readonly LineOfImport[]
  /** Lines that are as they stand, or empty. */
  same: number
  refused: number
}

export type ImportDone = { step: 'done'; changed: number }

export const importInput = z.strictObject({
  ...ofModel,
  csv: z
    .string({ error: 'Choose a table, or paste its lines.' })
    .trim()
    .min(1, 'Choose a table, or paste its lines.')
    .max(mostCsv, 'This table is too long.'),
  /** Sent once the person has seen what would change. */
  agreed: z.literal('yes').optional(),
})

/**
 * Reads the limits of a model out of a table. First it only tells, line by line, what would change; sent again
 * with the person's word it changes all of that at once, or nothing where a line cannot be taken or an entry of
 * the model changed since. What the table does not name stays; a line without figures takes its entry back.
 */
export const importModelLimits = deed(
  'limit:set',
  importInput,
  async (input, inside): Promise<Done<ImportShown | ImportDone>> => {
    const { make, model, csv, seen, agreed } = input
    const facts = await readModel(inside.tx, { make, model })
    if (agreed) requireSeen(facts, seen)
    const plan = planOf(csv, facts)
    const lines = plan.flatMap(({ shown }) => (shown ? [shown] : []))
    const refused = lines.filter(({ does }) => does === 'refused').length
    if (!agreed) {
      const answer: ImportShown = {
        step: 'shown',
        csv,
        seen: stateOf(facts.rows),
        lines,
        same: plan.length - lines.length,
        refused,
      }
      return { answer, event: null }
    }
    if (refused > 0) refuse('rule', 'Nothing is changed while a line of the table is refused. Mend it first.')
    const limits = await putAll(
      plan.flatMap(({ put }) => (put ? [put] : [])),
      inside,
    )
    const takenBack = plan.flatMap(({ back }) => back ?? [])
    await inside.tx.limit.updateMany({
      where: { id: { in: takenBack }, withdrawnAt: null },
      data: { withdrawnAt: inside.now, version: { increment: 1 } },
    })
    const answer: ImportDone = { step: 'done', changed: lines.length }
    return {
      answer,
      event: lines.length === 0 ? null : { bikeId: null, body: { limits, withdrew: takenBack } },
    }
  },
)

/** One line of the table: what is told of it, and what it writes or takes back. */
type Planned = { shown: LineOfImport | null; put?: LimitTyped; back?: string[] }

function planOf(csv: string, facts: ModelFacts): Planned[] {
  const named = new Map<string, number>()
  return readCsv(csv, { columns, field: 'csv' }).map(({ line, cells }): Planned => {
    const check = facts.catalogue.checks.find(({ key }) => key === cells.check)
    const said = { line, check: check?.title ?? (cells.check || 'no check'), at: atWords(cells, check) }
    const refused = (why: string): Planned => ({
      shown: { ...said, does: 'refused', from: null, to: null, why },
    })
    const figures = Object.fromEntries(
      Object.entries(figureColumns).map(([name, column]) => [name, cells[column]]),
    ) as Pick<TypedRow, keyof typeof figureColumns>
    const empty = isEmpty(figures)
    const read = readTyped(
      {
        make: facts.make,
        model: facts.model,
        check: cells.check,
        position: cells.position,
        yearFrom: cells['from year'],
        yearTo: cells['to year'],
        unit: cells.unit,
        source: cells.source,
        note: cells.note,
        ...figures,
        // An empty line only has to name a check and a place; a figure stands in so that the rest is looked at.
        ...(empty && standIn(cells, check)),
      },
      facts.catalogue.checks,
    )
    if (!read.ok) return refused(inWords(read.fields))
    const { typed } = read
    const key = JSON.stringify(holdsForOf(typed))
    const earlier = named.get(key)
    if (earlier !== undefined) return refused(`Line ${earlier} is for the same check, position and years.`)
    named.set(key, line)
    const before = facts.rows.filter((row) => row.scope === 'model' && isSamePlace(row, typed))
    const from = before.length > 0 ? before.map(rowWords).join('; ') : null
    if (empty) {
      if (before.length === 0) return { shown: null }
      return {
        shown: { ...said, does: 'take back', from, to: null, why: null },
        back: before.map(({ id }) => id),
      }
    }
    if (before.length === 1 && before.every((row) => isSame(row, typed))) return { shown: null }
    const to = typedWords(typed)
    return { shown: { ...said, does: from === null ? 'new' : 'change', from, to, why: null }, put: typed }
  })
}

type Cells = Record<(typeof columns)[number], string>

function atWords(cells: Cells, check: Check | undefined): string {
  const { position, 'from year': from, 'to year': to } = cells
  const places = check?.sort === 'measured' ? check.positions : []
  const place = places.find(({ key }) => key === position)?.label ?? position
  const years = from === '' && to === '' ? '' : from === to ? from : `${from || '…'} to ${to || '…'}`
  return [place, years].filter(Boolean).join(', ')
}

function standIn(cells: Cells, check: Check | undefined) {
  const source = cells.source || limitSources[0]
  return check?.sort === 'measured'
    ? { min: check.plausible.min, unit: check.unit, source }
    : { min: 0, source }
}

const columnOf: Readonly<Record<string, string>> = {
  ...figureColumns,
  check: 'check',
  position: 'position',
  yearFrom: 'from year',
  yearTo: 'to year',
  unit: 'unit',
  source: 'source',
  note: 'note',
}

function inWords(fields: FieldMessages): string {
  return Object.entries(fields)
    .map(([field, message]) => `${columnOf[field] ?? field}: ${message}`)
    .join(' ')
}

function isSamePlace(row: LimitRow, typed: LimitTyped): boolean {
  const { check, position, yearFrom, yearTo } = typed
  return (
    row.check === check && row.position === position && row.yearFrom === yearFrom && row.yearTo === yearTo
  )
}

function isSame(row: LimitRow, typed: LimitTyped): boolean {
  const figures = [...figureNames, 'unit', 'source'] as const
  return figures.every((name) => row[name] === typed[name]) && asRead(row.sourceNote) === (typed.note ?? '')
}

/** A note as it comes back out of a table, where an apostrophe before a sign is taken for the table's own. */
function asRead(note: string): string {
  const columns = ['check', 'note'] as const
  const [line] = readCsv(writeCsv(columns, [{ check: 'any', note }]), { columns, field: 'csv' })
  return line?.cells.note ?? ''
}

function rowWords(row: LimitRow): string {
  return withSource(figuresWords(row), row.source, row.sourceNote)
}

function typedWords(typed: LimitTyped): string {
  return withSource(figuresWords(typed), typed.source, typed.note)
}

function withSource(figures: string, source: string, note: string | null): string {
  return `${figures} (${note ? `${source}: ${note}` : source})`
}
