import { join } from 'node:path'
import { hash } from '@node-rs/argon2'
import { PrismaBetterSqlite3 } from '@prisma/adapter-better-sqlite3'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { lockedDatabase } from '../../lib/data/adapter'
import { PrismaClient } from '../../lib/data/generated/client'
import type { Db, Tx } from '../../lib/data/store'
import { acknowledgedWritesBesideFailures } from '../support/isolation'
import { emptyShopFolder, type FreshFolder, freshFolder, removeFolder } from '../support/shop-folder'

const at = new Date('2025-03-01T09:00:00.000Z')

const person = (id: string, name = id) => ({ id, name, nameKey: id, pinHash: 'none', createdAt: at })
const device = (id: string) => ({ id, name: 'before', tokenHash: id, enrolledAt: at })
const isDirty = { where: { name: 'never' } }

/** Argon2id as sign-in uses it, 19 MiB and two passes: about 13 ms in which everybody else could get in. */
const passwordHash = () => hash('123456', { memoryCost: 19_456, timeCost: 2, parallelism: 1 })

class OnPurpose extends Error {}

let shop: FreshFolder
beforeEach(async () => {
  shop = await freshFolder()
})
afterEach(() => shop.dispose())

describe('writes acknowledged beside failing transactions', () => {
  test('none of 600 is lost and nothing uncommitted is seen, whichever way they were written', async () => {
    const { store } = shop
    const { db } = store
    const counts = { writes: 600, failures: 150, looks: 150 }
    await db.device.createMany({
      data: Array.from({ length: counts.writes }, (_, n) => device(`update-${n}`)),
    })

    const outcome = await acknowledgedWritesBesideFailures({
      counts,
      writes: [
        async (n) => (await db.person.create({ data: person(`create-${n}`) })).id,
        async (n) => {
          await db.device.update({ where: { id: `update-${n}` }, data: { name: 'after' } })
          return `update-${n}`
        },
        async (n) => {
          await db.person.createMany({ data: [person(`many-${n}`), person(`many-too-${n}`)] })
          return `many-${n}`
        },
        async (n) => {
          const data = { ...person(`nested-write-${n}`), roles: { create: [{ role: 'dealer' }] } }
          return (await db.person.create({ data })).id
        },
        (n) => store.transaction(async (tx) => (await tx.person.create({ data: person(`tx-${n}`) })).id),
        (n) =>
          store.transaction(async (tx) => {
            await savepoint(tx, (inner) => inner.person.create({ data: person(`savepoint-${n}`) }))
            return `savepoint-${n}`
          }),
      ],
      fail: (n) =>
        store.transaction(async (tx) => {
          await tx.person.create({ data: person(`never-${n}`, 'never') })
          await passwordHash()
          throw new OnPurpose()
        }),
      dirty: () => db.person.count(isDirty),
      stored: async () => {
        const people = await db.person.findMany({ select: { id: true } })
        const devices = await db.device.findMany({ where: { name: 'after' }, select: { id: true } })
        return new Set([...people, ...devices].map(({ id }) => id))
      },
    })

    expect(outcome).toEqual({ acknowledged: 600, lost: [], dirtyReads: 0, leftovers: 0, falseSuccesses: 0 })
    expect(await db.personRole.count()).toBe(100)
    expect(await db.person.count({ where: { id: { startsWith: 'many-too-' } } })).toBe(100)
  })

  test('the adapter as it comes does lose one, which is why ours stands in front of it', async () => {
    const folder = await emptyShopFolder()
    const adapter = new PrismaBetterSqlite3({ url: `file:${join(folder, 'shop.db')}` })
    const client = new PrismaClient({ adapter })
    try {
      const failing = client.$transaction(async (tx) => {
        await tx.person.create({ data: person('never', 'never') })
        await client.person.create({ data: person('acknowledged') })
        throw new OnPurpose()
      })
      await expect(failing).rejects.toThrow(OnPurpose)
      expect(await client.person.count()).toBe(0)
    } finally {
      await client.$disconnect()
      removeFolder(folder)
    }
  })
})

describe('a transaction', () => {
  test('a savepoint that fails takes back its own part and nothing else', async () => {
    await shop.store.transaction(async (tx) => {
      await tx.person.create({ data: person('outer') })
      const inner = savepoint(tx, async (deeper) => {
        await deeper.person.create({ data: person('inner') })
        throw new OnPurpose()
      })
      await expect(inner).rejects.toThrow(OnPurpose)
    })
    expect(await names(shop.store.db)).toEqual(['outer'])
  })

  test('the plain client inside it throws at once, also when it was taken out before', async () => {
    const { store } = shop
    const { person: people } = store.db
    const misuse: Record<string, () => unknown> = {
      read: () => store.db.person.findMany(),
      write: () => store.db.person.create({ data: person('x') }),
      raw: () => store.db.$queryRaw`SELECT 1`,
      'taken out before': () => people.findMany(),
      'another transaction': () => store.transaction(async () => null),
    }
    for (const [name, use] of Object.entries(misuse)) {
      const wrong = store.transaction(async (tx) => {
        await tx.person.count()
        await use()
      })
      await expect(wrong, name).rejects.toThrow(/inside (a|another)/)
    }
    expect(await names(store.db)).toEqual([])
  })

  test('what it started and did not wait for may use the plain client once it is over', async () => {
    let goOn = () => {}
    const over = new Promise<void>((resolve) => {
      goOn = resolve
    })
    const later = await shop.store.transaction(async () => ({
      count: over.then(() => shop.store.db.person.count()),
    }))
    goOn()
    expect(await later.count).toBe(0)
  })

  test('one that SQLite ended by itself keeps nothing of what came after', async () => {
    const ended = shop.store.transaction(async (tx) => {
      await tx.person.create({ data: person('before') })
      await tx.$executeRawUnsafe('ROLLBACK')
      await tx.person.create({ data: person('after') })
    })
    await expect(ended).rejects.toThrow()
    expect(await names(shop.store.db)).toEqual([])
    await shop.store.db.person.create({ data: person('next') })
    expect(await names(shop.store.db)).toEqual(['next'])
  })
})

describe('patience', () => {
  test('a transaction over its time is rolled back and its place in the queue is free again', async () => {
    await withOwnClient({ maxWait: 5_000, timeout: 20 }, async (client) => {
      let goOn = () => {}
      const long = new Promise<void>((resolve) => {
        goOn = resolve
      })
      const late = client.$transaction(async (tx) => {
        await tx.person.create({ data: person('late') })
        await long
        await tx.person.count()
      })
      const refused = expect(late).rejects.toThrow(/transaction/i)
      await client.person.create({ data: person('next') })
      goOn()
      await refused
      expect(await names(client)).toEqual(['next'])
    })
  })

  test('one that gave up waiting for its turn does not hold the queue when its turn comes', async () => {
    await withOwnClient({ maxWait: 20, timeout: 5_000 }, async (client) => {
      await client.$transaction(async (tx) => {
        await tx.person.create({ data: person('first') })
        const second = client.$transaction((other) => other.person.create({ data: person('second') }))
        await expect(second).rejects.toThrow(/transaction/i)
      })
      await client.person.create({ data: person('third') })
      expect(await names(client)).toEqual(['first', 'third'])
    })
  })
})

type Patience = { maxWait: number; timeout: number }

async function withOwnClient(transactionOptions: Patience, work: (client: PrismaClient) => Promise<void>) {
  const folder = await emptyShopFolder()
  const { factory } = lockedDatabase(join(folder, 'shop.db'))
  const client = new PrismaClient({ adapter: factory, transactionOptions })
  try {
    await client.$connect()
    await work(client)
  } finally {
    await client.$disconnect()
    removeFolder(folder)
  }
}

/** A transaction within a transaction; the type of `tx` does not know that it can. */
function savepoint<T>(tx: Tx, work: (tx: Tx) => Promise<T>): Promise<T> {
  return (tx as PrismaClient).$transaction(work)
}

async function names(db: Db): Promise<string[]> {
  const people = await db.person.findMany({ select: { id: true }, orderBy: { id: 'asc' } })
  return people.map(({ id }) => id)
}
