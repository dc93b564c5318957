import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { PrismaBetterSqlite3 } from '@prisma/adapter-better-sqlite3'
import { schemaEngine, sqlBetween } from '../data/engine'
import { migrationsFolder, readMigrations } from '../data/migrate'
import { projectRoot } from '../data/root'

/**
 * npm run migration -- NAME
 *
 * Writes the next migration: the SQL from the schema that the last one led to, to prisma/schema.prisma as it
 * is now. A copy of the schema is kept beside it, for the next time and for the test that compares them.
 */
async function main(): Promise<void> {
  const name = process.argv[2]
  if (!name || !/^[a-z0-9]+([_-][a-z0-9]+)*$/.test(name)) {
    throw new Error('Name the migration in small letters, for example: npm run migration -- comparables')
  }
  const migrations = readMigrations()
  const schema = readFileSync(join(projectRoot(), 'prisma', 'schema.prisma'), 'utf8')
  const engine = await schemaEngine(schema, new PrismaBetterSqlite3({ url: ':memory:' }))
  const sql = await sqlBetween(engine, { from: migrations.at(-1)?.schema ?? null, to: schema })
  if (!sql) {
    console.log('prisma/schema.prisma says what the last migration leads to: nothing to write.')
    return
  }
  const number = String(migrations.length + 1).padStart(4, '0')
  const folder = join(migrationsFolder(), `${number}_${name.replaceAll('-', '_')}`)
  mkdirSync(folder, { recursive: true })
  writeFileSync(join(folder, 'migration.sql'), sql)
  writeFileSync(join(folder, 'schema.prisma'), schema)
  console.log(`Written: ${folder}`)
  console.log('Read migration.sql before you keep it. A new column of a table with rows needs a default,')
  console.log('a renamed one is seen as one dropped and one added: put that right by hand.')
}

main().catch((error: unknown) => {
  console.error(error instanceof Error ? error.message : error)
  process.exitCode = 1
})
