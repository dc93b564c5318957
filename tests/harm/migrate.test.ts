import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { PrismaBetterSqlite3 } from '@prisma/adapter-better-sqlite3'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { everything, type Migration, schemaEngine, sqlBetween } from '../../lib/data/engine'
import { layoutOf } from '../../lib/data/folder'
import { migrate, readMigrations } from '../../lib/data/migrate'
import { projectRoot } from '../../lib/data/root'
import { openStore } from '../../lib/data/store'
import { removeFolder, scratchFolder } from '../support/shop-folder'

const memory = () => new PrismaBetterSqlite3({ url: ':memory:' })
const say = () => {}

let folder: string
beforeEach(() => {
  folder = scratchFolder()
})
afterEach(() => removeFolder(folder))

const run = (migrations: readonly Migration[], lines: string[] = []) =>
  migrate({ layout: layoutOf(folder), say: (line) => lines.push(line), migrations })

/** A shelf and what lies on it: dropping a shelf takes its things along, the trap of a rebuilt table. */
const shelves = (columns: string) => `
datasource db {
  provider = "sqlite"
}
model Shelf {
  id ${columns}
  things Thing[]
}
model Thing {
  id      String @id
  shelfId String
  shelf   Shelf  @relation(fields: [shelfId], references: [id], onDelete: Cascade)
}
`
const first = shelves('String @id\n  place String')
const second = shelves('String @id\n  place String?\n  colour String @default("grey")')

async function between(from: string | null, to: string, id: string): Promise<Migration> {
  return { id, sql: await sqlBetween(await schemaEngine(to, memory()), { from, to }), schema: to }
}

async function shelfWithTwoThings(): Promise<Migration> {
  const start = await between(null, first, '0001_start')
  await run([start])
  inDatabase((database) => {
    database.exec("INSERT INTO Shelf VALUES ('s', 'left')")
    database.exec("INSERT INTO Thing VALUES ('a', 's'), ('b', 's')")
  })
  return start
}

function inDatabase<T>(work: (database: Database.Database) => T): T {
  const database = new Database(layoutOf(folder).database)
  try {
    return work(database)
  } finally {
    database.close()
  }
}

const contents = () =>
  inDatabase((database) => ({
    shelves: database.prepare('SELECT * FROM Shelf').all(),
    things: database.prepare('SELECT * FROM Thing ORDER BY id').all(),
    migrations: database.prepare('SELECT migration_name FROM _prisma_migrations').pluck().all(),
  }))

describe('a migration', () => {
  test('that rebuilds a table keeps the rows that point at it, and a copy of what was', async () => {
    const start = await shelfWithTwoThings()
    const rebuild = await between(first, second, '0002_colours')
    expect(rebuild.sql).toMatch(/DROP TABLE "Shelf"/)

    const lines: string[] = []
    const { applied, backup } = await run([start, rebuild], lines)
    expect(applied).toEqual(['0002_colours'])
    expect(contents()).toEqual({
      shelves: [{ id: 's', place: 'left', colour: 'grey' }],
      things: [
        { id: 'a', shelfId: 's' },
        { id: 'b', shelfId: 's' },
      ],
      migrations: ['0001_start', '0002_colours'],
    })
    const copy = new Database(backup!, { readonly: true })
    expect(copy.prepare('SELECT * FROM Shelf').all()).toEqual([{ id: 's', place: 'left' }])
    expect(copy.prepare('SELECT count(*) FROM Thing').pluck().get()).toBe(2)
    copy.close()
    expect(lines.join('\n')).toContain(backup)
    expect(lines.join('\n')).toContain('0002_colours')
  })

  test('run a second time does nothing and makes no copy', async () => {
    const migrations = [await shelfWithTwoThings(), await between(first, second, '0002_colours')]
    await run(migrations)
    const before = contents()
    const lines: string[] = []
    expect(await run(migrations, lines)).toEqual({ applied: [], backup: null })
    expect(contents()).toEqual(before)
    expect(lines).toEqual([])
  })

  test('that fails half-way leaves the database as it was and can be tried again', async () => {
    const start = await shelfWithTwoThings()
    const rebuild = await between(first, second, '0002_colours')
    const before = contents()
    const broken = { ...rebuild, sql: `${rebuild.sql}\nINSERT INTO NoSuchTable VALUES (1);` }
    await expect(run([start, broken])).rejects.toThrow(/NoSuchTable/)
    expect(contents()).toEqual(before)
    expect((await run([start, rebuild])).applied).toEqual(['0002_colours'])
  })

  test('that would leave rows pointing at nothing is refused', async () => {
    const start = await shelfWithTwoThings()
    const before = contents()
    const careless = { id: '0002_careless', sql: 'DELETE FROM "Shelf";', schema: first }
    await expect(run([start, careless])).rejects.toThrow(/2 rows would point at nothing/)
    expect(contents()).toEqual(before)
  })

  test('that this version does not know means a newer version was here: refused in plain words', async () => {
    const start = await shelfWithTwoThings()
    await run([start, await between(first, second, '0002_colours')])
    await expect(run([start])).rejects.toThrow(/newer version of the program/)
  })

  test('that was edited after it was applied is refused', async () => {
    const start = await shelfWithTwoThings()
    await expect(run([{ ...start, sql: `${start.sql}\n-- tidied` }])).rejects.toThrow(/never edited/)
  })
})

describe("the project's own migrations", () => {
  const schema = readFileSync(join(projectRoot(), 'prisma', 'schema.prisma'), 'utf8')

  test('lead to the schema as it is: nobody changed it without "npm run migration"', async () => {
    const engine = await schemaEngine(schema, memory())
    expect(await sqlBetween(engine, { from: readMigrations().at(-1)!.schema, to: schema })).toBe('')
  })

  test('really make what the schema copied beside the last one says', async () => {
    await migrate({ layout: layoutOf(folder), say })
    const made = new PrismaBetterSqlite3({ url: `file:${layoutOf(folder).database}` })
    const engine = await schemaEngine(schema, made)
    const { stdout } = await engine.diff({
      from: {
        tag: 'schemaDatasource',
        files: [{ path: 'schema.prisma', content: schema }],
        configDir: folder,
      },
      to: { tag: 'schemaDatamodel', files: [{ path: 'schema.prisma', content: schema }] },
      script: true,
      exitCode: null,
      filters: everything,
      ...{ shadowDatabaseUrl: null },
    })
    expect(stdout).toMatch(/^-- This is an empty migration/)
  })

  test('are found whatever folder the command is called in', async () => {
    const before = process.cwd()
    process.chdir(folder)
    try {
      const store = await openStore(join(folder, 'shop'))
      expect(await store.db.shop.count()).toBe(0)
      await store.close()
    } finally {
      process.chdir(before)
    }
  })
})
