import { uuidv7 } from 'uuidv7'
import { startingCatalogue } from '../catalogue/starting-catalogue'
import type { Catalogue, Instrument } from '../core/checks/catalogue'
import { type CatalogueProblem, catalogueProblems, type EntryKind } from '../core/checks/catalogue-problems'
import type { Tx } from '../data/store'
import {
  type CataloguePatch,
  type Entry,
  mergeCatalogue,
  type PatchOn,
  patchBetween,
  startingEntry,
  tables,
} from './catalogue'
import { type Before, type Draft, entryFromForm, slug } from './catalogue-forms'
import { typedWhole } from './catalogue-typed'
import { requireFresh } from './deed'
import { type FieldMessages, refuse } from './refusal'

/** What was done to an entry; told with what each field was before and is after. */
export type EntryDone =
  | 'changed'
  | 'added'
  | 'taken out of use'
  | 'taken up again'
  | 'back to starting values'

/** What the event of a change says; a table that was taken in names all its entries. */
export type CatalogueEvent =
  | ({ kind: EntryKind } & EntryChanged)
  | { kind: EntryKind; done: 'table taken in'; entries: readonly EntryChanged[] }
export type EntryChanged = {
  key: string
  done: EntryDone
  before: Record<string, unknown>
  after: Record<string, unknown>
}

/** All edits as they are stored, and what they make. */
export type Stored = {
  rows: readonly (PatchOn & { version: number })[]
  /** Without what is out of use. */
  catalogue: Catalogue
  /** With it. */
  whole: Catalogue
}

export async function readStored(tx: Tx): Promise<Stored> {
  const rows = await tx.catalogueChange.findMany({
    orderBy: { id: 'asc' },
    select: { kind: true, key: true, patch: true, version: true },
  })
  return { rows, catalogue: mergeCatalogue(rows), whole: mergeCatalogue(rows, { withOutOfUse: true }) }
}

export function entryIn(catalogue: Catalogue, { kind, key }: { kind: EntryKind; key: string }): Entry | null {
  const entries: readonly Entry[] = catalogue[tables[kind]]
  return entries.find((entry) => entry.key === key) ?? null
}

export function patchOf(
  { rows }: Stored,
  { kind, key }: { kind: EntryKind; key: string },
): CataloguePatch | null {
  const row = rows.find((one) => one.kind === kind && one.key === key)
  return row ? (JSON.parse(row.patch) as CataloguePatch) : null
}

/** One entry as it is to be from now on, not yet written. */
export type Edit = { kind: EntryKind; key: string; patch: CataloguePatch; change: EntryChanged }

/**
 * Makes an edit of a form: the entry, what is wrong with it by the field, and what it would do. Titles are what
 * people know entries by, so that two of a kind cannot share one.
 */
export function editFromForm(
  stored: Stored,
  given: { before: Before; draft: Draft<EntryKind> },
): { edit: Edit; messages: FieldMessages; fieldOf: (path: string) => string } {
  const { before, draft } = given
  const { kind, key } = before
  const { entry, messages, fieldOf } = entryFromForm(before, draft, knownInstruments)
  const others: readonly Entry[] = stored.whole[tables[kind]]
  const called = entry.title.toLowerCase()
  // Starting entries may share one where they never stand beside one another: cast and spoked rims.
  const renamed = before.now?.title.toLowerCase() !== called
  if (renamed && others.some((other) => other.key !== key && other.title.toLowerCase() === called))
    messages.title ??= `There is a ${kind} with this title. Give it another, or open that one.`
  const outOfUse = patchOf(stored, { kind, key })?.outOfUse
  const edit: Edit = {
    kind,
    key,
    patch: { ...patchFor(kind, entry), ...(outOfUse && { outOfUse }) },
    change: before.now
      ? { key, done: 'changed', ...bothWays(before.now, entry) }
      : { key, done: 'added', before: {}, after: withoutKey(entry) },
  }
  return { edit, messages, fieldOf }
}

/** What an entry differs in from its starting values; all of it where it is the shop's own. */
function patchFor(kind: EntryKind, entry: Entry): CataloguePatch {
  const first = startingEntry(kind, entry.key)
  return first ? patchBetween(first, entry) : withoutKey(entry)
}

function withoutKey({ key: _, ...fields }: Entry): Record<string, unknown> {
  return fields
}

export function bothWays(before: Entry, after: Entry) {
  return { before: patchBetween(after, before), after: patchBetween(before, after) }
}

/** Every tool that a starting check is read with, by its key. */
export const knownInstruments: readonly Instrument[] = [
  ...new Map(
    startingCatalogue.checks
      .flatMap((check) => (check.sort === 'measured' ? check.instruments : []))
      .map((tool) => [tool.key, tool]),
  ).values(),
]

/** A key for a new entry of this title, that no other has. */
export function newKey({ whole }: Stored, { kind, title }: { kind: EntryKind; title: string }): string {
  const base = `own-${slug(title) || kind}`
  const taken = (key: string) => entryIn(whole, { kind, key }) !== null
  let key = base
  for (let number = 2; taken(key); number++) key = `${base}-${number}`
  return key
}

/** What would be wrong with the catalogue after some edits and is not wrong now. */
export function newProblems(stored: Stored, edits: readonly Edit[]): CatalogueProblem[] {
  const known = new Set(catalogueProblems(stored.catalogue).map(nameOf))
  return catalogueProblems(mergeCatalogue(withEdits(stored.rows, edits))).filter(
    (problem) => !known.has(nameOf(problem)),
  )
}

const nameOf = ({ kind, key, field, says }: CatalogueProblem) => [kind, key, field, says].join('\n')

function withEdits(rows: readonly PatchOn[], edits: readonly Edit[]): PatchOn[] {
  const all = new Map(rows.map(({ kind, key, patch }) => [`${kind} ${key}`, { kind, key, patch }]))
  for (const { kind, key, patch } of edits)
    all.set(`${kind} ${key}`, { kind, key, patch: JSON.stringify(patch) })
  return [...all.values()]
}

/** Refuses where a form or the whole catalogue would not be right, each thing at its field. */
export function requireSound(
  stored: Stored,
  { edit, messages, fieldOf }: { edit: Edit; messages: FieldMessages; fieldOf: (path: string) => string },
): void {
  const fields = { ...messages }
  // Only a form that is right by itself is held against the others: what is missing would be told twice.
  const problems = Object.keys(fields).length > 0 ? [] : newProblems(stored, [edit])
  for (const problem of problems) {
    const mine = problem.kind === edit.kind && problem.key === edit.key
    if (mine) fields[fieldOf(problem.field)] ??= problem.says
    else fields[''] ??= `${titleOf(stored, problem)}: ${problem.says}`
  }
  const count = Object.keys(fields).length
  if (count === 0) return
  refuse('malformed', count === 1 ? 'One field needs another look.' : `${count} fields need another look.`, {
    fields,
  })
}

export function titleOf({ whole }: Stored, of: { kind: EntryKind; key: string }): string {
  return entryIn(whole, of)?.title ?? of.key
}

/** The version that was seen must be the one stored; what is stored now is told field by field. */
export function requireSeen(
  stored: Stored,
  { kind, key, version }: { kind: EntryKind; key: string; version: number },
): void {
  const row = stored.rows.find((one) => one.kind === kind && one.key === key)
  const now = entryIn(stored.whole, { kind, key })
  requireFresh(row?.version === version || (!row && version === 0) ? 1 : 0, {
    ...(now && typedWhole(kind, now)),
    version: String(row?.version ?? 0),
  })
}

/** Writes an edit. Nobody else writes meanwhile: a transaction holds the one lock. */
export async function writeEdit(
  tx: Tx,
  { edit, personId, at }: { edit: Edit; personId: string; at: Date },
): Promise<void> {
  const { kind, key } = edit
  const patch = JSON.stringify(edit.patch)
  await tx.catalogueChange.upsert({
    where: { kind_key: { kind, key } },
    create: { id: uuidv7(), kind, key, patch, personId, at },
    update: { patch, personId, at, version: { increment: 1 } },
  })
}
