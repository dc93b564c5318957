import { startingCatalogue } from '../catalogue/starting-catalogue'
import type { Catalogue } from '../core/checks/catalogue'
import type { Db, Tx } from '../data/store'

const tables = {
  check: 'checks',
  fault: 'faults',
  job: 'jobs',
  operation: 'operations',
  caution: 'cautions',
} as const satisfies Record<string, keyof Catalogue>

export type CatalogueKind = keyof typeof tables

/**
 * What the shop works with: the starting catalogue with the shop's own edits merged over it when it is read,
 * so that an upgrade of the one never overwrites the other.
 */
export async function readCatalogue(db: Db | Tx): Promise<Catalogue> {
  const changes = await db.catalogueChange.findMany({ orderBy: { id: 'asc' } })
  if (changes.length === 0) return startingCatalogue
  const merged: Record<string, readonly { key: string }[]> = { ...startingCatalogue }
  for (const change of changes) {
    const table = tables[change.kind as CatalogueKind]
    const patch = JSON.parse(change.patch) as object
    merged[table] = (merged[table] ?? []).map((entry) =>
      entry.key === change.key ? { ...entry, ...patch } : entry,
    )
  }
  return merged as unknown as Catalogue
}
