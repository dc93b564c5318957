import { mkdirSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { PrismaBetterSqlite3 } from '@prisma/adapter-better-sqlite3'
import type { SqlMigrationAwareDriverAdapterFactory, SqlQuery } from '@prisma/driver-adapter-utils'
import Database from 'better-sqlite3'
import { everything, type Migration, migrationList, schemaEngine } from './engine'
import type { FolderLayout } from './folder'
import { sha256 } from './hash'
import { projectRoot } from './root'

export type MigrateOptions = {
  layout: Pick<FolderLayout, 'database' | 'beforeMigrations'>
  say: (line: string) => void
  migrations?: readonly Migration[]
}

export type MigrateResult = { applied: string[]; backup: string | null }

export function migrationsFolder(): string {
  return join(projectRoot(), 'prisma', 'migrations')
}

/** The project's migrations in order, each with the schema it leads to. */
export function readMigrations(): Migration[] {
  const folder = migrationsFolder()
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort()
    .map((id) => ({
      id,
      sql: readText(join(folder, id, 'migration.sql')),
      schema: readText(join(folder, id, 'schema.prisma')),
    }))
}

/** A checkout may have given the file other line ends; its checksum must not depend on that. */
function readText(file: string): string {
  return readFileSync(file, 'utf8').replaceAll('\r\n', '\n')
}

/**
 * Brings a database to the form this version of the program works with, or leaves it exactly as it was.
 * A database that holds anything is copied first. Nobody else may have it open for writing.
 */
export async function migrate(options: MigrateOptions): Promise<MigrateResult> {
  const { layout, say, migrations = readMigrations() } = options
  const database = new Database(layout.database)
  try {
    const done = appliedMigrations(database)
    refuseUnknown(done, migrations)
    const missing = migrations.filter(({ id }) => !done.has(id))
    if (missing.length === 0) return { applied: [], backup: null }

    const backup = done.size === 0 ? null : copyAside({ database, layout, before: missing[0]!.id, say })
    say(`Bringing the database to this version: ${missing.map(({ id }) => id).join(', ')} ...`)
    const applied = await applyAll(database, migrations)
    say('The database is ready.')
    return { applied, backup }
  } finally {
    database.close()
  }
}

/** Prisma's own table says what was applied, under which checksum. */
function appliedMigrations(database: Database.Database): Map<string, string> {
  const table = database.prepare("SELECT 1 FROM sqlite_master WHERE name = '_prisma_migrations'").get()
  if (!table) return new Map()
  const rows = database
    .prepare<[], { id: string; checksum: string }>(
      'SELECT migration_name AS id, checksum FROM _prisma_migrations WHERE finished_at IS NOT NULL',
    )
    .all()
  return new Map(rows.map(({ id, checksum }) => [id, checksum]))
}

function refuseUnknown(done: Map<string, string>, migrations: readonly Migration[]): void {
  const known = new Map(migrations.map(({ id, sql }) => [id, sha256(sql)]))
  for (const [id, checksum] of done) {
    if (!known.has(id)) {
      throw new Error(
        `This shop was last opened by a newer version of the program (its database knows "${id}"). ` +
          'Start that version, or put an older backup into a new folder with "npm run restore".',
      )
    }
    if (known.get(id) !== checksum) {
      throw new Error(
        `The migration ${id} is not the one this database was made with. ` +
          'Migrations are never edited: bring its file back and write a new one.',
      )
    }
  }
}

type CopyAside = {
  database: Database.Database
  layout: MigrateOptions['layout']
  before: string
  say: (line: string) => void
}

function copyAside({ database, layout, before, say }: CopyAside): string {
  mkdirSync(layout.beforeMigrations, { recursive: true })
  const instant = new Date().toISOString().replaceAll(':', '')
  const file = join(layout.beforeMigrations, `${instant}-before-${before}.db`)
  say(`Keeping a copy of the database as it is: ${file}`)
  database.prepare('VACUUM INTO ?').run(file)
  return file
}

/**
 * All missing migrations in one transaction.
 *
 * SQLite changes a table by building a new one and dropping the old, and with foreign keys on, the drop
 * deletes the rows that point at it. The scripts switch them off, but inside a transaction that does
 * nothing: so they are off on this connection before it begins, and every reference is checked before the
 * end. What fails leaves no trace, not even a half-written row in Prisma's table.
 */
async function applyAll(database: Database.Database, migrations: readonly Migration[]): Promise<string[]> {
  database.pragma('synchronous = FULL')
  database.pragma('foreign_keys = OFF')
  database.exec('BEGIN IMMEDIATE')
  try {
    const engine = await schemaEngine(migrations.at(-1)!.schema, throughOpen(database))
    const { appliedMigrationNames } = await engine.applyMigrations({
      migrationsList: migrationList(migrationsFolder(), migrations),
      filters: everything,
    })
    refuseBrokenReferences(database)
    database.exec('COMMIT')
    return appliedMigrationNames
  } catch (error) {
    if (database.inTransaction) database.exec('ROLLBACK')
    throw error
  }
}

function refuseBrokenReferences(database: Database.Database): void {
  const broken = database.pragma('foreign_key_check') as { table: string; parent: string }[]
  if (broken.length === 0) return
  const { table, parent } = broken[0]!
  throw new Error(
    `After the migration ${broken.length} rows would point at nothing (first: ${table} at ${parent}). ` +
      'The database was left as it was.',
  )
}

/**
 * Lets the engine speak over the connection that is already inside our transaction: the stock adapter, which
 * knows how to translate rows, with its own connection exchanged for ours. The engine's wish for an exclusive
 * lock on the file is left out: the transaction holds the lock, and the wish would outlive it.
 */
function throughOpen(database: Database.Database): SqlMigrationAwareDriverAdapterFactory {
  const stock = new PrismaBetterSqlite3({ url: ':memory:' })
  database.defaultSafeIntegers(true)
  return {
    provider: stock.provider,
    adapterName: stock.adapterName,
    connectToShadowDb: () => stock.connectToShadowDb(),
    async connect() {
      const inner = await stock.connect()
      await inner.dispose()
      Object.assign(inner, { client: database })
      return {
        provider: inner.provider,
        adapterName: inner.adapterName,
        queryRaw: (query) => inner.queryRaw(query),
        executeRaw: async (query) => (isLockingMode(query) ? 0 : inner.executeRaw(query)),
        executeScript: (script) => inner.executeScript(script),
        startTransaction: (level) => inner.startTransaction(level),
        dispose: async () => {},
      }
    },
  }
}

function isLockingMode({ sql }: SqlQuery): boolean {
  return /^PRAGMA main\.locking_mode\b/i.test(sql)
}
