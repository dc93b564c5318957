import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { uuidv7 } from 'uuidv7'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { parseInput } from '../../lib/shop/parse-input'
import { type SyncOperation, sync, syncInput } from '../../lib/shop/sync'
import { type OpenShop, openTestShop, signedInHere } from '../support/open-shop'
import { measured, takenIn } from '../support/readings'

/*
 * Many tablets at once over a network that loses answers, so that each thing is sent again and again and in any
 * company: the store holds each exactly once, each tablet's in the order it brought them first.
 */

const devices = 10
const findings = 300

describe('ten tablets with three hundred findings each', () => {
  let shop: OpenShop
  /** Two tablets at each. */
  const bikes: string[] = []
  beforeAll(async () => {
    shop = await openTestShop()
    for (let count = 0; count < devices / 2; count += 1) bikes.push((await takenIn(shop)).bike)
  })
  afterAll(() => shop.dispose())

  test('sent one to five times each in any company, with answers lost, are there exactly once', async () => {
    const tablets = Array.from({ length: devices }, (_, index) => ({
      deviceId: `0199c0de-0000-7000-8000-00000000${String(1000 + index)}`,
      clockAhead: (index % 3) * 24 * 3600 * 1000 - index * 60_000,
      queue: Array.from({ length: findings }, (_, count) =>
        finding(bikes[index % bikes.length]!, `${index + 1}.${count}`),
      ),
    }))
    for (const { deviceId } of tablets) {
      await shop.store.db.device.create({
        data: { id: deviceId, name: deviceId, tokenHash: deviceId, enrolledAt: shop.manager.now },
      })
    }
    // From a fixed seed, so that a failure can be looked at.
    const rolls = fc.sample(fc.nat({ max: 99 }), { seed: 20261125, numRuns: 4000 })
    let roll = 0
    const chance = () => rolls[roll++ % rolls.length]!
    const pending = tablets.map(({ queue }) => ({ next: 0, queue, tries: new Map<string, number>() }))
    while (pending.some(({ next, queue }) => next < queue.length)) {
      // Whichever come at this moment come together.
      await Promise.all(
        pending.map(async (one, index) => {
          const from = Math.max(0, one.next - (chance() % 3) * 10)
          const batch = one.queue
            .slice(from, one.next + 40 + (chance() % 60))
            .filter(({ id }) => (one.tries.get(id) ?? 0) < 5)
          if (batch.length === 0) return
          for (const { id } of batch) one.tries.set(id, (one.tries.get(id) ?? 0) + 1)
          const answers = await send(tablets[index]!, batch)
          expect(answers.every(({ ok }) => ok)).toBe(true)
          // A lost answer: the tablet knows nothing of it and sends the same again.
          const last = one.queue.indexOf(batch.at(-1)!) + 1
          const worn = batch.some(({ id }) => one.tries.get(id)! >= 4)
          if (worn || chance() >= 30) one.next = Math.max(one.next, last)
        }),
      )
    }
    const rows = await shop.store.db.reading.findMany({ orderBy: { seq: 'asc' } })
    expect(rows).toHaveLength(devices * findings)
    for (const { deviceId, queue } of tablets) {
      const mine = rows.filter((row) => row.deviceId === deviceId)
      expect(mine.map(({ value }) => value)).toEqual(
        queue.map(({ body }) => (body as { value: string }).value),
      )
      const instants = mine.map(({ takenAt }) => takenAt.getTime())
      expect(instants).toEqual([...instants].sort((a, b) => a - b))
    }
    expect(await shop.store.db.operation.count()).toBe(devices * findings)
    expect(await shop.store.db.event.count({ where: { verb: 'reading:add' } })).toBe(devices * findings)
  })

  function finding(bike: string, value: string): SyncOperation {
    const body = measured(bike, value, { check: 'tread-front', position: 'middle', instrument: null })
    return { id: uuidv7(), author: shop.technician.who!.personId, deed: 'record-reading', body }
  }

  function send(tablet: { deviceId: string; clockAhead: number }, operations: SyncOperation[]) {
    const { technician } = shop
    const { deviceId } = tablet
    const sentAt = new Date(technician.now.getTime() + tablet.clockAhead).toISOString()
    const input = { contract: 2 as const, sentAt, waiting: operations.length, operations }
    return sync(input, { ...technician, deviceId, who: { ...technician.who!, deviceId } })
  }
})

describe('a queue that an earlier build left on a tablet', () => {
  let shop: OpenShop
  beforeEach(async () => {
    shop = await openTestShop()
  })
  afterEach(() => shop.dispose())

  const folder = new URL('./queues/', import.meta.url)

  test.each(readdirSync(folder))('is taken to the last thing, and again without harm: %s', async (file) => {
    const { bike } = await takenIn(shop)
    await signedInHere(shop.technician)
    const text = readFileSync(new URL(file, folder), 'utf8')
      .replaceAll('AUTHOR', shop.technician.who!.personId)
      .replaceAll('BIKE', bike)
    const input = parseInput(syncInput, JSON.parse(text))
    const first = await sync(input, { ...shop.technician, who: shop.technician.who! })
    expect(first.filter(({ ok }) => !ok)).toEqual([])
    // A colleague sends the rest of it once more, as after an answer that was lost.
    expect(await sync(input, { ...shop.dealer, who: shop.dealer.who! })).toEqual(first)
    const { db } = shop.store
    const kept = (await db.reading.count()) + (await db.limit.count({ where: { scope: 'bike' } }))
    expect(kept).toBe(input.operations.length)
    expect(
      (await db.reading.findMany()).every(({ personId }) => personId === input.operations[0]!.author),
    ).toBe(true)
  })
})
