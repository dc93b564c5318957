import { startingCatalogue } from '../catalogue/starting-catalogue'
import { type Catalogue, type Check, rounds } from '../core/checks/catalogue'
import type { EntryKind } from '../core/checks/catalogue-problems'
import type { Db, Tx } from '../data/store'
import { withoutGaps } from './catalogue-gaps'

export const tables = {
  check: 'checks',
  fault: 'faults',
  job: 'jobs',
  operation: 'operations',
} as const satisfies Record<EntryKind, keyof Catalogue>

export type EntryOf<K extends EntryKind> = Catalogue[(typeof tables)[K]][number]
export type Entry = EntryOf<EntryKind>

/**
 * What a shop set on one entry: by field the value that takes the place of the starting one, `null` where the
 * field is taken away. An entry of the shop's own has all its fields here. `outOfUse` takes the whole entry out
 * of use; what else stands in the patch is kept for the day it is taken up again.
 */
export type CataloguePatch = Readonly<Record<string, unknown>> & { readonly outOfUse?: true }

export type PatchOn = { kind: string; key: string; patch: string }

/** Before the key of every entry of a shop's own, so that no starting entry to come can have the same. */
export const ownPrefix = 'own-'

export function isOwn(key: string): boolean {
  return key.startsWith(ownPrefix)
}

/**
 * What the shop works with: the starting catalogue with the shop's own edits merged over it when it is read,
 * so that an upgrade of the one never overwrites the other.
 */
export async function readCatalogue(db: Db | Tx): Promise<Catalogue> {
  return mergedOnce(await readPatches(db))
}

export async function readPatches(db: Db | Tx): Promise<PatchOn[]> {
  return db.catalogueChange.findMany({
    orderBy: { id: 'asc' },
    select: { kind: true, key: true, patch: true },
  })
}

/** The catalogue for the patches; nothing is parsed twice while they are the same, letter for letter. */
function mergedOnce(patches: readonly PatchOn[]): Catalogue {
  const text = patches.map(({ kind, key, patch }) => `${kind} ${key} ${patch}`).join('\n')
  const known = merged.get(text)
  if (known) return known
  const made = withoutGaps(mergeCatalogue(patches))
  // One for what is stored and a few for edits that are tried and refused.
  if (merged.size >= 4) merged.delete(merged.keys().next().value ?? '')
  merged.set(text, made)
  return made
}

const merged = new Map<string, Catalogue>()

/**
 * The starting catalogue with patches over it. Starting entries keep their places, the shop's own come behind
 * them in the order they were made, its checks behind those of their round.
 */
export function mergeCatalogue(
  patches: readonly PatchOn[],
  { withOutOfUse = false }: { withOutOfUse?: boolean } = {},
): Catalogue {
  if (patches.length === 0) return startingCatalogue
  const table = <K extends EntryKind>(kind: K): EntryOf<K>[] => {
    const mine = patches
      .filter((one) => one.kind === kind)
      .map(({ key, patch }) => ({ key, patch: JSON.parse(patch) as CataloguePatch }))
    const byKey = new Map(mine.map(({ key, patch }) => [key, patch]))
    const starting: readonly Entry[] = startingCatalogue[tables[kind]]
    return [
      ...starting,
      ...mine.filter(({ key }) => isOwn(key)).map(({ key }) => ({ key }) as Entry),
    ].flatMap((entry) => {
      const patch = byKey.get(entry.key)
      if (!patch) return [entry as EntryOf<K>]
      return patch.outOfUse && !withOutOfUse ? [] : [patched(entry, patch) as EntryOf<K>]
    })
  }
  return {
    checks: table('check').sort(byRound),
    faults: table('fault'),
    jobs: table('job'),
    operations: table('operation'),
    cautions: startingCatalogue.cautions,
    careSigns: startingCatalogue.careSigns,
  }
}

/** Sorting keeps the order of equals, so each round keeps its own. */
const byRound = (a: Check, b: Check) => rounds.indexOf(a.round) - rounds.indexOf(b.round)

function patched(entry: Entry, patch: CataloguePatch): Entry {
  const { outOfUse: _, ...fields } = patch
  const all = Object.entries({ ...entry, ...fields }).filter(([, value]) => value !== null)
  // A check without a limit says so with null: there the key must stay.
  const limitless = 'limit' in fields ? fields.limit === null : 'limit' in entry && entry.limit === null
  return { ...Object.fromEntries(all), ...(limitless && { limit: null }) } as Entry
}

/** What an entry was on the first day; null for one of the shop's own. */
export function startingEntry(kind: EntryKind, key: string): Entry | null {
  const entries: readonly Entry[] = startingCatalogue[tables[kind]]
  return entries.find((entry) => entry.key === key) ?? null
}

/** The fields of `to` that are not those of `from`: null for what is there no longer. */
export function patchBetween(from: object, to: object): Record<string, unknown> {
  const before = from as Record<string, unknown>
  const after = to as Record<string, unknown>
  const fields = [...new Set([...Object.keys(before), ...Object.keys(after)])]
  return Object.fromEntries(
    fields
      .filter((field) => !sameValue(before[field], after[field]))
      .map((field) => [field, after[field] ?? null]),
  )
}

/** Whether two plain values say the same, in whatever order their keys stand; undefined is a missing key. */
export function sameValue(a: unknown, b: unknown): boolean {
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null)
    return (a ?? null) === (b ?? null)
  if (Array.isArray(a) !== Array.isArray(b)) return false
  const keys = new Set([...Object.keys(a), ...Object.keys(b)])
  const left = a as Record<string, unknown>
  const right = b as Record<string, unknown>
  return [...keys].every((key) => sameValue(left[key], right[key]))
}
