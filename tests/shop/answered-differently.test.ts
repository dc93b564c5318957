import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { Context } from '../../lib/shop/deed'
import { readSheet } from '../../lib/shop/read-sheet'
import { recordReading } from '../../lib/shop/record-reading'
import { sync } from '../../lib/shop/sync'
import { done, type OpenShop, openTestShop } from '../support/open-shop'
import { look, takenIn } from '../support/readings'

/*
 * Two tablets at one bike. Each was without a network from nine o'clock; what they recorded came in at the hour
 * that each test says.
 */

let shop: OpenShop
let bike: string
let one: Context
let two: Context
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop))
  one = onDevice(shop.technician, 'a')
  two = onDevice(shop.dealer, 'b')
})
afterEach(() => shop.dispose())

function onDevice(context: Context, name: string): Context {
  const deviceId = `0199c0de-0000-7000-8000-00000000000${name}`
  return { ...context, deviceId, who: { ...context.who!, deviceId } }
}

const clock = (hour: string) => `2026-11-25T${hour}:00Z`

/** One answer as a tablet brings it. */
async function bring(from: Context, value: string, at: { taken: string; came: string; instead?: string }) {
  const context = { ...from, now: new Date(clock(at.came)), who: from.who! }
  const body = look(bike, ['fuel-leaks', value], {
    takenAt: clock(at.taken),
    supersedes: at.instead ?? null,
  })
  const operations = [{ id: uuidv7(), author: from.who!.personId, deed: 'record-reading' as const, body }]
  const sentAt = clock(at.came)
  const [answer] = await sync({ contract: 2, sentAt, waiting: 1, operations }, context)
  expect(answer).toMatchObject({ ok: true })
  return body.id
}

async function row() {
  const { viewingNo } = await shop.store.db.bike.findFirstOrThrow()
  const sheet = await readSheet({ ...shop.technician, who: shop.technician.who! }, viewingNo)
  return sheet.rounds.flatMap(({ checks }) => checks).find(({ check }) => check.key === 'fuel-leaks')!
}

describe('a look answered on two tablets', () => {
  test('differently, neither having seen the other, keeps both and is put before a person', async () => {
    const dry = await bring(one, 'dry', { taken: '10:00', came: '12:00' })
    const wet = await bring(two, 'wet', { taken: '10:30', came: '13:00' })
    const { disputed, readings } = await row()
    expect(readings.map(({ id }) => id)).toEqual([dry, wet])
    expect(disputed).toEqual({ counts: wet, other: dry })
  })

  test('differently, the later brought first, is put before a person all the same', async () => {
    const wet = await bring(two, 'wet', { taken: '10:30', came: '11:00' })
    const dry = await bring(one, 'dry', { taken: '10:00', came: '12:00' })
    expect((await row()).disputed).toEqual({ counts: wet, other: dry })
  })

  test('alike is no question', async () => {
    await bring(one, 'dry', { taken: '10:00', came: '12:00' })
    await bring(two, 'dry', { taken: '10:30', came: '13:00' })
    expect((await row()).disputed).toBeNull()
  })

  test('differently, the second with the first before its eyes, is no question', async () => {
    await bring(one, 'dry', { taken: '10:00', came: '10:00' })
    await bring(two, 'wet', { taken: '11:00', came: '11:01' })
    expect((await row()).disputed).toBeNull()
  })

  test('is settled by correcting one of the two', async () => {
    const dry = await bring(one, 'dry', { taken: '10:00', came: '12:00' })
    await bring(two, 'wet', { taken: '10:30', came: '13:00' })
    await bring(one, 'wet', { taken: '13:30', came: '13:30', instead: dry })
    expect((await row()).disputed).toBeNull()
  })

  test('is settled by looking again', async () => {
    await bring(one, 'dry', { taken: '10:00', came: '12:00' })
    await bring(two, 'wet', { taken: '10:30', came: '13:00' })
    await bring(two, 'dry', { taken: '13:30', came: '13:30' })
    expect((await row()).disputed).toBeNull()
  })

  test('twice on one and the same is no question', async () => {
    done(await recordReading(look(bike, ['fuel-leaks', 'wet'], { takenAt: clock('10:00') }), one))
    done(await recordReading(look(bike, ['fuel-leaks', 'dry'], { takenAt: clock('10:05') }), one))
    expect((await row()).disputed).toBeNull()
  })
})
