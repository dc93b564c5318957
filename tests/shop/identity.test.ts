import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { registers } from '../../lib/core/checks/money-gate'
import { checkChain } from '../../lib/data/events'
import { moneyLacksOf, noteIdentity, noteRegister } from '../../lib/shop/identity'
import { readDistancePage, readIdentityPage, readOnRecord } from '../../lib/shop/read-identity'
import { recordReading } from '../../lib/shop/record-reading'
import { buyBike } from '../../lib/shop/stages'
import { cleared, done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { answer, look, takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await takenIn(shop, {
    sellerName: 'Quillon Abernathy',
    sellerContact: 'canal side',
  }))
})
afterEach(() => shop.dispose())

const word = (over: Record<string, unknown> = {}) => ({
  id: uuidv7(),
  bike,
  register: 'stolen',
  askedOf: 'the register, by telephone',
  day: '2026-11-24',
  answer: 'clear',
  amount: '',
  note: '',
  ...over,
})
const ask = (over: Record<string, unknown> = {}, who = shop.dealer) => noteRegister(word(over), who)
const point = (over: Record<string, unknown> = {}) => ({
  id: uuidv7(),
  bike,
  point: 'seller-identity',
  answer: 'seen',
  note: '',
  ...over,
})
const see = (over: Record<string, unknown> = {}, who = shop.dealer) => noteIdentity(point(over), who)
const page = () => readIdentityPage(shop.dealer, String(viewingNo))
const lacksNow = (now = shop.dealer.now) => moneyLacksOf(shop.store.db, { bikeId: bike, now })
const about = async () => (await lacksNow()).map((lack) => lack.about)
const rows = async () => ({
  asked: await shop.store.db.registerAsk.count(),
  seen: await shop.store.db.identityNote.count(),
  events: await shop.store.db.event.count(),
})

describe('the answer of a register', () => {
  test('is kept with who asked whom and when, and told in the history', async () => {
    const before = await rows()
    done(await ask({ register: 'finance', answer: 'recorded', amount: '2,140.50', note: 'One agreement' }))
    expect(await shop.store.db.registerAsk.findFirstOrThrow()).toMatchObject({
      bikeId: bike,
      register: 'finance',
      askedOf: 'the register, by telephone',
      day: '2026-11-24',
      answer: 'recorded',
      amountMinor: 214050,
      note: 'One agreement',
      personId: shop.dealer.who?.personId,
      at: shop.dealer.now,
    })
    expect(await rows()).toEqual({ ...before, asked: 1, events: before.events + 1 })
    const last = await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
    expect(last).toMatchObject({ verb: 'identity:note', bikeId: bike })
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test.each([
    ['no register', { register: 'weather' }, 'register'],
    ['nobody asked', { askedOf: ' ' }, 'askedOf'],
    ['no day', { day: '' }, 'day'],
    ['a day that is still to come', { day: '2026-11-26' }, 'day'],
    ['no answer', { answer: '' }, 'answer'],
    ['something on record without what', { answer: 'recorded' }, 'note'],
    ['finance without the amount', { register: 'finance', answer: 'recorded', note: 'x' }, 'amount'],
    ['an amount in words', { register: 'finance', answer: 'recorded', note: 'x', amount: 'lots' }, 'amount'],
  ])('says at the field: %s', async (_what, over, field) => {
    const before = await rows()
    expect(Object.keys(refused(await ask(over)).fields)).toEqual([field])
    expect(await rows()).toEqual(before)
  })

  test('is written down by dealer and manager only, once, and of a bike that is there', async () => {
    expect(refused(await ask({}, shop.technician)).kind).toBe('not-allowed')
    expect(refused(await ask({}, shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await ask({ bike: uuidv7() })).kind).toBe('not-found')
    const sent = word()
    done(await noteRegister(sent, shop.manager))
    expect(refused(await noteRegister(sent, shop.manager)).kind).toBe('rule')
    expect((await rows()).asked).toBe(1)
  })

  test('counts by the day it was asked, in whatever order it was written down; the earlier ones stay', async () => {
    await cleared(shop, bike)
    done(await ask({ register: 'recall', day: '2026-11-20', answer: 'no-answer' }))
    expect(await about()).toEqual([])
    const recall = (await page()).registers.find(({ register }) => register === 'recall')
    expect(recall?.latest).toMatchObject({ answer: 'clear', day: '2026-11-25', who: 'Dele' })
    expect(recall?.earlier.map(({ day }) => day)).toEqual(['2026-11-20'])
    done(await ask({ register: 'recall', day: '2026-11-25', answer: 'no-answer' }))
    expect(await about()).toEqual(['recall'])
  })

  test('that the bike is stolen is final, whatever day it is of', async () => {
    await cleared(shop, bike)
    done(await ask({ day: '2026-10-01', answer: 'recorded', note: 'Taken in May' }))
    expect(refused(await ask({ day: '2026-11-25' })).message).toMatch(/final/)
    expect(await lacksNow()).toMatchObject([{ about: 'stolen', never: true }])
    const [stolen] = (await page()).registers
    expect(stolen).toMatchObject({ final: true, latest: { answer: 'recorded' } })
    expect(stolen?.earlier).toHaveLength(1)
    // The other registers may still be asked.
    done(await ask({ register: 'recall' }))
  })

  test('on a write-off or a recall is a plain fact of the bike until a later one is clear', async () => {
    done(await ask({ register: 'write-off', answer: 'recorded', note: 'Repaired in 2019' }))
    done(await ask({ register: 'recall', answer: 'recorded', note: 'Hose' }))
    expect(await readOnRecord(shop.store.db, bike)).toEqual([
      { register: 'write-off', day: '2026-11-24' },
      { register: 'recall', day: '2026-11-24' },
    ])
    done(await ask({ register: 'recall', day: '2026-11-25' }))
    expect(await readOnRecord(shop.store.db, bike)).toEqual([{ register: 'write-off', day: '2026-11-24' }])
  })
})

describe('the answers of the registers', () => {
  test('grow old: what was asked more than a week ago is asked again before paying', async () => {
    await cleared(shop, bike)
    const later = (instant: string) => shop.at(shop.dealer, instant).now
    expect(await lacksNow(later('2026-12-02T12:00:00Z'))).toEqual([])
    const old = await lacksNow(later('2026-12-07T12:00:00Z'))
    expect(old.map((lack) => lack.about)).toEqual([...registers])
    expect(old[0]?.says).toBe('Register of stolen vehicles: asked 12 days ago. Ask again before paying.')
    const on = shop.at(shop.dealer, '2026-12-07T12:00:00Z')
    done(await ask({ day: '2026-12-07' }, on))
    expect((await lacksNow(on.now)).map((lack) => lack.about)).toEqual(registers.slice(1))
  })

  test('grow no older once the bike is bought', async () => {
    await cleared(shop, bike)
    done(await buyBike({ bike, version: 1, price: '900', day: '2026-11-25' }, shop.dealer))
    const on = shop.at(shop.dealer, '2027-03-01T12:00:00Z')
    expect(await lacksNow(on.now)).toEqual([])
  })

  test('of finance: that the lender was paid covers only what was on record before', async () => {
    await cleared(shop, bike)
    const at = (time: string) => shop.at(shop.dealer, `2026-11-25T${time}:00Z`)
    const owed = { register: 'finance', day: '2026-11-25', answer: 'recorded', amount: '2140', note: 'One' }
    const paid = { point: 'finance', answer: 'lender-paid-direct', note: 'Letter of 25 November' }
    done(await ask(owed, at('13:00')))
    done(await see(paid, at('14:00')))
    expect(await about()).toEqual([])
    done(await ask({ ...owed, note: 'Another agreement' }, at('15:00')))
    expect((await lacksNow()).map(({ says }) => says)).toEqual([
      'The register has finance on record since the payment was noted. Settle what is owed now, and note it again.',
    ])
    done(await see(paid, at('16:00')))
    expect(await about()).toEqual([])
  })
})

describe('the frame number of the check sheet', () => {
  const tapped = (value: string, over: object = {}) =>
    recordReading(
      look(bike, ['frame-number-same', value], { takenAt: '2026-11-25T11:40:00Z', ...over }),
      shop.technician,
    )

  test('answered as altered is final, though the identity record says the same before and after', async () => {
    await cleared(shop, bike)
    done(await tapped('altered'))
    const never = [{ about: 'frame-number', never: true }]
    expect(await lacksNow()).toMatchObject(never)
    done(await tapped('same', { takenAt: '2026-11-25T11:50:00Z' }))
    expect(await lacksNow()).toMatchObject(never)
    expect(refused(await see({ point: 'frame-number', answer: 'same' })).message).toMatch(/final/)
    expect(
      refused(await buyBike({ bike, version: 1, price: '900', day: '2026-11-25' }, shop.dealer)).message,
    ).toBe(
      'This bike may never be bought. The check sheet says the frame number is altered: this bike can never be bought.',
    )
    expect((await page()).points.find((one) => one.point === 'frame-number')).toMatchObject({
      final: true,
      latest: { answer: 'same' },
    })
  })

  test('is a slip only where who tapped it sets it right at once', async () => {
    await cleared(shop, bike)
    const slip = look(bike, ['frame-number-same', 'altered'], { takenAt: '2026-11-25T11:40:00Z' })
    done(await recordReading(slip, shop.technician))
    done(await tapped('same', { supersedes: slip.id, takenAt: '2026-11-25T11:41:00Z' }))
    expect(await lacksNow()).toEqual([])

    const meant = look(bike, ['frame-number-same', 'altered'], { takenAt: '2026-11-25T11:42:00Z' })
    done(await recordReading(meant, shop.technician))
    const takenBack = {
      ...look(bike, ['frame-number-same', 'The seller explained it'], { supersedes: meant.id }),
      kind: 'withdrawn',
    }
    done(await recordReading(takenBack, shop.manager))
    expect(await lacksNow()).toMatchObject([{ about: 'frame-number', never: true }])
  })

  test.each(['differs', 'unread'])(
    'answered as %s after it was noted as the same is looked into and noted again',
    async (value) => {
      await cleared(shop, bike)
      done(
        await recordReading(
          look(bike, ['frame-number-same', value], { takenAt: '2026-11-25T13:00:00Z' }),
          shop.at(shop.technician, '2026-11-25T13:00:00Z'),
        ),
      )
      expect(await lacksNow()).toMatchObject([{ about: 'frame-number', never: false }])
      const later = shop.at(shop.dealer, '2026-11-25T13:30:00Z')
      done(await see({ point: 'frame-number', answer: 'same' }, later))
      expect(await lacksNow()).toEqual([])
    },
  )
})

describe('a point of identity', () => {
  test('is kept with who saw it and when; the latest word counts and the earlier stay', async () => {
    const before = await rows()
    done(await see({ answer: 'not-seen' }))
    done(await see({}, shop.at(shop.dealer, '2026-11-25T12:05:00Z')))
    expect(await rows()).toEqual({ ...before, seen: 2, events: before.events + 2 })
    const seller = (await page()).points.find((one) => one.point === 'seller-identity')
    expect(seller?.latest).toMatchObject({ answer: 'seen', who: 'Dele', at: '2026-11-25T12:05:00.000Z' })
    expect(seller?.earlier.map((one) => one.answer)).toEqual(['not-seen'])
    expect(await about()).not.toContain('seller-identity')
  })

  test.each([
    ['no such point', { point: 'shoe size' }, 'point'],
    ['no answer', { answer: '' }, 'answer'],
    ['an answer of another point', { answer: 'counted' }, 'answer'],
    [
      'a seller who is not the keeper, without proof',
      { point: 'right-to-sell', answer: 'explained' },
      'note',
    ],
    ['no key that works, without words', { point: 'keys', answer: 'none-work' }, 'note'],
    ['a lender paid direct, without the letter', { point: 'finance', answer: 'lender-paid-direct' }, 'note'],
    ['a name every object has', { answer: 'constructor' }, 'answer'],
  ])('says at the field: %s', async (_what, over, field) => {
    const before = await rows()
    expect(Object.keys(refused(await see(over)).fields)).toEqual([field])
    expect(await rows()).toEqual(before)
  })

  test('is written down by dealer and manager only, once, and of a bike that is there', async () => {
    expect(refused(await see({}, shop.technician)).kind).toBe('not-allowed')
    expect(refused(await see({}, shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await see({ bike: uuidv7() })).kind).toBe('not-found')
    const sent = point()
    done(await noteIdentity(sent, shop.manager))
    // Also where the same sheet comes back for another point.
    expect(
      refused(await noteIdentity({ ...sent, point: 'keys', answer: 'counted' }, shop.manager)).kind,
    ).toBe('rule')
    expect((await rows()).seen).toBe(1)
  })

  test('that the frame number is altered is final; of the other points more may be said', async () => {
    await cleared(shop, bike)
    done(await see({ point: 'frame-number', answer: 'altered' }))
    for (const later of ['same', 'differs', 'altered']) {
      expect(refused(await see({ point: 'frame-number', answer: later })).message).toMatch(/final/)
    }
    expect(await lacksNow()).toMatchObject([{ about: 'frame-number', never: true }])
    expect((await page()).points.find((one) => one.point === 'frame-number')).toMatchObject({
      final: true,
      latest: { answer: 'altered' },
    })
    done(await see({ point: 'keys', answer: 'counted' }))
  })

  test('of finance is asked only while finance is on record', async () => {
    const asked = async () => (await page()).points.map((one) => one.point)
    expect(await asked()).not.toContain('finance')
    done(await ask({ register: 'finance', answer: 'recorded', amount: '900', note: 'One agreement' }))
    expect(await asked()).toContain('finance')
    expect((await page()).points.at(-1)?.choices.map(({ key }) => key)).toEqual([
      'lender-paid-direct',
      'outstanding',
    ])
  })
})

describe('the page of identity', () => {
  test('has every register and point, what is missing, and what the rounds say already', async () => {
    await answer(shop.technician, { bike, answers: [['frame-number-same', 'altered']] })
    const read = await page()
    expect(read.registers.map(({ register }) => register)).toEqual([...registers])
    expect(read.lacks).toHaveLength(8)
    expect(read.seller).toEqual({ name: 'Quillon Abernathy', contact: 'canal side' })
    const known = read.points.flatMap((one) => one.known)
    expect(known.map(({ check, verdict }) => `${check} ${verdict}`)).toEqual([
      'frame-number-same outside',
      'keys-counted not-checked',
    ])
    expect(known[0]?.says).toContain('Altered')
  })

  test('shows a technician the distances alone: no money, nothing of seller, registers or papers', async () => {
    done(await ask({ register: 'finance', answer: 'recorded', amount: '2140', note: 'Quillon owes' }))
    done(await see({ note: 'Card of Quillon Abernathy' }))
    const said = JSON.stringify(await readDistancePage(shop.technician, String(viewingNo)))
    const secret = /minor|2140|amount|finance|seller|Quillon|canal|currency|GBP/i
    expect(said).not.toMatch(secret)
    expect(JSON.stringify(await page())).toMatch(secret)
  })

  test.each(['0', '2', 'x', '99999999999'])('is not there for the number "%s"', async (number) => {
    await expect(readIdentityPage(shop.dealer, number)).rejects.toThrow('There is no bike with that number.')
    await expect(readDistancePage(shop.technician, number)).rejects.toThrow(
      'There is no bike with that number.',
    )
  })
})
