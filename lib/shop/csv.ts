import { parse } from 'csv-parse/sync'
import { stringify } from 'csv-stringify/sync'
import { z } from 'zod'
import { refuseField } from './refusal'

/** One line of a table as read: its number as an editor of tables counts it, and its cells by column. */
export type CsvLine<C extends string> = { line: number; cells: Record<C, string> }

/** How long a pasted or uploaded table may be, in characters. */
export const mostCsv = 1_000_000

/** What a form sends that takes a table in by two steps: a trial, then just what the trial told. */
export const tableInTwoSteps = {
  table: z
    .string()
    .min(1, 'Choose a file or paste a table.')
    .max(mostCsv, 'Keep the table to a million characters.'),
  /** What the trial answered, sent back to apply just that; empty for the trial. */
  seen: z.string().max(64).default(''),
}

/**
 * A table as comma-separated values (RFC 4180) with a byte order mark, so that office programs read it as UTF-8.
 * A cell that such a program would take for a formula gets an apostrophe before it; `readCsv` takes it off again.
 */
export function writeCsv<C extends string>(
  columns: readonly C[],
  rows: readonly Readonly<Record<C, string | number | null>>[],
): string {
  const cells = rows.map((row) => columns.map((column) => harmless(row[column])))
  return stringify([[...columns], ...cells], { bom: true, record_delimiter: 'windows' })
}

/**
 * The lines of a table under the named columns; other columns are passed over, so that a person's own notes may
 * stand beside. Comma or semicolon, with or without a byte order mark. Refused at `field`, in words, where the
 * text is no table or a column is missing.
 */
export function readCsv<C extends string>(
  text: string,
  { columns, field }: { columns: readonly C[]; field: string },
): CsvLine<C>[] {
  const rows = tableOf(text, field)
  const head = (rows[0]?.record ?? []).map((name) => name.trim().toLowerCase())
  const missing = columns.filter((column) => !head.includes(column.toLowerCase()))
  if (missing.length > 0)
    refuseField(field, `The first line must name the columns. Missing: ${missing.join(', ')}.`)
  const at = columns.map((column) => head.indexOf(column.toLowerCase()))
  return rows.slice(1).map(({ record, line }) => {
    const cells = columns.map((column, index) => [column, plain(record[at[index]!] ?? '')])
    return { line, cells: Object.fromEntries(cells) as Record<C, string> }
  })
}

type Row = { record: string[]; line: number }

function tableOf(text: string, field: string): Row[] {
  const firstLine = text.slice(0, text.search(/[\r\n]|$/))
  const delimiter = firstLine.split(';').length > firstLine.split(',').length ? ';' : ','
  try {
    const read = parse(text, {
      bom: true,
      delimiter,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
    }) as unknown as { record: string[]; info: { lines: number } }[]
    return read.map(({ record, info }) => ({ record, line: info.lines }))
  } catch (error) {
    const line = error instanceof Error ? /on line (\d+)|at line (\d+)/.exec(error.message) : null
    const where = line ? ` Look at line ${line[1] ?? line[2]}.` : ''
    return refuseField(field, `This cannot be read as a table: a quotation mark may be missing.${where}`)
  }
}

function harmless(value: string | number | null): string {
  if (value === null) return ''
  if (typeof value === 'number') return String(value)
  return /^[=+\-@\t\r]/.test(value) && !/^-?\d+([.,]\d+)?$/.test(value) ? `'${value}` : value
}

function plain(cell: string): string {
  const trimmed = cell.trim()
  return /^'[=+\-@]/.test(trimmed) ? trimmed.slice(1) : trimmed
}
