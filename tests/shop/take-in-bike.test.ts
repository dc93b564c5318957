import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { usualKind } from '../../lib/core/checks/bike-kind'
import { checkChain } from '../../lib/data/events'
import type { Db } from '../../lib/data/store'
import { takeInBike } from '../../lib/shop/take-in-bike'
import { chainDriven, done, type OpenShop, openTestShop, refused, viewing } from '../support/open-shop'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

const bikes = () => shop.store.db.bike.findMany({ orderBy: { viewingNo: 'asc' } })

/** How many rows each table of the database holds. */
async function rowCounts(db: Db): Promise<Record<string, number>> {
  const tables = await db.$queryRaw<{ name: string }[]>`
    select name from sqlite_master where type = 'table' and name not like 'sqlite_%'`
  const counts = tables.map(async ({ name }) => {
    const [row] = await db.$queryRawUnsafe<{ n: bigint }[]>(`select count(*) as n from "${name}"`)
    return [name.toLowerCase(), Number(row!.n)] as const
  })
  return Object.fromEntries(await Promise.all(counts))
}

/** The messages of a form that was refused, by field. */
async function messagesFor(over: Record<string, unknown>) {
  const refusal = refused(await takeInBike(viewing(over), shop.dealer))
  expect(refusal.kind).toBe('malformed')
  expect(await bikes()).toEqual([])
  return refusal.fields
}

describe('a viewing taken in', () => {
  test('keeps what was typed, money as whole minor units, and stands at viewing without a stock number', async () => {
    const sent = viewing({
      registration: ' zz97 tst ',
      frameNumber: 'CLD6-0041873',
      asking: '1,450.50',
      distance: '31 200',
    })
    expect(done(await takeInBike(sent, shop.dealer))).toEqual({ bike: sent.id, viewingNo: 1 })
    const [bike] = await bikes()
    expect(bike).toMatchObject({
      id: sent.id,
      viewingNo: 1,
      stockNo: null,
      stage: 'viewing',
      make: 'Calder',
      makeKey: 'calder',
      model: '600 four',
      modelKey: '600four',
      year: 1997,
      registration: 'zz97 tst',
      registrationKey: 'zz97tst',
      frameNumber: 'CLD6-0041873',
      distance: 31200,
      distanceUnit: 'mi',
      askingMinor: 145050,
      saleLowMinor: 200000,
      saleLikelyMinor: 235000,
      saleHighMinor: 260000,
      version: 1,
      createdAt: shop.dealer.now,
      createdBy: shop.dealer.who?.personId,
    })
    expect(JSON.parse(bike?.kind ?? '')).toEqual({ ...usualKind, ...chainDriven })
  })

  test('may be one that does not run, or whose clock was changed; unticked it is neither', async () => {
    done(await takeInBike(viewing({ nonRunner: 'yes', clockChanged: 'yes' }), shop.dealer))
    done(await takeInBike(viewing(), shop.dealer))
    expect((await bikes()).map(({ nonRunner, clockChanged }) => [nonRunner, clockChanged])).toEqual([
      [true, true],
      [false, false],
    ])
  })

  test('needs no more than make, model and kind', async () => {
    const bare = viewing({ year: '', distance: '', sellerName: '', asking: '', saleLow: '', saleLikely: '' })
    done(await takeInBike({ ...bare, saleHigh: '' }, shop.dealer))
    const [bike] = await bikes()
    expect(bike).toMatchObject({
      year: null,
      distance: null,
      frameNumber: null,
      registration: null,
      sellerName: null,
      askingMinor: null,
      saleLowMinor: null,
      saleLikelyMinor: null,
      saleHighMinor: null,
      notes: '',
    })
  })

  test('draws viewing numbers one after the other, also where several come at once', async () => {
    const sent = Array.from({ length: 10 }, () => viewing())
    const answers = await Promise.all(sent.map((one) => takeInBike(one, shop.dealer)))
    const drawn = answers.map((answer) => done(answer).viewingNo).sort((a, b) => a - b)
    expect(drawn).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])
  })

  test('a form that is refused takes no number', async () => {
    done(await takeInBike(viewing(), shop.dealer))
    refused(await takeInBike(viewing({ make: '' }), shop.dealer))
    expect(done(await takeInBike(viewing(), shop.dealer)).viewingNo).toBe(2)
  })

  test('the same form sent twice takes one bike in and answers alike', async () => {
    const sent = viewing()
    const first = done(await takeInBike(sent, shop.dealer))
    const events = await shop.store.db.event.count()
    expect(done(await takeInBike(sent, shop.dealer))).toEqual(first)
    expect(await bikes()).toHaveLength(1)
    expect(await shop.store.db.event.count()).toBe(events)
  })

  test('writes one event, chained to those before', async () => {
    const before = await shop.store.db.event.count()
    const sent = viewing()
    done(await takeInBike(sent, shop.dealer))
    const last = await shop.store.db.event.findFirst({ orderBy: { seq: 'desc' } })
    expect(last).toMatchObject({ verb: 'viewing:take-in', bikeId: sent.id, seq: before + 1 })
    expect(JSON.parse(last?.body ?? '')).toMatchObject({ viewingNo: 1, make: 'Calder', asking: 145000 })
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test('touches nothing but the bike and the event', async () => {
    const counted = async () => {
      const { bike, event, ...others } = await rowCounts(shop.store.db)
      return { bike, event, others }
    }
    const before = await counted()
    done(await takeInBike(viewing(), shop.dealer))
    const { bike, event, others } = before
    expect(await counted()).toEqual({ bike: bike! + 1, event: event! + 1, others })
  })

  test('is for dealers and managers', async () => {
    expect(refused(await takeInBike(viewing(), shop.technician)).kind).toBe('not-allowed')
    expect(refused(await takeInBike(viewing(), shop.nobody)).kind).toBe('not-signed-in')
    expect(await bikes()).toEqual([])
    done(await takeInBike(viewing(), shop.manager))
  })
})

describe('a form for a viewing says at the field', () => {
  test.each([
    ['no make', { make: '  ' }, { make: 'Give the make.' }],
    ['no model', { model: '' }, { model: 'Give the model.' }],
    ['no kind', { kind: undefined }, { kind: 'Say what kind of bike it is.' }],
    ['a kind left open', { kind: { ...chainDriven, cooling: '' } }, { 'kind.cooling': /cooled/ }],
    ['a year in two digits', { year: '97' }, { year: /four digits/ }],
    ['a year in words', { year: 'old' }, { year: /four digits/ }],
    ['a distance in words', { distance: 'low' }, { distance: /figure on the clock/ }],
    ['a distance below nothing', { distance: '-5' }, { distance: /figure on the clock/ }],
    ['no unit', { distanceUnit: '' }, { distanceUnit: 'Choose miles or kilometres.' }],
    ['an asking price in words', { asking: 'a lot' }, { asking: /in figures/ }],
    ['an asking price below nothing', { asking: '-100' }, { asking: /in figures/ }],
    ['a low sale price above the likely one', { saleLow: '2400' }, { saleLow: /above likely/ }],
    ['a high sale price below the likely one', { saleHigh: '2300' }, { saleHigh: /below likely/ }],
    ['two of three sale prices', { saleHigh: '' }, { saleHigh: /all three/ }],
    ['a character no frame number has', { frameNumber: 'CLD6/00418' }, { frameNumber: /has no "\/"/ }],
    ['a frame number too short', { frameNumber: '123' }, { frameNumber: /too few/ }],
    // The published example of a number with a check digit, its last 0 misread as the letter O.
    ['the letter O in 17 characters', { frameNumber: '1M8GDM9AXKPO42788' }, { frameNumber: /letter O/ }],
    ['an unreadable character', { make: 'Cal\u0000der' }, { make: /unreadable/ }],
    ['a make without end', { make: 'x'.repeat(81) }, { make: /80 characters/ }],
  ])('%s', async (_what, over, messages) => {
    const fields = await messagesFor(over)
    expect(Object.keys(fields)).toEqual(Object.keys(messages))
    for (const [name, message] of Object.entries(messages)) expect(fields[name]).toMatch(message)
  })

  test('all that is wrong, not only the first', async () => {
    const fields = await messagesFor({ make: '', year: '97', asking: 'a lot' })
    expect(Object.keys(fields).sort()).toEqual(['asking', 'make', 'year'])
  })

  test('nothing of an id that no page gave out, and takes no field it does not know', async () => {
    expect(Object.keys(await messagesFor({ id: '1 OR 1=1' }))).toEqual(['id'])
    refused(await takeInBike(viewing({ stage: 'sold' }), shop.dealer))
    refused(await takeInBike(viewing({ id: uuidv7(), stockNo: 7 }), shop.dealer))
    expect(await bikes()).toEqual([])
  })
})
