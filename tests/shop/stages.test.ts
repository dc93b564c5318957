import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { checkChain } from '../../lib/data/events'
import { noteIdentity, noteRegister } from '../../lib/shop/identity'
import { stages } from '../../lib/shop/stage-names'
import { backOnBench, buyBike, passUp, putOnBench } from '../../lib/shop/stages'
import { cleared, done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  bike = await mayBeBought()
})
afterEach(() => shop.dispose())

/** A bike taken in, of which everything is known that must be before it is bought. */
async function mayBeBought(): Promise<string> {
  const { bike } = await takenIn(shop)
  await cleared(shop, bike)
  return bike
}
const stored = (id = bike) =>
  shop.store.db.bike.findUniqueOrThrow({ where: { id }, include: { purchase: true } })
const bought = (over: object = {}) => ({ bike, version: 1, price: '1250', day: '2026-11-24', ...over })
const buy = (over: object = {}) => buyBike(bought(over), shop.dealer)

describe('a bike bought', () => {
  test('has its price, its day and the next stock number, all in one', async () => {
    expect(done(await buy())).toEqual({ stockNo: 1 })
    expect(await stored()).toMatchObject({
      stage: 'bought',
      stockNo: 1,
      version: 2,
      purchase: { priceMinor: 125000, day: '2026-11-24', personId: shop.dealer.who?.personId },
    })
    const last = await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
    expect(last).toMatchObject({ verb: 'bike:buy', bikeId: bike })
    expect(JSON.parse(last.body)).toEqual({ stockNo: 1, priceMinor: 125000, day: '2026-11-24' })
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test('takes stock numbers in sequence, whatever the viewing numbers, and a refusal leaves no gap', async () => {
    const second = await mayBeBought()
    const third = await mayBeBought()
    expect(done(await buy({ bike: third }))).toEqual({ stockNo: 1 })
    const events = await shop.store.db.event.count()
    refused(await buy({ bike: second, day: '2026-11-26' }))
    refused(await buy({ bike: second, version: 7 }))
    refused(await buy({ bike: second, price: '' }))
    refused(await buy({ bike: third, version: 2 }))
    expect(await shop.store.db.event.count()).toBe(events)
    expect(done(await buy({ bike: second }))).toEqual({ stockNo: 2 })
    expect(done(await buy())).toEqual({ stockNo: 3 })
  })

  test('a transaction that breaks off after the number was drawn gives it back', async () => {
    // A purchase that is there already makes the last write of the deed fail.
    const other = await mayBeBought()
    await shop.store.db.purchase.create({
      data: { bikeId: bike, priceMinor: 1, day: '2026-11-24', personId: 'somebody', at: shop.dealer.now },
    })
    await expect(buy()).rejects.toThrow()
    expect(await stored()).toMatchObject({ stage: 'viewing', stockNo: null, version: 1 })
    expect(done(await buy({ bike: other }))).toEqual({ stockNo: 1 })
  })

  test('several at once get a number each', async () => {
    const bikes = [bike]
    while (bikes.length < 8) bikes.push(await mayBeBought())
    const answers = await Promise.all(bikes.map((one) => buy({ bike: one })))
    const drawn = answers.map((answer) => done(answer).stockNo).sort((a, b) => a - b)
    expect(drawn).toEqual([1, 2, 3, 4, 5, 6, 7, 8])
  })

  test('cannot be bought on a day that is still to come in the shop’s zone', async () => {
    expect(refused(await buy({ day: '2026-11-26' })).fields).toEqual({
      day: 'That day is still to come. Give the day it was bought.',
    })
    // Half an hour before midnight in London it is still the 25th, whatever the clock of the server says.
    const late = shop.at(shop.dealer, '2026-11-25T23:30:00Z')
    expect(refused(await buyBike(bought({ day: '2026-11-26' }), late)).kind).toBe('malformed')
    done(await buyBike(bought({ day: '2026-11-25' }), late))
  })

  test.each([
    ['no price', { price: '' }, 'price'],
    ['a price in words', { price: 'cheap' }, 'price'],
    ['no day', { day: '' }, 'day'],
    ['a day that does not exist', { day: '2026-02-30' }, 'day'],
  ])('says at the field: %s', async (_what, over, field) => {
    expect(Object.keys(refused(await buy(over)).fields)).toEqual([field])
    expect(await shop.store.db.purchase.count()).toBe(0)
  })

  test('is bought once, and not after it was passed up', async () => {
    done(await buy())
    expect(refused(await buy({ version: 2 })).kind).toBe('rule')
    const other = await mayBeBought()
    done(await passUp({ bike: other, version: 1, reason: 'Finance outstanding' }, shop.dealer))
    expect(refused(await buy({ bike: other, version: 2 })).kind).toBe('rule')
    expect(await shop.store.db.purchase.count()).toBe(1)
  })
})

describe('a bike of which something is not known', () => {
  let unknown: string
  beforeEach(async () => {
    unknown = (await takenIn(shop)).bike
  })
  const asked = (register: string, over: object = {}) =>
    noteRegister(
      {
        id: uuidv7(),
        bike,
        register,
        askedOf: 'the register',
        day: '2026-11-25',
        answer: 'clear',
        ...over,
      },
      shop.dealer,
    )
  const seen = (point: string, answer: string, note: string | null = null) =>
    noteIdentity({ id: uuidv7(), bike, point, answer, note }, shop.dealer)
  const refusal = async (over: object = {}) => {
    const before = await shop.store.db.event.count()
    const { kind, message } = refused(await buy(over))
    expect(kind).toBe('rule')
    expect(await shop.store.db.event.count()).toBe(before)
    expect(await stored((over as { bike?: string }).bike)).toMatchObject({
      stage: 'viewing',
      stockNo: null,
      purchase: null,
    })
    return message
  }

  test('is not bought, and every lack is said', async () => {
    const message = await refusal({ bike: unknown })
    expect(message).toMatch(/^It may not be bought yet\. Ask the register of stolen vehicles/)
    for (const word of ['finance', 'written-off', 'recalls', 'identity', 'may sell', 'paper', 'keys']) {
      expect(message).toContain(word)
    }
  })

  test.each([
    [
      'a register without an answer',
      () => asked('recall', { answer: 'no-answer' }),
      /recalls gave no answer/,
    ],
    ['a seller not seen', () => seen('seller-identity', 'not-seen'), /settle the seller's identity/],
    ['a seller who may not be the one', () => seen('right-to-sell', 'unclear'), /Not clear who may sell/],
    ['numbers that differ', () => seen('frame-number', 'differs'), /Not the same on all three/],
  ] as const)('is not bought with %s noted last', async (_what, note, says) => {
    done(await note())
    expect(await refusal()).toMatch(says)
  })

  test.each([
    ['stolen', () => asked('stolen', { answer: 'recorded', note: 'Taken in May' }), /On record as stolen/],
    ['of an altered number', () => seen('frame-number', 'altered'), /can never be bought/],
  ] as const)('is never bought once it is known to be %s', async (_what, note, says) => {
    done(await note())
    const message = await refusal()
    expect(message).toMatch(/^This bike may never be bought\./)
    expect(message).toMatch(says)
  })

  test('is bought with finance on record only once the lender is paid direct and the letter was seen', async () => {
    done(await asked('finance', { answer: 'recorded', amount: '2140', note: 'One agreement' }))
    expect(await refusal()).toBe(
      'It may not be bought as it stands. Finance is on record: only paying the lender direct, with the letter seen, settles it.',
    )
    done(await seen('finance', 'none'))
    expect(await refusal()).toMatch(/only paying the lender direct/)
    done(await seen('finance', 'outstanding'))
    expect(await refusal()).toMatch(/only paying the lender direct/)
    expect(refused(await seen('finance', 'lender-paid-direct')).fields).toHaveProperty('note')
    done(await seen('finance', 'lender-paid-direct', 'Letter of the lender, 24 November'))
    expect(done(await buy())).toEqual({ stockNo: 1 })
  })

  test('is not bought on answers of more than a week ago', async () => {
    const later = shop.at(shop.dealer, '2026-12-07T12:00:00Z')
    const bought = { bike, version: 1, price: '1200', day: '2026-12-07' }
    expect(refused(await buyBike(bought, later)).message).toContain('asked 12 days ago. Ask again')
    // Another day of buying makes them no younger.
    expect(refused(await buyBike({ ...bought, day: '2026-11-25' }, later)).kind).toBe('rule')
  })

  test.each(['write-off', 'recall'])(
    'is bought with a %s on record, which is told elsewhere',
    async (register) => {
      done(await asked(register, { answer: 'recorded', note: 'Noted in 2019' }))
      expect(done(await buy())).toEqual({ stockNo: 1 })
    },
  )
})

describe('a bike passed up', () => {
  test('keeps the reason and leaves no stock number', async () => {
    done(await passUp({ bike, version: 1, reason: 'Frame number was altered' }, shop.dealer))
    expect(await stored()).toMatchObject({ stage: 'passed up', stockNo: null, version: 2 })
    const last = await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
    expect(JSON.parse(last.body)).toEqual({ reason: 'Frame number was altered' })
  })

  test('needs a reason, and cannot be one that is the shop’s own', async () => {
    const refusal = refused(await passUp({ bike, version: 1, reason: '  ' }, shop.dealer))
    expect(refusal.fields).toEqual({ reason: 'Say why, in a few words.' })
    done(await buy())
    expect(refused(await passUp({ bike, version: 2, reason: 'Late' }, shop.dealer)).kind).toBe('rule')
  })
})

describe('a bike put on the bench', () => {
  test('was bought first, and a manager says so', async () => {
    expect(refused(await putOnBench({ bike, version: 1 }, shop.manager)).kind).toBe('rule')
    done(await buy())
    expect(refused(await putOnBench({ bike, version: 2 }, shop.dealer)).kind).toBe('not-allowed')
    done(await putOnBench({ bike, version: 2 }, shop.manager))
    expect(await stored()).toMatchObject({ stage: 'on the bench', version: 3 })
    expect(refused(await putOnBench({ bike, version: 3 }, shop.manager)).kind).toBe('rule')
  })
})

describe('a bike taken back to the bench', () => {
  const reason = 'The buyer found play in the steering'
  const back = (over: object = {}, who = shop.manager) =>
    backOnBench({ bike, version: 1, reason, ...over }, who)
  const standsAt = (stage: string) => shop.store.db.bike.update({ where: { id: bike }, data: { stage } })

  test('was ready, and a manager says why', async () => {
    await standsAt('ready')
    expect(refused(await back({ reason: ' ' })).fields).toEqual({ reason: 'Say why, in a few words.' })
    done(await back())
    expect(await stored()).toMatchObject({ stage: 'on the bench', version: 2 })
    const last = await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
    expect(last).toMatchObject({ verb: 'bike:put-on-bench', bikeId: bike })
    expect(JSON.parse(last.body)).toEqual({ reason })
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test.each(stages.filter((stage) => stage !== 'ready'))('is refused at the stage %s', async (stage) => {
    await standsAt(stage)
    expect(refused(await back())).toMatchObject({
      kind: 'rule',
      message: 'Only a bike that is ready goes back to the bench.',
    })
    expect((await stored()).stage).toBe(stage)
  })

  test('is a manager’s to say, of a bike that is there, from what is stored now', async () => {
    await standsAt('ready')
    expect(refused(await back({}, shop.technician)).kind).toBe('not-allowed')
    expect(refused(await back({}, shop.dealer)).kind).toBe('not-allowed')
    expect(refused(await back({}, shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await back({ bike: uuidv7() })).kind).toBe('not-found')
    expect(refused(await back({ version: 3 })).kind).toBe('stale')
    expect(await stored()).toMatchObject({ stage: 'ready', version: 1 })
  })
})

test.each([
  ['bought', () => buyBike(bought({ version: 4 }), shop.dealer)],
  ['passed up', () => passUp({ bike, version: 4, reason: 'x' }, shop.dealer)],
] as const)('%s is refused where somebody else changed the bike in between', async (_what, deed) => {
  expect(refused(await deed()).kind).toBe('stale')
  expect(await stored()).toMatchObject({ stage: 'viewing', version: 1 })
})

test('no stage of money or work is moved by a technician or by nobody, or of a bike that is not there', async () => {
  for (const who of [shop.technician, shop.nobody]) {
    const kinds = ['not-allowed', 'not-signed-in']
    expect(kinds).toContain(refused(await buyBike(bought(), who)).kind)
    expect(kinds).toContain(refused(await passUp({ bike, version: 1, reason: 'x' }, who)).kind)
    expect(kinds).toContain(refused(await putOnBench({ bike, version: 1 }, who)).kind)
  }
  const gone = uuidv7()
  expect(refused(await buy({ bike: gone })).kind).toBe('not-found')
  expect(refused(await passUp({ bike: gone, version: 1, reason: 'x' }, shop.dealer)).kind).toBe('not-found')
  expect(refused(await putOnBench({ bike: gone, version: 1 }, shop.manager)).kind).toBe('not-found')
  expect((await stored()).version).toBe(1)
})
