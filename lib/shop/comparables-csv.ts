import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import { canonicalJson, sha256 } from '../data/hash'
import type { Tx } from '../data/store'
import {
  type ComparableTyped,
  comparableAsTyped,
  comparableColumns,
  comparableFacts,
} from './comparable-fields'
import { bikeAsked, todayOf } from './comparables'
import { readCsv, tableInTwoSteps, writeCsv } from './csv'
import { type Context, type Done, deed } from './deed'
import { readBike, viewingNumber } from './facts'
import { idOf, most, searchKey } from './fields'
import { type NotedRow, readNoted } from './noted-prices'
import { type FieldMessages, Refusal, refuse, refuseField } from './refusal'

/* Noted prices out as a table and in again. */

/** The columns of a table by the field that each one fills. */
const columnOfField = {
  year: 'year',
  distance: 'distance',
  distanceUnit: 'unit',
  condition: 'condition',
  market: 'market',
  asked: 'asked or sold',
  price: 'price',
  firstSeenOn: 'first seen',
  lastSeenOn: 'last seen',
  link: 'link',
  note: 'note',
} as const satisfies Record<keyof typeof comparableFacts, string>
type Field = keyof typeof columnOfField
const fields = Object.keys(columnOfField) as Field[]

const columns = ['id', 'make', 'model', 'for viewing', ...Object.values(columnOfField)] as const
type Column = (typeof columns)[number]

/** The prices noted for a bike as a table; with no line but the first where there is none. */
export async function comparablesCsv(
  { store }: Pick<Context, 'store'>,
  viewingNo: string,
): Promise<{ name: string; text: string }> {
  const bike = await readBike(store.db, viewingNo)
  const rows = await readNoted(store.db, bike)
  const lines = rows.map((row) => ({
    id: row.id,
    make: row.make,
    model: row.model,
    'for viewing': row.bikeId === null ? null : bike.viewingNo,
    ...cellsOf(comparableAsTyped(row)),
  }))
  return { name: `prices-${bike.makeKey}-${bike.modelKey}.csv`, text: writeCsv(columns, lines) }
}

function cellsOf(typed: Record<string, string>) {
  const cells = fields.map((field) => [columnOfField[field], typed[field] ?? ''])
  return Object.fromEntries(cells) as Record<(typeof columnOfField)[Field], string>
}

export const importComparablesInput = z.strictObject({
  bike: idOf,
  ...tableInTwoSteps,
})

/** What one line of a table would do. */
export type PriceLine = {
  line: number
  title: string
  is: 'same' | 'changed' | 'new' | 'refused'
  /** What would change of a price that is noted already, or why the line is refused. */
  says: readonly string[]
}

export type PriceTrial = {
  /** The table again, so that the second step needs no file. */
  table: string
  /** Stands for the table and all that it was held against; empty where nothing can be applied. */
  seen: string
  lines: readonly PriceLine[]
  counts: Readonly<Record<PriceLine['is'], number>>
  applied: boolean
}

type Columns = ReturnType<typeof comparableColumns>
type About = { bikeId: string | null; make: string; makeKey: string; model: string; modelKey: string }
type Planned = { line: PriceLine; put: { id: string | null; columns: Columns & About } | null }

/**
 * Takes noted prices out of a table, in two steps. The first changes nothing and tells line by line what is new,
 * what would change and what is refused. The second does all of it or nothing, and only if nothing moved meanwhile.
 * A line without make and model is for those of the bike; what the table does not name stays.
 */
export const importComparables = deed(
  'price:note',
  importComparablesInput,
  async (input, { tx, now, who }): Promise<Done<PriceTrial>> => {
    const { bike: bikeId, table, seen } = input
    const bike = await bikeAsked(tx, bikeId)
    const rows = await tx.comparable.findMany({ where: { withdrawnAt: null }, orderBy: { id: 'asc' } })
    const planned = await plan(tx, { table, bike, rows, today: await todayOf(tx, now) })
    const lines = planned.map(({ line }) => line)
    const counts = countsOf(lines)
    const state = rows.map(({ id, version }) => `${id} ${version}`)
    const mark = sha256(canonicalJson({ bikeId, table: table.replace(/\r\n?/g, '\n'), state }))
    const possible = counts.refused === 0 && counts.new + counts.changed > 0
    const trial = { table, seen: possible ? mark : '', lines, counts }
    if (seen === '') return { answer: { ...trial, applied: false }, event: null }
    if (seen !== mark)
      refuse(
        'stale',
        'Something changed since you looked at these lines. Look at them once more, then apply them.',
      )
    if (!possible) refuseField('table', 'Nothing of this table can be applied. Look at its lines again.')
    const puts = planned.flatMap(({ put }) => put ?? [])
    for (const { id, columns } of puts) {
      if (id === null)
        await tx.comparable.create({ data: { id: uuidv7(), ...columns, personId: who.personId, at: now } })
      else await tx.comparable.update({ where: { id }, data: { ...columns, version: { increment: 1 } } })
    }
    const body = { did: 'table taken in', added: counts.new, changed: counts.changed, lines: puts }
    return { answer: { ...trial, seen: '', applied: true }, event: { bikeId, body } }
  },
)

type Asked = {
  table: string
  bike: { id: string; make: string; makeKey: string; model: string; modelKey: string }
  rows: readonly NotedRow[]
  today: string
}

async function plan(tx: Tx, { table, bike, rows, today }: Asked): Promise<Planned[]> {
  const lines = readCsv(table, { columns, field: 'table' })
  const numbers = lines.flatMap(({ cells }) => viewingNumber(cells['for viewing'] || '-') ?? [])
  const bikes = await tx.bike.findMany({ where: { viewingNo: { in: numbers } } })
  const known = new Map(rows.map((row) => [row.id, row]))
  const contents = new Set(rows.map((row) => contentOf(row)))
  const ids = new Set<string>()
  return lines.map(({ line, cells }): Planned => {
    const title = titleOf(cells, bike)
    const refused = (...says: string[]): Planned => ({
      line: { line, title, is: 'refused', says },
      put: null,
    })
    const { id } = cells
    const before = known.get(id)
    if (id !== '' && !before)
      return refused('id: No noted price has this id (any more). Empty the cell for a new one.')
    if (id !== '' && ids.has(id)) return refused('id: It stands in the table twice. Keep one of the lines.')
    ids.add(id)
    const about = aboutOf(cells, { bike, bikes })
    if (typeof about === 'string') return refused(about)
    const read = readLine(cells, today)
    if (!read.ok) return refused(...inWords(read.messages))
    const columns = { ...read.columns, ...about }
    if (before) {
      const says = differences(before, { ...before, ...columns })
      if (says.length === 0) return { line: { line, title, is: 'same', says }, put: null }
      return { line: { line, title, is: 'changed', says }, put: { id, columns } }
    }
    // A table without ids that is taken in a second time notes nothing twice.
    const content = contentOf(columns)
    if (contents.has(content)) return { line: { line, title, is: 'same', says: [] }, put: null }
    contents.add(content)
    return { line: { line, title, is: 'new', says: [] }, put: { id: null, columns } }
  })
}

type Cells = Record<Column, string>

function titleOf(cells: Cells, bike: Asked['bike']): string {
  const name = `${cells.make || bike.make} ${cells.model || bike.model}`
  return [name, cells.year, cells.price].filter((part) => part !== '').join(', ')
}

type BikeRow = Asked['bike'] & { viewingNo: number }

/** What the price is noted for, or why that cannot be told. */
function aboutOf(
  cells: Cells,
  { bike, bikes }: { bike: Asked['bike']; bikes: readonly BikeRow[] },
): About | string {
  const { make, model } = cells
  const typed = cells['for viewing']
  if (typed !== '') {
    const one = bikes.find(({ viewingNo }) => String(viewingNo) === typed.trim())
    return one
      ? { bikeId: one.id, make: one.make, makeKey: one.makeKey, model: one.model, modelKey: one.modelKey }
      : 'for viewing: There is no bike with that number. Empty the cell for all bikes of the model.'
  }
  if (make === '' && model === '') {
    const { make, makeKey, model, modelKey } = bike
    return { bikeId: null, make, makeKey, model, modelKey }
  }
  const [makeKey, modelKey] = [searchKey(make), searchKey(model)]
  if (makeKey === '' || modelKey === '') return 'make: Name both make and model, or leave both empty.'
  if (make.length > most.name || model.length > most.name)
    return `make: Keep make and model to ${most.name} characters each.`
  return { bikeId: null, make, makeKey, model, modelKey }
}

type Read = { ok: true; columns: Columns } | { ok: false; messages: FieldMessages }

/** By the same rules as a price noted by itself. */
function readLine(cells: Cells, today: string): Read {
  const typed = Object.fromEntries(fields.map((field) => [field, cells[columnOfField[field]]]))
  const { condition, ...rest } = typed
  const parsed = z.strictObject(comparableFacts).safeParse({ ...rest, ...(condition && { condition }) })
  if (!parsed.success) {
    const messages: FieldMessages = {}
    for (const { path, message } of parsed.error.issues) messages[String(path[0] ?? '')] ??= message
    return { ok: false, messages }
  }
  try {
    return { ok: true, columns: comparableColumns(parsed.data satisfies ComparableTyped, today) }
  } catch (error) {
    if (error instanceof Refusal) return { ok: false, messages: error.plain.fields }
    throw error
  }
}

function inWords(messages: FieldMessages): string[] {
  return Object.entries(messages).map(([field, says]) => `${nameOf(field)}: ${says}`)
}

function nameOf(field: string): string {
  return columnOfField[field as Field] ?? field
}

function differences(before: NotedRow, after: NotedRow): string[] {
  const [was, is] = [comparableAsTyped(before), comparableAsTyped(after)]
  const changed = fields
    .filter((field) => was[field] !== is[field])
    .map((field) => `${columnOfField[field]}: ${was[field] || 'nothing'} → ${is[field] || 'nothing'}`)
  const place = (row: NotedRow) => (row.bikeId === null ? `${row.make} ${row.model}` : 'one bike alone')
  const moved = before.bikeId !== after.bikeId || placeKey(before) !== placeKey(after)
  return moved ? [`counts for: ${place(before)} → ${place(after)}`, ...changed] : changed
}

function placeKey({ makeKey, modelKey }: { makeKey: string; modelKey: string }): string {
  return `${makeKey} ${modelKey}`
}

/** All that a noted price says, for telling whether two say the same. */
function contentOf(
  row: Omit<NotedRow, 'id' | 'note' | 'personId' | 'at' | 'withdrawnAt' | 'version'>,
): string {
  const { bikeId, makeKey, modelKey, market, asked, priceMinor, firstSeenOn, lastSeenOn, year, distance } =
    row
  const { distanceUnit, condition, link } = row
  return JSON.stringify([
    ...[bikeId, makeKey, modelKey, market, asked, priceMinor, firstSeenOn, lastSeenOn, year, distance],
    ...[distanceUnit, condition, link],
  ])
}

function countsOf(lines: readonly PriceLine[]): Record<PriceLine['is'], number> {
  const counts = { same: 0, changed: 0, new: 0, refused: 0 }
  for (const { is } of lines) counts[is] += 1
  return counts
}
