import { statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { DamagedDatabase } from '../../lib/data/adapter'
import { appendEvent, chainStart, checkChain } from '../../lib/data/events'
import { layoutOf } from '../../lib/data/folder'
import { bodyHash, readingHash } from '../../lib/data/hash'
import { openStore } from '../../lib/data/store'
import { emptyShopFolder, type FreshFolder, freshFolder, removeFolder } from '../support/shop-folder'

const at = new Date('2025-03-01T09:00:00.123Z')

let shop: FreshFolder
beforeEach(async () => {
  shop = await freshFolder()
})
afterEach(() => shop.dispose())

const say = (verb: string, body: unknown = {}) =>
  shop.store.transaction((tx) =>
    appendEvent(tx, { at, personId: 'p', deviceId: null, verb, bikeId: null, body }),
  )

describe('an open store', () => {
  const promised: [string, unknown][] = [
    ['journal_mode', 'wal'],
    ['synchronous', 2],
    ['foreign_keys', 1],
    ['trusted_schema', 0],
    ['cell_size_check', 1],
    ['busy_timeout', 75],
  ]
  test.each(promised)('has set %s', async (pragma, value) => {
    const [row] = await shop.store.db.$queryRawUnsafe<Record<string, unknown>[]>(`PRAGMA ${pragma}`)
    expect(Object.values(row!).map((found) => (typeof found === 'bigint' ? Number(found) : found))).toEqual([
      value,
    ])
  })

  test('keeps instants as whole milliseconds, so that filters by time see every row alike', async () => {
    const { db } = shop.store
    await db.device.create({ data: { id: 'd', name: 'Tablet', tokenHash: 't', enrolledAt: at } })
    const raw = new Database(layoutOf(shop.folder).database, { readonly: true })
    expect(raw.prepare('SELECT typeof(enrolledAt) AS kind, enrolledAt AS ms FROM Device').get()).toEqual({
      kind: 'integer',
      ms: at.getTime(),
    })
    raw.close()
    expect(await db.device.findMany({ where: { enrolledAt: { gte: at, lte: at } } })).toHaveLength(1)
    expect((await db.device.findUnique({ where: { id: 'd' } }))?.enrolledAt).toEqual(at)
  })

  test('refuses a row that points at nothing', async () => {
    const orphan = shop.store.db.personRole.create({ data: { personId: 'nobody', role: 'dealer' } })
    await expect(orphan).rejects.toThrow()
  })

  test('cannot be opened a second time, and can be after it was closed', async () => {
    await expect(openStore(shop.folder)).rejects.toThrow(/already open/)
    await shop.store.close()
    const again = await openStore(shop.folder)
    await again.close()
  })

  test('answers nothing any more once it was closed', async () => {
    await shop.store.close()
    await expect(shop.store.db.person.count()).rejects.toThrow(/closed/)
  })

  test('counts what a read costs', async () => {
    const before = shop.store.statementCount()
    await shop.store.db.person.findMany({ include: { roles: true } })
    expect(shop.store.statementCount() - before).toBeGreaterThanOrEqual(1)
  })
})

describe('the pepper', () => {
  test('is 32 bytes that only the owner of the folder may read, and stays the same', async () => {
    const { pepper } = layoutOf(shop.folder)
    expect(statSync(pepper).size).toBe(32)
    expect(statSync(pepper).mode & 0o777).toBe(0o600)
    expect(statSync(layoutOf(shop.folder).secrets).mode & 0o777).toBe(0o700)
    const first = shop.store.pepper
    await shop.store.close()
    const again = await openStore(shop.folder)
    expect(again.pepper).toEqual(first)
    expect(again.pepperMissing).toBe(false)
    await again.close()
  })
})

describe('a damaged database', () => {
  test('is not opened, and the sentence says what to do', async () => {
    const folder = await emptyShopFolder()
    try {
      const { database } = layoutOf(folder)
      const file = new Database(database)
      const insert = file.prepare(
        "INSERT INTO EnrolCode (codeHash, purpose, madeAt, expiresAt) VALUES (?, 'device', 0, 0)",
      )
      for (let n = 0; n < 500; n++) insert.run(`${n}`.padStart(64, '0'))
      const root = file.prepare("SELECT rootpage FROM sqlite_master WHERE name = 'EnrolCode'").pluck().get()
      const pageSize = file.pragma('page_size', { simple: true }) as number
      const bytes = file.serialize()
      file.close()
      // The header of the table's first page: its kind and its cell count become nonsense.
      bytes.fill(0xff, (Number(root) - 1) * pageSize, (Number(root) - 1) * pageSize + 8)
      writeFileSync(database, bytes)
      const opening = openStore(folder)
      await expect(opening).rejects.toThrow(DamagedDatabase)
      await expect(opening).rejects.toThrow(/npm run restore/)
    } finally {
      removeFolder(folder)
    }
  })
})

describe('the chain of events', () => {
  test('numbers events from one without gaps, each bound to the one before', async () => {
    expect(await Promise.all(['a', 'b', 'c'].map((verb) => say(verb)))).toEqual([1, 2, 3])
    const rows = await shop.store.db.event.findMany({ orderBy: { seq: 'asc' } })
    expect(rows.map(({ previousHash }) => previousHash)).toEqual([chainStart, rows[0]!.hash, rows[1]!.hash])
    expect(await checkChain(shop.store.db)).toEqual({ ok: true, events: 3, lastHash: rows[2]!.hash })
  })

  test('takes a number back with the transaction that failed', async () => {
    await say('a')
    const failing = shop.store.transaction(async (tx) => {
      await appendEvent(tx, { at, personId: null, deviceId: null, verb: 'never', bikeId: null, body: {} })
      throw new Error('on purpose')
    })
    await expect(failing).rejects.toThrow('on purpose')
    expect(await say('b')).toBe(2)
  })

  const harms: [string, string, unknown][] = [
    [
      'a changed body',
      'UPDATE Event SET body = \'{"price":1}\' WHERE seq = 2',
      { seq: 2, because: 'changed' },
    ],
    ['a changed time', 'UPDATE Event SET at = at + 1 WHERE seq = 2', { seq: 2, because: 'changed' }],
    ['another person', "UPDATE Event SET personId = 'q' WHERE seq = 2", { seq: 2, because: 'changed' }],
    ['one taken out', 'DELETE FROM Event WHERE seq = 2', { seq: 3, because: 'number out of sequence' }],
    [
      'one taken out and the rest renumbered',
      'DELETE FROM Event WHERE seq = 2; UPDATE Event SET seq = 2 WHERE seq = 3',
      { seq: 2, because: 'not chained to the one before' },
    ],
    ['the first taken out', 'DELETE FROM Event WHERE seq = 1', { seq: 2, because: 'number out of sequence' }],
  ]
  test.each(harms)('shows %s', async (_, sql, found) => {
    for (const verb of ['a', 'b', 'c']) await say(verb, { price: 100 })
    for (const statement of sql.split(';')) await shop.store.db.$executeRawUnsafe(statement)
    expect(await checkChain(shop.store.db)).toEqual({ ok: false, ...(found as object) })
  })
})

describe('a hash', () => {
  test('does not depend on the order in which keys were written', () => {
    expect(bodyHash({ a: 1, b: [{ c: 2, d: at }] })).toBe(bodyHash({ b: [{ d: at, c: 2 }], a: 1 }))
    expect(bodyHash({ a: 1 })).toBe(bodyHash({ a: 1, b: undefined }))
    expect(bodyHash([1, 2])).not.toBe(bodyHash([2, 1]))
  })

  test.each([Number.NaN, Number.POSITIVE_INFINITY, 1n, () => 1, undefined])(
    'is refused over %s, which would vanish from the text it covers',
    (value) => {
      expect(() => bodyHash({ list: [value] })).toThrow(TypeError)
    },
  )

  test('of a reading changes with each field of it, and not with what else the row holds', () => {
    const reading = {
      id: 'r',
      seq: 1,
      bikeId: 'b',
      check: 'front-pads',
      position: 'left',
      kind: 'measured',
      value: '2.5',
      unit: 'mm',
      conditions: null,
      instrument: 'caliper',
      note: null,
      personId: 'p',
      deviceId: null,
      takenAt: at,
      receivedAt: at,
      supersedes: null,
    }
    const hash = readingHash(reading)
    expect(readingHash({ ...reading, hash } as typeof reading)).toBe(hash)
    for (const key of Object.keys(reading) as (keyof typeof reading)[]) {
      const other = key === 'takenAt' || key === 'receivedAt' ? new Date(0) : key === 'seq' ? 2 : 'other'
      expect(readingHash({ ...reading, [key]: other }), key).not.toBe(hash)
    }
  })
})

test('a folder that is not there yet becomes a shop', async () => {
  const folder = join(shop.folder, 'deeper', 'still')
  const lines: string[] = []
  const store = await openStore(folder, { say: (line) => lines.push(line) })
  expect(await store.db.shop.count()).toBe(0)
  expect(lines[0]).toMatch(/0001_the_shop/)
  await store.close()
})
