import { afterEach, beforeEach, expect, test } from 'vitest'
import { checkChain } from '../../lib/data/events'
import { openStore } from '../../lib/data/store'
import { emptyShopFolder, removeFolder } from '../support/shop-folder'
import { startWriter } from '../support/writing-process'

let folder: string
beforeEach(async () => {
  folder = await emptyShopFolder()
})
afterEach(() => removeFolder(folder))

test('every write acknowledged before a process was killed is there, time after time', async () => {
  const acknowledged: string[] = []
  for (const round of ['first', 'second', 'third']) {
    const writer = startWriter([folder, round])
    await writer.until(40)
    await writer.kill()
    acknowledged.push(...writer.acknowledged)

    const store = await openStore(folder)
    const stored = new Set((await store.db.person.findMany({ select: { id: true } })).map(({ id }) => id))
    const chain = await checkChain(store.db)
    const [check] = await store.db.$queryRaw<{ quick_check: string }[]>`PRAGMA quick_check`
    await store.close()

    expect(acknowledged.filter((id) => !stored.has(id))).toEqual([])
    expect(check).toEqual({ quick_check: 'ok' })
    // A person and their event are one transaction: neither may be there without the other.
    expect(chain).toMatchObject({ ok: true, events: stored.size })
  }
})

test('a second process is told that the shop is open, and by whom', async () => {
  const writer = startWriter([folder, 'only'])
  try {
    await writer.until(1)
    await expect(openStore(folder)).rejects.toThrow(/already open \(process \d+\)/)
  } finally {
    await writer.kill()
  }
})

test('a process that was killed leaves no lock behind', async () => {
  const writer = startWriter([folder, 'gone'])
  await writer.until(1)
  await writer.kill()
  const store = await openStore(folder)
  expect(await store.db.person.count()).toBeGreaterThan(0)
  await store.close()
})
