import { z } from 'zod'
import type { Check } from '../core/checks/catalogue'
import { type EntryKind, entryKinds } from '../core/checks/catalogue-problems'
import { canonicalJson, sha256 } from '../data/hash'
import type { Tx } from '../data/store'
import {
  type Edit,
  type EntryChanged,
  editFromForm,
  entryIn,
  newKey,
  newProblems,
  readStored,
  type Stored,
  titleOf,
  writeEdit,
} from './catalogue-change'
import { columnOf, entriesOfTable, type TableEntry } from './catalogue-csv'
import { type Draft, entryForms } from './catalogue-forms'
import { nested, type Typed, typedWhole } from './catalogue-typed'
import { tableInTwoSteps } from './csv'
import { type Done, deed } from './deed'
import { type FieldMessages, refuse, refuseField } from './refusal'

export const importCatalogueInput = z.strictObject({
  kind: z.enum(entryKinds),
  ...tableInTwoSteps,
})

/** What one entry of a table would do. */
export type TableLine = {
  line: number
  title: string
  is: 'same' | 'changed' | 'new' | 'refused'
  changes: readonly { column: string; from: string; to: string }[]
  refusals: readonly { line: number; column: string; says: string }[]
}

export type TableTrial = {
  kind: EntryKind
  /** The table again, so that the second step needs no file. */
  table: string
  /** Stands for the table and all that it was held against; empty where nothing can be applied. */
  seen: string
  lines: readonly TableLine[]
  counts: Readonly<Record<TableLine['is'], number>>
  applied: boolean
}

/**
 * Takes a table in, in two steps. The first changes nothing and tells line by line what would change, what is
 * new and what is refused. The second does all of it or nothing, and only if nothing moved since the first.
 */
export const importCatalogue = deed(
  'catalogue:change',
  importCatalogueInput,
  async (input, { tx, now, who }): Promise<Done<TableTrial>> => {
    const { kind, table, seen } = input
    const stored = await readStored(tx)
    const { lines, edits } = plan(stored, { kind, entries: entriesOfTable(table, { kind, field: 'table' }) })
    const counts = countsOf(lines)
    const mark = sha256(
      canonicalJson({ kind, table: table.replace(/\r\n?/g, '\n'), state: await stateOf(tx) }),
    )
    const possible = counts.refused === 0 && edits.length > 0
    const trial = { kind, table, seen: possible ? mark : '', lines, counts }
    if (seen === '') return { answer: { ...trial, applied: false }, event: null }
    if (seen !== mark)
      refuse(
        'stale',
        'Something changed since you looked at these lines. Look at them once more, then apply them.',
      )
    if (!possible) refuseField('table', 'Nothing of this table can be applied. Look at its lines again.')
    for (const edit of edits) await writeEdit(tx, { edit, personId: who.personId, at: now })
    const entries: EntryChanged[] = edits.map(({ change }) => change)
    return {
      answer: { ...trial, seen: '', applied: true },
      event: { bikeId: null, body: { kind, done: 'table taken in', entries } },
    }
  },
)

/** Stands for every edit there is: each has its version. */
async function stateOf(tx: Tx): Promise<string> {
  const rows = await tx.catalogueChange.findMany({
    orderBy: { id: 'asc' },
    select: { id: true, version: true },
  })
  return rows.map(({ id, version }) => `${id}:${version}`).join(' ')
}

function plan(
  stored: Stored,
  { kind, entries }: { kind: EntryKind; entries: readonly TableEntry[] },
): { lines: TableLine[]; edits: Edit[] } {
  const planned: { line: TableLine; edit: Edit | null }[] = []
  const keys = new Set<string>()
  for (const entry of entries) {
    const one = planEntry(stored, { kind, entry, keys })
    if (one.edit) keys.add(one.edit.key)
    if (entry.key !== '') keys.add(entry.key)
    planned.push(one)
  }
  const edits = planned.flatMap(({ edit }) => edit ?? [])
  for (const problem of newProblems(stored, edits)) {
    const at =
      planned.find(({ edit }) => edit?.key === problem.key && edit.kind === problem.kind) ??
      planned.find(({ edit }) => edit)
    if (!at) continue
    const says = at.edit?.key === problem.key ? problem.says : `${titleOf(stored, problem)}: ${problem.says}`
    const refusal = { line: at.line.line, column: columnOf(kind, problem.field), says }
    at.line = { ...at.line, is: 'refused', refusals: [...at.line.refusals, refusal] }
  }
  const lines = planned.map(({ line }) => line)
  return { lines, edits: lines.some((line) => line.is === 'refused') ? [] : edits }
}

type Asked = { kind: EntryKind; entry: TableEntry; keys: ReadonlySet<string> }

function planEntry(stored: Stored, { kind, entry, keys }: Asked): { line: TableLine; edit: Edit | null } {
  const { line, key } = entry
  const refused = (column: string, says: string) => ({
    line: {
      line,
      title: entry.title || key,
      is: 'refused',
      changes: [],
      refusals: [{ line, column, says }],
    } as TableLine,
    edit: null,
  })
  if (key !== '' && keys.has(key))
    return refused('key', 'This key stands in the table twice. Keep one of the lines.')
  const now = key === '' ? null : entryIn(stored.catalogue, { kind, key })
  if (key !== '' && !now) {
    const resting = entryIn(stored.whole, { kind, key })
    return refused(
      'key',
      resting
        ? 'It is out of use. Take it up again on its page first, or take the line out.'
        : 'Nothing has this key. Empty the cell for a new one, or take the line out.',
    )
  }
  if (!now && (kind === 'check' || kind === 'fault'))
    return refused('key', `A new ${kind} needs more than a table holds. Add it on its own page.`)
  const was = typedWhole(kind, now ?? {})
  const typed = { ...was, ...sameWhereSaid(was, entry.fields), ...partsOf(was, entry.parts) }
  const ticked = now ? typed : { ...typed, fasteners: 'yes' }
  const read = entryForms[kind].safeParse(nested(dropParts(ticked, entry.parts.length)))
  if (!read.success) {
    const messages: FieldMessages = {}
    for (const { path, message } of read.error.issues) messages[path.join('.')] ??= message
    return { line: lineOf({ kind, entry, was, typed, messages, isNew: !now }), edit: null }
  }
  const newOne = now ? key : freshKey(stored, { kind, title: entry.title, keys })
  const { edit, messages } = editFromForm(stored, {
    before: { kind, key: newOne, now },
    draft: read.data as Draft<EntryKind>,
  })
  if (kind === 'check' && now && (now as Check).sort !== 'measured')
    for (const field of ['limit.min', 'limit.max', 'saleLine.min', 'saleLine.max'])
      if (typed[field]) messages[field] ??= 'Only a check that is measured has this. Empty the cell.'
  const told = lineOf({ kind, entry, was, typed, messages, isNew: !now })
  return { line: told, edit: told.is === 'changed' || told.is === 'new' ? edit : null }
}

function freshKey(
  stored: Stored,
  { kind, title, keys }: { kind: EntryKind; title: string; keys: ReadonlySet<string> },
): string {
  const base = newKey(stored, { kind, title })
  let key = base
  for (let number = 2; keys.has(key); number++) key = `${base}-${number}`
  return key
}

/** A cell that says what is there already, only written otherwise (1,50 for 1.5), changes nothing. */
function sameWhereSaid(was: Typed, said: Typed): Typed {
  return Object.fromEntries(
    Object.entries(said).map(([field, text]) => [
      field,
      sameText(was[field] ?? '', text) ? (was[field] ?? '') : text,
    ]),
  )
}

function sameText(a: string, b: string): boolean {
  const figures = (text: string) => (/^-?\d+([.,]\d+)?$/.test(text) ? Number(text.replace(',', '.')) : null)
  const left = figures(a.trim())
  return a.trim() === b.trim() || (left !== null && left === figures(b.trim()))
}

/** The parts of the table in place of those that were; a job whose lines name none keeps its own. */
function partsOf(was: Typed, parts: TableEntry['parts']): Typed {
  return Object.fromEntries(
    parts.flatMap(({ fields }, index) =>
      Object.entries(sameWhereSaid(stripped(was, `parts.${index}.`), fields)).map(([field, text]) => [
        `parts.${index}.${field}`,
        text,
      ]),
    ),
  )
}

function stripped(typed: Typed, prefix: string): Typed {
  return Object.fromEntries(
    Object.entries(typed).flatMap(([name, text]) =>
      name.startsWith(prefix) ? [[name.slice(prefix.length), text]] : [],
    ),
  )
}

function dropParts(typed: Typed, kept: number): Typed {
  if (kept === 0) return typed
  return Object.fromEntries(
    Object.entries(typed).filter(([name]) => {
      const index = /^parts\.(\d+)\./.exec(name)?.[1]
      return index === undefined || Number(index) < kept
    }),
  )
}

type Told = {
  kind: EntryKind
  entry: TableEntry
  was: Typed
  typed: Typed
  messages: FieldMessages
  isNew: boolean
}

function lineOf({ kind, entry, was, typed, messages, isNew }: Told): TableLine {
  const lineOfField = (field: string) => {
    const index = /^parts\.(\d+)\./.exec(field)?.[1]
    return (index === undefined ? undefined : entry.parts[Number(index)]?.line) ?? entry.line
  }
  const kept = dropParts(typed, entry.parts.length)
  const names = [...new Set([...Object.keys(was), ...Object.keys(kept)])]
  const changes = names
    .filter((name) => (was[name] ?? '') !== (kept[name] ?? ''))
    .map((name) => ({
      column: nameOfPart(name, { was, kept }) + columnOf(kind, name),
      from: was[name] ?? '',
      to: kept[name] ?? '',
    }))
  const refusals = Object.entries(messages).map(([field, says]) => ({
    line: lineOfField(field),
    column: columnOf(kind, field),
    says,
  }))
  const is = refusals.length > 0 ? 'refused' : isNew ? 'new' : changes.length > 0 ? 'changed' : 'same'
  return { line: entry.line, title: entry.title || entry.key, is, changes, refusals }
}

/** Which part a change is about, before the name of its column. */
function nameOfPart(name: string, { was, kept }: { was: Typed; kept: Typed }): string {
  const index = /^parts\.(\d+)\.(?!name$)/.exec(name)?.[1]
  if (index === undefined) return ''
  const part = kept[`parts.${index}.name`] || was[`parts.${index}.name`]
  return part ? `${part}, ` : ''
}

function countsOf(lines: readonly TableLine[]): Record<TableLine['is'], number> {
  const counts = { same: 0, changed: 0, new: 0, refused: 0 }
  for (const { is } of lines) counts[is] += 1
  return counts
}
