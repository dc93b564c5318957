import type { Catalogue, Check } from '../core/checks/catalogue'
import type { EntryKind } from '../core/checks/catalogue-problems'
import { type Entry, tables } from './catalogue'
import { type Typed, typedWhole } from './catalogue-typed'
import { type CsvLine, readCsv, writeCsv } from './csv'

/*
 * The catalogue as tables: a line an entry, and for jobs a line more for each part. A cell holds what the field
 * of the entry's form holds, so that the rules of the forms hold for tables too.
 */

/** Column of the table to the name of the field; only these can be changed by a table. */
const fieldsOfColumns = {
  check: {
    title: 'title',
    minutes: 'minutes',
    'stale after days': 'staleAfterDays',
    'at least': 'limit.min',
    'at most': 'limit.max',
    'sale at least': 'saleLine.min',
    'sale at most': 'saleLine.max',
  },
  fault: {
    title: 'title',
    call: 'call',
    'off the sale price': 'saleOff',
    'days longer for sale': 'slowerDays',
    'hidden, well kept %': 'hidden.kept',
    'hidden, average %': 'hidden.average',
    'hidden, neglected %': 'hidden.neglected',
  },
  job: {
    title: 'title',
    'hours low': 'hours.low',
    'hours likely': 'hours.likely',
    'hours high': 'hours.high',
    'outside low': 'outsideWork.low',
    'outside likely': 'outsideWork.likely',
    'outside high': 'outsideWork.high',
  },
  operation: {
    title: 'title',
    'hours low': 'hours.low',
    'hours likely': 'hours.likely',
    'hours high': 'hours.high',
  },
} as const satisfies Record<EntryKind, Readonly<Record<string, string>>>

const partFields = {
  part: 'name',
  'how many': 'qty',
  'price low': 'unitCost.low',
  'price likely': 'unitCost.likely',
  'price high': 'unitCost.high',
} as const

export function columnsOf(kind: EntryKind): readonly string[] {
  return [
    'key',
    ...Object.keys(fieldsOfColumns[kind]),
    ...(kind === 'job' ? Object.keys(partFields) : []),
    // Said for the reader of the table, and passed over when it comes back.
    ...(kind === 'check' ? ['unit'] : []),
  ]
}

/** All entries of a kind that are in use, in the order of the catalogue. */
export function catalogueCsv(catalogue: Catalogue, kind: EntryKind): string {
  const entries: readonly Entry[] = catalogue[tables[kind]]
  return writeCsv(
    columnsOf(kind),
    entries.flatMap((entry) => rowsOf(kind, entry)),
  )
}

function rowsOf(kind: EntryKind, entry: Entry): Record<string, string>[] {
  const typed = typedWhole(kind, entry)
  const empty = Object.fromEntries(columnsOf(kind).map((column) => [column, '']))
  const row: Record<string, string> = { ...empty, key: entry.key }
  for (const [column, field] of Object.entries(fieldsOfColumns[kind])) row[column] = typed[field] ?? ''
  if (kind === 'check') row.unit = unitOf(entry as Check)
  if (kind !== 'job') return [row]
  return [row, ...partRows(typed).map((part) => ({ ...empty, key: entry.key, ...part }))]
}

function unitOf(check: Check): string {
  return check.sort === 'measured' ? (check.limit?.unit ?? check.unit) : ''
}

function partRows(typed: Typed): Record<string, string>[] {
  const rows: Record<string, string>[] = []
  for (let index = 0; `parts.${index}.name` in typed; index++) {
    const cells = Object.entries(partFields).map(([column, field]) => [
      column,
      typed[`parts.${index}.${field}`] ?? '',
    ])
    rows.push(Object.fromEntries(cells))
  }
  return rows
}

/** What a table says of one entry: the lines it stands on, and its fields by name. */
export type TableEntry = {
  line: number
  /** Empty for a new one. */
  key: string
  title: string
  /** Only the fields of the table's columns. */
  fields: Typed
  /** The parts of a job, where the table names any; without them the parts stay as they are. */
  parts: readonly { line: number; fields: Typed }[]
}

/** The entries of a table; a job's lines that name a part belong to the line above them with its key. */
export function entriesOfTable(
  text: string,
  { kind, field }: { kind: EntryKind; field: string },
): TableEntry[] {
  const wanted = columnsOf(kind).filter((column) => column !== 'unit')
  const entries: TableEntry[] = []
  for (const line of readCsv(text, { columns: wanted, field })) {
    const key = line.cells.key?.trim() ?? ''
    const above = entries.at(-1)
    if (kind === 'job' && line.cells.part && above && above.key === key) {
      entries[entries.length - 1] = {
        ...above,
        parts: [...above.parts, { line: line.line, fields: partOf(line) }],
      }
      continue
    }
    const fields = Object.entries(fieldsOfColumns[kind]).map(([column, name]) => [
      name,
      line.cells[column] ?? '',
    ])
    const parts = kind === 'job' && line.cells.part ? [{ line: line.line, fields: partOf(line) }] : []
    entries.push({
      line: line.line,
      key,
      title: line.cells.title ?? '',
      fields: Object.fromEntries(fields),
      parts,
    })
  }
  return entries
}

function partOf({ cells }: CsvLine<string>): Typed {
  return Object.fromEntries(Object.entries(partFields).map(([column, field]) => [field, cells[column] ?? '']))
}

/** The column in which a field stands; the name of the field where it stands in none. */
export function columnOf(kind: EntryKind, field: string): string {
  const part = /^parts\.\d+\.(.*)$/.exec(field)?.[1]
  const found = Object.entries(part ? partFields : fieldsOfColumns[kind]).find(
    ([, name]) => name === (part ?? field),
  )
  return found?.[0] ?? field
}
