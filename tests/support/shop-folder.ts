import { randomUUID } from 'node:crypto'
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, renameSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sha256 } from '../../lib/data/hash'
import { migrate, readMigrations } from '../../lib/data/migrate'
import { openStore, type Store } from '../../lib/data/store'

export type FreshFolder = { folder: string; store: Store; dispose(): Promise<void> }

/**
 * A new empty shop of its own for one test: the database is a copy of one that was migrated once, so that a
 * test pays a file copy and not the migrations. `await dispose()` closes and removes it.
 */
export async function freshFolder(): Promise<FreshFolder> {
  const folder = await emptyShopFolder()
  const store = await openStore(folder)
  return {
    folder,
    store,
    async dispose() {
      await store.close()
      removeFolder(folder)
    },
  }
}

/** The folder alone, with its database in it, for a test that opens it itself or in another process. */
export async function emptyShopFolder(): Promise<string> {
  const folder = scratchFolder()
  copyFileSync(await templateDatabase(), join(folder, 'shop.db'))
  return folder
}

/** An empty folder that a test may fill; remove it with `removeFolder`. */
export function scratchFolder(): string {
  return mkdtempSync(join(tmpdir(), 'stand-ledger-test-'))
}

export function removeFolder(folder: string): void {
  rmSync(folder, { recursive: true, force: true })
}

/**
 * An empty shop's database in this version's form. Made under another name and renamed: of several workers that make it
 * at once, whichever wins is whole.
 */
export async function templateDatabase(): Promise<string> {
  const name = sha256(
    readMigrations()
      .map(({ id, sql }) => `${id}\n${sql}`)
      .join('\n'),
  )
  const folder = join(tmpdir(), 'stand-ledger-templates')
  const file = join(folder, `${name}.db`)
  if (existsSync(file)) return file
  const making = join(folder, `${name}.${randomUUID()}`)
  mkdirSync(folder, { recursive: true })
  await migrate({ layout: { database: making, beforeMigrations: folder }, say: () => {} })
  renameSync(making, file)
  return file
}
