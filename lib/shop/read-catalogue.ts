import type { Caution, Instrument } from '../core/checks/catalogue'
import {
  type CatalogueProblem,
  catalogueProblems,
  type EntryKind,
  entryKinds,
  type Naming,
  namedBy,
} from '../core/checks/catalogue-problems'
import type { Db } from '../data/store'
import { type CataloguePatch, type Entry, isOwn, mergeCatalogue, startingEntry, tables } from './catalogue'
import {
  type CatalogueEvent,
  type EntryChanged,
  type EntryDone,
  entryIn,
  knownInstruments,
} from './catalogue-change'
import { isGuarded } from './catalogue-forms'
import { type Typed, typedEntry, typedWhole } from './catalogue-typed'
import { searchKey } from './fields'
import { refuse } from './refusal'

/** Whose an entry is: as it started, changed by the shop, added by it, or out of use. */
export type EntryState = 'starting' | 'changed' | 'own' | 'out of use'

export type EntryListed = { key: string; title: string; entry: Entry; state: EntryState }

type Row = { kind: string; key: string; patch: string; version: number }

function stateOf(key: string, patch: CataloguePatch | undefined): EntryState {
  if (patch?.outOfUse) return 'out of use'
  if (isOwn(key)) return 'own'
  return patch && Object.keys(patch).length > 0 ? 'changed' : 'starting'
}

async function readAll(db: Db) {
  const rows: Row[] = await db.catalogueChange.findMany({
    orderBy: { id: 'asc' },
    select: { kind: true, key: true, patch: true, version: true },
  })
  const whole = mergeCatalogue(rows, { withOutOfUse: true })
  const patch = (kind: EntryKind, key: string) => {
    const row = rows.find((one) => one.kind === kind && one.key === key)
    return row && (JSON.parse(row.patch) as CataloguePatch)
  }
  return { rows, catalogue: mergeCatalogue(rows), whole, patch }
}

/** How many entries of each kind there are and how many the shop set, and what does not hold together. */
export async function readCatalogueOverview(db: Db): Promise<{
  kinds: readonly { kind: EntryKind; all: number; changed: number; own: number; outOfUse: number }[]
  problems: readonly (CatalogueProblem & { title: string })[]
}> {
  const { catalogue, whole, patch } = await readAll(db)
  const kinds = entryKinds.map((kind) => {
    const entries: readonly Entry[] = whole[tables[kind]]
    const states = entries.map(({ key }) => stateOf(key, patch(kind, key)))
    const count = (state: EntryState) => states.filter((one) => one === state).length
    return {
      kind,
      all: entries.length - count('out of use'),
      changed: count('changed'),
      own: count('own'),
      outOfUse: count('out of use'),
    }
  })
  const problems = catalogueProblems(catalogue).map((problem) => ({
    ...problem,
    title: entryIn(whole, problem)?.title ?? problem.key,
  }))
  return { kinds, problems }
}

/** The entries of a kind, those out of use among them, in the order of the catalogue; by words of their titles. */
export async function readCatalogueList(
  db: Db,
  { kind, search }: { kind: EntryKind; search: string },
): Promise<{ all: number; entries: EntryListed[]; currency: string }> {
  const [{ whole, patch }, { currency }] = await Promise.all([readAll(db), db.shop.findFirstOrThrow()])
  const entries: readonly Entry[] = whole[tables[kind]]
  const listed = entries.map((entry): EntryListed => {
    const { key, title } = entry
    return { key, title, entry, state: stateOf(key, patch(kind, key)) }
  })
  const words = search
    .split(/\s+/)
    .map(searchKey)
    .filter((word) => word !== '')
  return {
    currency,
    all: listed.length,
    entries: listed.filter(({ key, title }) =>
      words.every((word) => searchKey(`${title} ${key}`).includes(word)),
    ),
  }
}

export type HistoryLine = {
  seq: number
  at: Date
  by: string | null
  done: EntryDone
  /** By the name of its field: what stood there before and after, as typed. */
  fields: readonly { field: string; from: string; to: string }[]
}

export type EntryTitles = { readonly [K in EntryKind]: Readonly<Record<string, string>> }
export type CauseChoice = { fault: string; job: string }

/** What the forms of the catalogue offer to choose from: only what is in use. */
export type CatalogueChoices = {
  titles: EntryTitles
  causes: readonly CauseChoice[]
  cautions: readonly Pick<Caution, 'key' | 'title'>[]
  instruments: readonly Instrument[]
}

export type EntryShown = CatalogueChoices & {
  kind: EntryKind
  key: string
  entry: Entry
  state: EntryState
  version: number
  typed: Typed
  /** Null for an entry of the shop's own. */
  starting: Typed | null
  /** A stop that only its job opens: some of it cannot be taken away. */
  guarded: boolean
  /** Who set a field last, by its name up to the first dot. */
  setBy: Readonly<Record<string, { by: string | null; at: Date }>>
  history: readonly HistoryLine[]
  named: readonly Naming[]
  currency: string
  zone: string
}

export async function readCatalogueChoices(db: Db): Promise<CatalogueChoices & { currency: string }> {
  const [{ catalogue }, { currency }] = await Promise.all([readAll(db), db.shop.findFirstOrThrow()])
  return { ...choicesOf(catalogue), currency }
}

function choicesOf(catalogue: Parameters<typeof namedBy>[0]): CatalogueChoices {
  const titles = Object.fromEntries(
    entryKinds.map((kind) => {
      const entries: readonly Entry[] = catalogue[tables[kind]]
      return [kind, Object.fromEntries(entries.map(({ key, title }) => [key, title]))]
    }),
  ) as EntryTitles
  return {
    titles,
    causes: catalogue.faults.flatMap(({ key, causes = [] }) =>
      causes.map(({ job }) => ({ fault: key, job })),
    ),
    cautions: catalogue.cautions.map(({ key, title }) => ({ key, title })),
    instruments: knownInstruments,
  }
}

/** One entry with its fields, whose each is, and everything that was ever done to it. */
export async function readCatalogueEntry(
  db: Db,
  { kind, key }: { kind: EntryKind; key: string },
): Promise<EntryShown> {
  const [{ rows, catalogue, whole, patch }, shop, history] = await Promise.all([
    readAll(db),
    db.shop.findFirstOrThrow(),
    readHistory(db, { kind, key }),
  ])
  const entry = entryIn(whole, { kind, key }) ?? refuse('not-found', `That ${kind} is not in the catalogue.`)
  const first = startingEntry(kind, key)
  const setBy: Record<string, { by: string | null; at: Date }> = {}
  for (const { fields, by, at } of [...history].reverse())
    for (const { field } of fields) setBy[headOf(field)] = { by, at }
  return {
    ...choicesOf(catalogue),
    kind,
    key,
    entry,
    state: stateOf(key, patch(kind, key)),
    version: rows.find((one) => one.kind === kind && one.key === key)?.version ?? 0,
    typed: typedWhole(kind, entry),
    starting: first && typedWhole(kind, first),
    guarded: first !== null && 'call' in first && isGuarded(first),
    setBy,
    history,
    named: namedBy(catalogue, { kind, key }),
    currency: shop.currency,
    zone: shop.zone,
  }
}

/** `limit.min` belongs to `limit`, `locks[]` to `locks`. */
export function headOf(field: string): string {
  return field.replace(/[.[].*$/, '')
}

/** Every change of one entry, the latest first. */
async function readHistory(db: Db, { kind, key }: { kind: EntryKind; key: string }): Promise<HistoryLine[]> {
  // The key stands in the event as JSON wrote it; what else holds the same text is sorted out below.
  const named = JSON.stringify(key)
  const events = await db.event.findMany({
    where: { verb: 'catalogue:change', body: { contains: named } },
    orderBy: { seq: 'desc' },
  })
  const people = await db.person.findMany({
    where: { id: { in: events.flatMap(({ personId }) => personId ?? []) } },
    select: { id: true, name: true },
  })
  const names = new Map(people.map(({ id, name }) => [id, name]))
  return events.flatMap(({ seq, at, personId, body }) =>
    changesIn(body, kind)
      .filter((change) => change.key === key)
      .map(({ done, before, after }): HistoryLine => {
        const from = typedEntry(kind, before)
        const to = typedEntry(kind, after)
        const fields = [...new Set([...Object.keys(from), ...Object.keys(to)])]
          .map((field) => ({ field, from: from[field] ?? '', to: to[field] ?? '' }))
          .filter((line) => line.from !== line.to)
        return { seq, at, by: names.get(personId ?? '') ?? null, done, fields }
      }),
  )
}

/** Hours and prices of a job were told without what they were before, once. */
type FiguresEvent = { job: string } & Record<string, unknown>

function changesIn(text: string, kind: EntryKind): readonly EntryChanged[] {
  const body = JSON.parse(text) as CatalogueEvent | FiguresEvent
  if ('job' in body) {
    const { job, ...after } = body as FiguresEvent
    return kind === 'job' ? [{ key: job, done: 'changed', before: {}, after }] : []
  }
  if (body.kind !== kind) return []
  return body.done === 'table taken in' ? body.entries : [body]
}
