import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { pathToFileURL } from 'node:url'
import {
  bindMigrationAwareSqlAdapterFactory,
  type SqlMigrationAwareDriverAdapterFactory,
} from '@prisma/driver-adapter-utils'
import type { MigrationDirectory, MigrationList, SchemaEngine } from '@prisma/schema-engine-wasm'
import { projectRoot } from './root'

/** All tables are ours: nothing is kept out of a comparison. */
export const everything = { externalTables: [], externalEnums: [] }

/**
 * Prisma's schema engine as WebAssembly. The native one is a download; this one comes with npm. Its package
 * lets nobody import the .wasm file by name, so both halves are taken by their path beside the entry file.
 */
export async function schemaEngine(
  schema: string,
  adapters: SqlMigrationAwareDriverAdapterFactory,
): Promise<SchemaEngine> {
  const { SchemaEngine } = await loadEngine()
  const models: [string, string][] = [['schema.prisma', schema]]
  return SchemaEngine.new({ datamodels: models }, () => {}, bindMigrationAwareSqlAdapterFactory(adapters))
}

type EngineModule = typeof import('@prisma/schema-engine-wasm') & { __wbg_set_wasm(exports: unknown): void }
let loaded: Promise<EngineModule> | undefined

function loadEngine(): Promise<EngineModule> {
  loaded ??= instantiate()
  return loaded
}

async function instantiate(): Promise<EngineModule> {
  const entry = createRequire(join(projectRoot(), 'package.json')).resolve('@prisma/schema-engine-wasm')
  const folder = dirname(entry)
  const glue = pathToFileURL(join(folder, 'schema_engine_bg.js')).href
  const engine: EngineModule = await import(/* turbopackIgnore: true */ /* @vite-ignore */ glue)
  const wasm = new WebAssembly.Module(readFileSync(join(folder, 'schema_engine_bg.wasm')))
  const instance = new WebAssembly.Instance(wasm, { './schema_engine_bg.js': engine as never })
  engine.__wbg_set_wasm(instance.exports)
  ;(instance.exports.__wbindgen_start as () => void)()
  return engine
}

/** The SQL that turns one schema into the other; empty text when there is no difference. */
export async function sqlBetween(
  engine: SchemaEngine,
  { from, to }: { from: string | null; to: string },
): Promise<string> {
  const datamodel = (content: string) => ({
    tag: 'schemaDatamodel' as const,
    files: [{ path: 'schema.prisma', content }],
  })
  const { stdout } = await engine.diff({
    from: from === null ? { tag: 'empty' } : datamodel(from),
    to: datamodel(to),
    script: true,
    exitCode: null,
    filters: everything,
    // The engine insists on this key although its types do not know it.
    ...{ shadowDatabaseUrl: null },
  })
  const script = stdout ?? ''
  return /^-- This is an empty migration/.test(script.trim()) ? '' : script
}

export type Migration = { id: string; sql: string; schema: string }

export function migrationList(folder: string, migrations: readonly Migration[]): MigrationList {
  const directory = ({ id, sql }: Migration): MigrationDirectory => ({
    path: id,
    migrationFile: { path: 'migration.sql', content: { tag: 'ok', value: sql } },
  })
  return {
    baseDir: folder,
    lockfile: { path: 'migration_lock.toml', content: null },
    shadowDbInitScript: '',
    migrationDirectories: migrations.map(directory),
  }
}
