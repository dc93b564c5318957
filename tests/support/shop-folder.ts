import { randomUUID } from 'node:crypto'
import {
  copyFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
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
  return opened(folder, await openStore(folder))
}

function opened(folder: string, store: Store): FreshFolder {
  const dispose = async () => {
    await store.close()
    removeFolder(folder)
  }
  return { folder, store, dispose }
}

/**
 * A copy of a shop that is made once a run, and what its maker told of it: a test pays the copy alone. Made under
 * another name and renamed: of several workers at once, whichever wins is whole.
 */
export async function copyOfMade<Told>(
  name: string,
  make: (store: Store) => Promise<Told>,
): Promise<FreshFolder & { told: Told }> {
  const shared = process.env.STAND_LEDGER_TEST_RUN
  if (!shared) throw new Error('tests/support/global-setup.ts has not run')
  const made = join(shared, name)
  if (!existsSync(made)) {
    const making = join(shared, `${name}-${randomUUID()}`)
    const shop = join(making, 'shop')
    mkdirSync(shop, { recursive: true })
    copyFileSync(await templateDatabase(), join(shop, 'shop.db'))
    const store = await openUnplugged(shop)
    const told = await make(store)
    await store.close()
    writeFileSync(join(making, 'told.json'), JSON.stringify(told ?? null))
    try {
      renameSync(making, made)
    } catch (error) {
      if (!existsSync(made)) throw error
    }
  }
  const told = JSON.parse(readFileSync(join(made, 'told.json'), 'utf8')) as Told
  const folder = scratchFolder()
  cpSync(join(made, 'shop'), folder, { recursive: true })
  return { ...opened(folder, await openUnplugged(folder)), told }
}

/** No test of a deed pulls the plug, so none waits for the disk: those that do (tests/harm) open their shops themselves. */
async function openUnplugged(folder: string): Promise<Store> {
  const store = await openStore(folder)
  await store.db.$executeRawUnsafe('PRAGMA synchronous = OFF')
  return store
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
