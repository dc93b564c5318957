import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, it, test } from 'vitest'
import { prospectOf } from '../../lib/core/deal/deal'
import { dealInput } from '../../lib/core/deal/deal.input'
import {
  correctComparable,
  noteComparable,
  reckonWithNoted,
  seeComparableAgain,
  withdrawComparable,
} from '../../lib/shop/comparables'
import { comparablesCsv, importComparables } from '../../lib/shop/comparables-csv'
import { readBoardRows } from '../../lib/shop/derived'
import { changeFigures } from '../../lib/shop/figures'
import { makeOffer } from '../../lib/shop/make-offer'
import { readBikeForMoney } from '../../lib/shop/read-bike'
import { readPrices } from '../../lib/shop/read-comparables'
import { readDeal } from '../../lib/shop/read-deal'
import { readStory, storyAsked } from '../../lib/shop/read-story'
import { readWork } from '../../lib/shop/read-work'
import { priceOfForm, priceTable } from '../support/noted-prices'
import { done, type OpenShop, openTestShop, refused, testDay, testNow } from '../support/open-shop'
import { takenIn } from '../support/readings'

const untyped = { saleLow: '', saleLikely: '', saleHigh: '' }

let shop: OpenShop
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop, untyped))
})
afterEach(() => shop.dispose())

const note = async (over: object = {}, about = bike) => {
  const id = uuidv7()
  done(await noteComparable({ id, bike: about, ...priceOfForm, ...over }, shop.dealer))
  return id
}
const pricesOf = (number = '1') => readPrices(shop.dealer, number)
const likely = async (number = '1') => (await pricesOf(number)).sale.points?.likely ?? null
const rowOf = async (id = bike, now = testNow) =>
  (await readBoardRows(shop.store, now)).rows.find((row) => row.id === id)!
const messages = async (over: object) =>
  refused(await noteComparable({ id: uuidv7(), bike, ...priceOfForm, ...over }, shop.dealer)).fields

describe('a noted price', () => {
  it('becomes the sale price of the bike on every page that reckons with one', async () => {
    expect((await readDeal(shop.dealer, '1')).deal).toBeNull()
    await note({ asked: 'sold', price: '2400', firstSeenOn: '', lastSeenOn: testDay, year: '1997' })
    const { sale, reckoned, notes } = await pricesOf()
    expect(sale).toMatchObject({ basis: 'noted', noted: 1 })
    expect(notes).toMatchObject([{ asked: false, priceMinor: 240000, firstSeenOn: testDay, who: 'Dele' }])
    // Sold in November, when prices are 0.95 of the usual; ready seven days later, in December: 0.94.
    expect(reckoned?.season).toEqual({ month: 12, factor: 0.94 })
    expect(sale.points!.likely).toBe(Math.round((240_000 * 0.94) / 0.95))
    const shown = await readDeal(shop.dealer, '1')
    expect(shown.sale.points).toEqual(sale.points)
    expect(shown.deal?.walkAway).not.toBeNull()
    expect((await readBikeForMoney(shop.dealer, '1')).sale).toEqual(sale.points)
    expect((await rowOf()).marginMean).not.toBeNull()
    expect(await readWork(shop.dealer, '1')).toBeTruthy()
  })

  it('counts for every bike of its make and model however they are spelt, and for no other', async () => {
    const twin = await takenIn(shop, {
      ...untyped,
      make: 'CALDER',
      model: '600-Four',
      registration: 'TERN 2',
    })
    const other = await takenIn(shop, { ...untyped, model: '750', registration: 'TERN 3' })
    await note()
    expect(await likely(`${twin.viewingNo}`)).not.toBeNull()
    expect(await likely(`${other.viewingNo}`)).toBeNull()
  })

  it('noted for this bike alone counts for it alone', async () => {
    const twin = await takenIn(shop, { ...untyped, registration: 'TERN 2' })
    await note({ alone: 'yes' })
    expect(await likely()).not.toBeNull()
    expect(await likely(`${twin.viewingNo}`)).toBeNull()
    expect((await pricesOf()).notes[0]).toMatchObject({ alone: true, typed: { alone: 'ticked' } })
  })

  test.each<[string, object, string]>([
    ['a price of nothing', { price: '0' }, 'price'],
    ['a day still to come', { lastSeenOn: '2026-11-26' }, 'lastSeenOn'],
    ['first seen after it was last seen', { firstSeenOn: '2026-11-05' }, 'firstSeenOn'],
    ['an address that would run a script', { link: 'javascript:alert(1)' }, 'link'],
    ['a step of condition that is none', { condition: 'mint' }, 'condition'],
    ['a market that is none', { market: 'friend' }, 'market'],
  ])('is refused with %s, at its field', async (_what, over, field) => {
    expect(Object.keys(await messages(over))).toEqual([field])
  })

  it('is written down once', async () => {
    const id = await note()
    expect(refused(await noteComparable({ id, bike, ...priceOfForm }, shop.dealer)).kind).toBe('rule')
  })

  it('seen again is as fresh as today and has stood so much longer; one that was sold is not seen again', async () => {
    const id = await note()
    const [before] = (await pricesOf()).notes
    done(await seeComparableAgain({ comparable: id, bike, version: '1' }, shop.dealer))
    const [after] = (await pricesOf()).notes
    expect(before).toMatchObject({ daysOld: 21, monthsStood: 0, seenToday: false })
    expect(after).toMatchObject({ daysOld: 0, monthsStood: 1, seenToday: true, version: 2 })
    expect(after!.weight).toBeGreaterThan(before!.weight)
    const sold = await note({ asked: 'sold' })
    expect(refused(await seeComparableAgain({ comparable: sold, bike, version: 1 }, shop.dealer)).kind).toBe(
      'rule',
    )
  })

  it('corrected by two at once shows the second what differs', async () => {
    const id = await note()
    const ofForm = { comparable: id, bike, version: '1', ...priceOfForm }
    done(await correctComparable({ ...ofForm, price: '2300' }, shop.dealer))
    const { theirs } = refused(await correctComparable({ ...ofForm, price: '2350' }, shop.manager))
    expect(theirs).toEqual({ price: '2300', version: '2' })
  })

  it('taken back counts no more and stays in the record', async () => {
    const id = await note()
    done(await withdrawComparable({ comparable: id, bike, version: 1, reason: 'A 750' }, shop.dealer))
    expect((await pricesOf()).notes).toEqual([])
    expect(await likely()).toBeNull()
    expect((await shop.store.db.comparable.findUniqueOrThrow({ where: { id } })).withdrawnAt).toEqual(testNow)
    expect(refused(await seeComparableAgain({ comparable: id, bike, version: 2 }, shop.dealer)).kind).toBe(
      'not-found',
    )
  })

  it('is told in the story with its amounts, and to who may see no money not at all', async () => {
    const id = await note({ note: 'At the coast' })
    done(
      await correctComparable(
        { comparable: id, bike, version: 1, ...priceOfForm, price: '2,400' },
        shop.dealer,
      ),
    )
    const asked = storyAsked({})
    const told = await readStory({ ...shop.dealer, who: shop.dealer.who! }, { viewingNo: '1', asked })
    const [corrected, first] = told.entries
    expect(first).toMatchObject({
      says: 'Noted an asking price of a similar bike, trade (At the coast).',
      amounts: [{ label: 'Noted', minor: 249500 }],
    })
    expect(corrected!.amounts).toEqual([
      { label: 'Before', minor: 249500 },
      { label: 'Noted', minor: 240000 },
    ])
    const bench = await readStory(
      { ...shop.technician, who: shop.technician.who! },
      { viewingNo: '1', asked },
    )
    expect(JSON.stringify(bench)).not.toMatch(/price|249500|coast/)
  })
})

describe('typed and noted', () => {
  it('what a person typed counts, with the noted beside it, until the noted are taken', async () => {
    const typed = await takenIn(shop, { registration: 'TERN 2' })
    const number = `${typed.viewingNo}`
    expect(refused(await reckonWithNoted({ bike: typed.bike, version: '1' }, shop.dealer)).kind).toBe('rule')
    await note()
    const before = await pricesOf(number)
    expect(before.sale).toEqual({
      basis: 'typed',
      noted: 1,
      points: { low: 200000, likely: 235000, high: 260000 },
    })
    expect(before.reckoned?.sale).toEqual((await pricesOf()).sale.points)
    done(await reckonWithNoted({ bike: typed.bike, version: '1' }, shop.dealer))
    const after = await pricesOf(number)
    expect(after).toMatchObject({ typedSale: null, version: 2, sale: { basis: 'noted' } })
    expect(after.sale.points).toEqual(before.reckoned?.sale)
  })

  it('an offer keeps the price that was reckoned, and is worked out again to the penny after the notes moved on', async () => {
    const id = await note({ asked: 'sold', lastSeenOn: testDay })
    done(await makeOffer({ bike, version: '1', price: '900', validUntil: '2026-12-01' }, shop.dealer))
    const { deal } = await readDeal(shop.dealer, '1')
    done(
      await correctComparable(
        { comparable: id, bike, version: 1, ...priceOfForm, price: '900' },
        shop.dealer,
      ),
    )
    const offer = await shop.store.db.offer.findFirstOrThrow()
    const { walkAway } = JSON.parse(offer.output) as { walkAway: number }
    expect(prospectOf(dealInput.parse(JSON.parse(offer.input))).walkAway()).toBe(walkAway)
    expect(walkAway).toBe(deal?.walkAway)
    expect((await readDeal(shop.dealer, '1')).deal?.walkAway).not.toBe(walkAway)
  })
})

describe('the board', () => {
  it('follows every change of a noted price, and works no other model out anew', async () => {
    const other = (await takenIn(shop, { model: '750', registration: 'TERN 3' })).bike
    const kept = async (id: string) => {
      await readBoardRows(shop.store, testNow)
      return (await shop.store.db.derived.findUniqueOrThrow({ where: { bikeId: id } })).inputsHash
    }
    const twin = (await takenIn(shop, { ...untyped, registration: 'TERN 2' })).bike
    const [bikes, others] = [[await kept(twin)], [await kept(other)]]
    const changed = async () => {
      bikes.push(await kept(twin))
      others.push(await kept(other))
    }
    const id = await note()
    await changed()
    done(await seeComparableAgain({ comparable: id, bike, version: 1 }, shop.dealer))
    await changed()
    done(
      await correctComparable({ comparable: id, bike, version: 2, ...priceOfForm, price: '99' }, shop.dealer),
    )
    await changed()
    done(await withdrawComparable({ comparable: id, bike, version: 3, reason: 'Gone' }, shop.dealer))
    expect((await rowOf(twin)).marginMean).toBeNull()
    expect(new Set(bikes).size).toBe(4)
    expect(new Set(others).size).toBe(1)
  })

  it('asks once for the noted prices of all bikes', async () => {
    const statements = async () => {
      await readBoardRows(shop.store, testNow)
      const before = shop.store.statementCount()
      await readBoardRows(shop.store, testNow)
      return shop.store.statementCount() - before
    }
    const few = await statements()
    for (const plate of ['TERN 4', 'TERN 5', 'TERN 6']) {
      const { bike: more } = await takenIn(shop, { ...untyped, model: plate, registration: plate })
      await note({}, more)
    }
    expect(await statements()).toBe(few)
  })

  it('notes grow older by themselves: in half a year the same two weigh otherwise', async () => {
    await note({ price: '2000', lastSeenOn: testDay, firstSeenOn: testDay })
    await note({ price: '3000', asked: 'sold', lastSeenOn: testDay, firstSeenOn: testDay, market: 'private' })
    const on = (day: string) => readPrices({ ...shop.dealer, now: new Date(`${day}T12:00:00Z`) }, '1')
    const [now, later] = [await on(testDay), await on('2027-05-24')]
    expect(later.notes[0]!.weight).toBeCloseTo(now.notes[0]!.weight / 2, 9)
    expect(later.reckoned!.widenedBy).toBeGreaterThan(now.reckoned!.widenedBy)
  })

  it('takes the shop’s own figures for markets', async () => {
    await note({ market: 'auction', asked: 'sold', lastSeenOn: testDay, firstSeenOn: '' })
    const before = await likely()
    const { version } = await shop.store.db.shop.findFirstOrThrow()
    const notedPrices = {
      ...{ soldToAsked: '93', longStandingPerMonth: '1.5', halfLifeDays: '180', yearScale: '4' },
      ...{ distanceScaleKm: '20000', conditionStep: '60' },
      markets: {
        private: { weight: '0.8', toRetail: '1.08' },
        trade: { weight: '1', toRetail: '1' },
        auction: { weight: '0.6', toRetail: '1.5' },
      },
    }
    done(await changeFigures({ version, figures: { notedPrices } }, shop.manager))
    expect((await likely())! / before!).toBeCloseTo(1.5 / 1.25, 3)
  })
})

describe('a table of noted prices', () => {
  const take = (table: string, seen = '') => importComparables({ bike, table, seen }, shop.dealer)
  const line = (over: Record<number, string> = {}) => {
    const cells = [
      '',
      '',
      '',
      '',
      '1999',
      '21000',
      'mi',
      'tidy',
      'trade',
      'sold',
      '2,250',
      '',
      '2026-11-01',
      '',
      '',
    ]
    return cells.map((cell, at) => {
      const text = over[at] ?? cell
      return text.includes(',') ? `"${text}"` : text
    })
  }

  it('goes out and comes in again without changing anything', async () => {
    await note()
    await note({ alone: 'yes', price: '2100', note: '=1+1' })
    const { text } = await comparablesCsv(shop.dealer, '1')
    const tried = done(await take(text))
    expect(tried).toMatchObject({ seen: '', counts: { same: 2, new: 0, changed: 0, refused: 0 } })
  })

  it('is tried first, changes nothing, and then does all of it at once', async () => {
    const id = await note()
    const table = priceTable(line(), line({ 10: '2,300' }), line({ 0: id, 10: '2,400', 9: 'asked' }))
    const tried = done(await take(table))
    expect(tried.counts).toEqual({ new: 2, changed: 1, same: 0, refused: 0 })
    expect(tried.lines[2]!.says).toContain('price: 2495 → 2400')
    expect(await shop.store.db.comparable.count()).toBe(1)
    expect(done(await take(tried.table, tried.seen)).applied).toBe(true)
    expect((await pricesOf()).notes.map(({ priceMinor }) => priceMinor).sort()).toEqual([
      225000, 230000, 240000,
    ])
    // A second time there is nothing left to do.
    const again = priceTable(line(), line({ 10: '2,300' }))
    expect(done(await take(again)).counts).toMatchObject({ same: 2, new: 0 })
  })

  it('refuses a line by the rules of the form, each in its own words, and then takes none', async () => {
    const table = priceTable(
      line({ 10: 'cheap' }),
      line({ 12: '2027-01-01' }),
      line({ 1: 'Ostrel' }),
      line({ 3: '99' }),
      line({ 0: 'no such id' }),
      line(),
    )
    const tried = done(await take(table))
    expect(tried).toMatchObject({ seen: '', counts: { refused: 5, new: 1 } })
    expect(tried.lines.map(({ says }) => says[0]?.split(':')[0])).toEqual([
      ...['price', 'last seen', 'make', 'for viewing', 'id', undefined],
    ])
    expect(refused(await take(table, 'x'.repeat(64))).kind).toBe('stale')
    expect(await shop.store.db.comparable.count()).toBe(0)
  })

  it('is refused where a price moved between the two steps', async () => {
    const id = await note()
    const tried = done(await take(priceTable(line())))
    done(await seeComparableAgain({ comparable: id, bike, version: 1 }, shop.dealer))
    expect(refused(await take(tried.table, tried.seen)).kind).toBe('stale')
  })

  it('notes prices of another model and of one bike alone where a line names them', async () => {
    const table = priceTable(line({ 1: 'Ostrel', 2: '500 twin' }), line({ 3: '1' }))
    const tried = done(await take(table))
    done(await take(tried.table, tried.seen))
    expect((await pricesOf()).notes).toMatchObject([{ alone: true }])
    expect(await shop.store.db.comparable.count({ where: { makeKey: 'ostrel', modelKey: '500twin' } })).toBe(
      1,
    )
  })
})
