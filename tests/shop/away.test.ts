import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { dealAway, offerAway, sheetAway } from '../../lib/shop/away-reckoned'
import { makeOfferAway } from '../../lib/shop/make-offer-away'
import { packDays, packOf, packText } from '../../lib/shop/pack'
import { readSellerOffers } from '../../lib/shop/read-offer'
import { readPack } from '../../lib/shop/read-pack'
import { readStory } from '../../lib/shop/read-story'
import { recordReading } from '../../lib/shop/record-reading'
import { Refusal } from '../../lib/shop/refusal'
import { sayPrices } from '../../lib/shop/say-prices'
import { passUp } from '../../lib/shop/stages'
import { takeInBike } from '../../lib/shop/take-in-bike'
import { makeOwn, Phone, packFor, signedIn } from '../support/away'
import { priceOfForm } from '../support/noted-prices'
import { done, type OpenShop, openTestShop, refused, testDay, viewing } from '../support/open-shop'
import { look, takenIn } from '../support/readings'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
  await makeOwn(shop, shop.dealer)
})
afterEach(() => shop.dispose())

const refusalOf = (read: Promise<unknown>) =>
  read.then(
    () => null,
    (error: unknown) => (error instanceof Refusal ? error.plain : Promise.reject(error)),
  )

describe('what a phone keeps of the shop', () => {
  test('is the facts of the shop and the open viewings that its owner took in', async () => {
    const mine = await takenIn(shop)
    const other = done(await takeInBike(viewing(), shop.manager))
    const passed = await takenIn(shop)
    done(await passUp({ bike: passed.bike, version: 1, reason: 'Too dear' }, shop.dealer))
    const pack = await packFor(shop.dealer)
    expect(pack.viewings.map(({ bike }) => bike.id)).toEqual([mine.bike])
    expect(JSON.stringify(pack)).not.toContain(other.bike)
    expect(pack.shop.name).toBe('Plover Lane Motorcycles')
    expect(pack.shop.catalogue.checks.length).toBeGreaterThan(100)
    expect((pack.expiresAt.getTime() - pack.asOf.getTime()) / 86_400_000).toBe(packDays)
  })

  test('is given to nobody at a device of the bench, or of somebody else', async () => {
    await shop.store.db.device.updateMany({ data: { ownerId: null } })
    const bench = await refusalOf(readPack(signedIn(shop.dealer)))
    expect(bench).toMatchObject({ kind: 'not-allowed', message: expect.stringMatching(/not your own/) })
    await makeOwn(shop, shop.manager)
    expect(await refusalOf(readPack(signedIn(shop.dealer)))).toMatchObject({ kind: 'not-allowed' })
    expect(await refusalOf(readPack({ ...signedIn(shop.dealer), deviceId: null }))).toMatchObject({
      kind: 'not-allowed',
    })
    expect(await refusalOf(readPack(signedIn(shop.manager)))).toBeNull()
  })

  test("is given to no technician, and to nobody on the seller's side", async () => {
    await makeOwn(shop, shop.technician)
    expect(await refusalOf(readPack(signedIn(shop.technician)))).toMatchObject({ kind: 'not-allowed' })
    await makeOwn(shop, shop.dealer)
    const { who } = signedIn(shop.dealer)
    const beside = {
      ...shop.dealer,
      who: { ...who, roles: ['technician'] as const, sellerSide: true as const },
    }
    expect(await refusalOf(readPack(beside))).toMatchObject({ kind: 'not-allowed' })
  })

  test('comes out of its text as it went in, and what is no pack, or of another shape, does not', async () => {
    await takenIn(shop)
    const pack = await readPack(signedIn(shop.dealer))
    expect(packOf(packText(pack))).toEqual(pack)
    expect(packOf(packText({ ...pack, shape: 0 }))).toBeNull()
    expect(packOf('<html>')).toBeNull()
    expect(packOf('null')).toBeNull()
  })
})

/** A whole viewing on the phone, up to an offer and what the seller said to it. */
async function wholeViewing(price = 90_000) {
  const phone = new Phone(await packFor(shop.dealer), shop.dealer)
  const taken = viewing({ asking: '1450', saleLow: '', saleLikely: '', saleHigh: '' })
  const bike = taken.id
  phone.do('take-in-viewing', taken)
  phone.do('record-reading', readingOf(bike, ['fuel-leaks', 'dry']))
  phone.do('record-reading', readingOf(bike, ['tank-inside', 'film']))
  for (const noted of ['2,495', '2,250', '2,600'])
    phone.do('note-price', { ...priceOfForm, id: uuidv7(), bike, price: noted })
  const terms = { price, validUntil: testDay, subjectTo: 'The papers are there.' }
  const made = offerAway(phone.at(bike), terms)
  const offer = phone.do('make-offer', { id: uuidv7(), bike, ...terms, made }).id
  const said = { offer, said: 'seller', amount: 120_000, note: null }
  phone.do('counter-offer', { id: uuidv7(), ...said })
  return { phone, bike, offer, made }
}

const readingOf = (bike: string, answered: [string, string]) => ({
  ...look(bike, answered),
  ...{ position: null, unit: null, conditions: [], instrument: null, engineSpeed: null, note: null },
  supersedes: null,
})

const rows = async () => {
  const { db } = shop.store
  const counts = { bikes: db.bike.count(), readings: db.reading.count(), noted: db.comparable.count() }
  const more = { offers: db.offer.count(), counters: db.counterOffer.count(), events: db.event.count() }
  const all = { ...counts, ...more }
  const values = await Promise.all(Object.values(all))
  return Object.fromEntries(Object.keys(all).map((key, index) => [key, values[index]]))
}

describe('a viewing that was made away', () => {
  test('is all there once it is sent, with the number the server draws and the offer as it was said', async () => {
    await takenIn(shop)
    const { phone, bike, offer, made } = await wholeViewing()
    const before = dealAway(phone.at(bike)).deal
    expect(before?.walkAway).toBeGreaterThan(0)
    expect(made.sheet.bike.viewingNo).toBe(0)
    const answers = await phone.send()
    expect(answers.map(({ ok }) => ok)).toEqual(phone.deeds.map(() => true))
    const row = await shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })
    expect([row.viewingNo, row.stage]).toEqual([2, 'offered'])
    const seen = await readSellerOffers(shop.dealer, { viewingNo: '2' })
    expect(seen.shown).toMatchObject({ id: offer, priceMinor: 90_000, counters: [{ amountMinor: 120_000 }] })
    // What the seller was shown, with the number that has been drawn since.
    expect(seen.sheet).toEqual({ ...made.sheet, bike: { ...made.sheet.bike, viewingNo: 2 } })
    const pack = await packFor(shop.dealer)
    expect(new Set(pack.done)).toEqual(new Set(phone.deeds.map(({ id }) => id)))
    // A pack that knows of it lays nothing over it twice.
    const after = new Phone(pack, shop.dealer)
    after.deeds = phone.deeds
    expect(after.seen.viewings).toEqual(pack.viewings)
    expect(sheetAway(after.at(bike)).bike.viewingNo).toBe(2)
  })

  test('sent again and again, its answers lost, is done once', async () => {
    const { phone } = await wholeViewing()
    const operations = phone.deeds.length
    const all = phone.deeds
    // Half of it arrives and nobody hears of it; then all of it, several times.
    phone.deeds = all.slice(0, Math.ceil(operations / 2))
    await phone.send()
    phone.deeds = all
    const first = await phone.send()
    const stored = await rows()
    expect(await phone.send()).toEqual(first)
    const [one, two] = await Promise.all([phone.send(), phone.send()])
    expect([one, two]).toEqual([first, first])
    expect(await rows()).toEqual(stored)
    expect(stored).toMatchObject({ bikes: 1, readings: 2, noted: 3, offers: 1, counters: 1 })
  })

  test('keeps its offer where the figures have changed meanwhile, and the story says by which it was made', async () => {
    const { phone, bike, made } = await wholeViewing()
    const { figures, figuresNo } = phone.pack.shop
    await shop.store.db.figures.create({
      data: {
        no: 2,
        body: JSON.stringify({ ...figures, labourCostMinor: 9900 }),
        reason: 'Rent',
        at: shop.dealer.now,
      },
    })
    await shop.store.db.shop.updateMany({ data: { figuresNo: 2 } })
    await phone.send()
    const offer = await shop.store.db.offer.findFirstOrThrow({ where: { bikeId: bike } })
    expect(offer.priceMinor).toBe(90_000)
    // Worked out by the figures it was made by: the same to the penny.
    expect(JSON.parse(offer.output)).toMatchObject({ walkAway: made.walkAway })
    expect(JSON.parse(offer.input)).toMatchObject({ estimate: { labourRate: figures.labourCostMinor } })
    const event = await shop.store.db.event.findFirstOrThrow({ where: { verb: 'offer:make' } })
    expect(JSON.parse(event.body).away).toEqual({ at: made.at, figuresNo, figuresNow: 2 })
    const story = JSON.stringify(
      await readStory(signedIn(shop.dealer), {
        viewingNo: '1',
        asked: { kind: null, order: 'oldest', behind: null },
      }),
    )
    expect(story).toContain('by figures 1, while figures 2 are in force')
  })

  test('keeps its price where more is known by now, and the event says both walk-away prices', async () => {
    const { phone, bike, made } = await wholeViewing()
    const offer = phone.deeds.findIndex(({ deed }) => deed === 'make-offer')
    const all = phone.deeds
    phone.deeds = all.slice(0, offer)
    await phone.send()
    const found = readingOf(bike, ['tank-inside', 'flakes'])
    done(await recordReading(found, shop.technician))
    phone.deeds = all
    await phone.send()
    const event = await shop.store.db.event.findFirstOrThrow({ where: { verb: 'offer:make' } })
    const { away } = JSON.parse(event.body)
    expect(away.walkAwayThen).toBe(made.walkAway)
    expect(away.walkAwayHere).toBeLessThan(made.walkAway!)
    expect(away.sheetDiffers).toBe(true)
  })

  test('whose sheet says another price than its offer is refused', async () => {
    const { phone } = await wholeViewing()
    const offer = phone.deeds.find(({ deed }) => deed === 'make-offer')!
    ;(offer.body as { price: number }).price = 95_000
    const answers = await phone.send()
    expect(answers[phone.deeds.indexOf(offer)]).toMatchObject({ ok: false, refusal: { kind: 'rule' } })
    expect(await shop.store.db.offer.count()).toBe(0)
  })

  test('of a bike passed up meanwhile is refused, offer and answer alike, and nothing else of it is', async () => {
    const { phone, bike } = await wholeViewing()
    const all = phone.deeds
    phone.deeds = all.slice(0, 1)
    await phone.send()
    done(await passUp({ bike, version: 1, reason: 'Rust' }, shop.manager))
    phone.deeds = all
    const answers = await phone.send()
    expect(answers.map(({ ok }) => ok)).toEqual(all.map(({ deed }) => !deed.includes('offer')))
  })

  test('that is not taken in loses nothing of what follows: each is refused by itself and can be sent again', async () => {
    const { phone } = await wholeViewing()
    const [taken] = phone.deeds
    const { make } = taken!.body
    ;(taken!.body as Record<string, unknown>).make = ''
    const answers = await phone.send()
    expect(answers.map(({ ok }) => ok)).toEqual(phone.deeds.map(() => false))
    expect(await rows()).toMatchObject({ bikes: 0, readings: 0, offers: 0 })
    ;(taken!.body as Record<string, unknown>).make = make
    expect((await phone.send()).every(({ ok }) => ok)).toBe(true)
  })
})

describe('prices said away', () => {
  test('take the place of what the person saw and of nothing newer', async () => {
    const { bike } = await takenIn(shop)
    const phone = new Phone(await packFor(shop.dealer), shop.dealer)
    const was = { asking: 145_000, saleLow: 200_000, saleLikely: 235_000, saleHigh: 260_000 }
    phone.do('say-prices', { bike, ...was, asking: '1300', was })
    phone.do('say-prices', { bike, ...was, asking: '1250', was: { ...was, asking: 130_000 } })
    expect(phone.at(bike).viewing.bike.askingMinor).toBe(125_000)
    expect((await phone.send()).map(({ ok }) => ok)).toEqual([true, true])
    const again = new Phone(await packFor(shop.dealer), shop.dealer)
    again.do('say-prices', { bike, ...was, asking: '900', was })
    expect(await again.send()).toMatchObject([
      { ok: false, refusal: { kind: 'stale', theirs: { asking: '1250' } } },
    ])
    const { askingMinor } = await shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })
    expect(askingMinor).toBe(125_000)
  })

  test('are no business of a technician', async () => {
    const { bike } = await takenIn(shop)
    const phone = new Phone(await packFor(shop.dealer), shop.technician)
    const was = { asking: 145_000, saleLow: 200_000, saleLikely: 235_000, saleHigh: 260_000 }
    phone.do('say-prices', { bike, ...was, asking: '1300', was })
    phone.do('take-in-viewing', viewing())
    expect(await phone.send()).toMatchObject([
      { ok: false, refusal: { kind: 'not-allowed' } },
      { ok: false, refusal: { kind: 'not-allowed' } },
    ])
  })
})

describe('an offer on the phone', () => {
  test('is refused as on the server: an altered frame number, a day gone by', async () => {
    const phone = new Phone(await packFor(shop.dealer), shop.dealer)
    const taken = viewing()
    phone.do('take-in-viewing', taken)
    const terms = { price: 90_000, validUntil: '2026-11-24', subjectTo: '' }
    expect(() => offerAway(phone.at(taken.id), terms)).toThrow('Look at the marked field.')
    phone.do('record-reading', readingOf(taken.id, ['frame-number-same', 'altered']))
    expect(() => offerAway(phone.at(taken.id), { ...terms, validUntil: testDay })).toThrow(
      /may never be bought/,
    )
  })
})

describe('the deeds of a phone, asked by themselves', () => {
  const was = { asking: 145_000, saleLow: 200_000, saleLikely: 235_000, saleHigh: 260_000 }
  const said = (bike: string, over: object = {}) => ({ bike, ...was, asking: '1300', was, ...over })
  const offered = async (over: object = {}) => {
    const { bike } = await takenIn(shop)
    const phone = new Phone(await packFor(shop.dealer), shop.dealer)
    const terms = { price: 90_000, validUntil: testDay, subjectTo: '' }
    return { id: uuidv7(), bike, ...terms, made: offerAway(phone.at(bike), terms), ...over }
  }
  const kindOf = async (asked: ReturnType<typeof sayPrices | typeof makeOfferAway>) =>
    refused(await asked).kind

  test('are done for a dealer and written down once', async () => {
    const offer = await offered()
    done(await sayPrices(said(offer.bike), shop.dealer))
    done(await makeOfferAway(offer, shop.dealer))
    expect(await kindOf(makeOfferAway(offer, shop.dealer))).toBe('rule')
    const told = await shop.store.db.event.findMany({
      where: { bikeId: offer.bike },
      orderBy: { seq: 'asc' },
    })
    expect(told.map(({ verb }) => verb).slice(-2)).toEqual(['bike:change', 'offer:make'])
  })

  test('are refused where nobody is signed in, to a technician, where the bike is not there, and half said', async () => {
    const offer = await offered()
    for (const [who, kind] of [
      [shop.nobody, 'not-signed-in'],
      [shop.technician, 'not-allowed'],
    ] as const) {
      expect(await kindOf(sayPrices(said(offer.bike), who))).toBe(kind)
      expect(await kindOf(makeOfferAway(offer, who))).toBe(kind)
    }
    expect(await kindOf(sayPrices(said(uuidv7()), shop.dealer))).toBe('not-found')
    expect(await kindOf(makeOfferAway({ ...offer, bike: uuidv7() }, shop.dealer))).toBe('not-found')
    expect(refused(await sayPrices(said(offer.bike, { asking: 'much' }), shop.dealer)).fields).toHaveProperty(
      'asking',
    )
    expect(refused(await makeOfferAway({ ...offer, price: -1 }, shop.dealer)).fields).toHaveProperty('price')
    expect(await rows()).toMatchObject({ offers: 0 })
  })
})
