import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { addPhoto } from '../../lib/shop/add-photo'
import { makeOffer } from '../../lib/shop/make-offer'
import { readBikeForBench, readBikeForMoney } from '../../lib/shop/read-bike'
import { readDeal } from '../../lib/shop/read-deal'
import { buyBike } from '../../lib/shop/stages'
import { cleared, done, type OpenShop, openTestShop } from '../support/open-shop'
import { answer, takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop, {
    sellerName: 'Quillon Abernathy',
    sellerContact: 'by the canal',
    notes: 'Would take 777 in cash',
    asking: '1,437',
    saleLow: '2013',
    saleLikely: '2357',
    saleHigh: '2611',
  }))
})
afterEach(() => shop.dispose())

const forBench = (number = '1') => readBikeForBench(shop.technician, number)
const forMoney = (number = '1') => readBikeForMoney(shop.dealer, number)
const dealOf = (number = '1') => readDeal(shop.dealer, number)

async function statements(read: () => Promise<unknown>): Promise<number> {
  const before = shop.store.statementCount()
  await read()
  return shop.store.statementCount() - before
}

async function photo() {
  const bytes = await sharp({ create: { width: 8, height: 8, channels: 3, background: '#333333' } })
    .jpeg()
    .toBuffer()
  const id = uuidv7()
  const sent = { id, bike, takenAt: '2026-11-25T11:00:00Z', bytes: new Uint8Array(bytes) }
  done(await addPhoto(sent, shop.technician))
  return id
}

describe('a bike as the bench sees it', () => {
  test('holds no money and nothing of the seller, in any stage', async () => {
    const secret =
      /minor|price|margin|asking|sale(?!\w*line)|paid|seller|walk|cost|currency|1437|2013|2357|2611|777|913|888|Quillon|canal/i
    const said = async () => JSON.stringify(await forBench())
    expect(await said()).not.toMatch(secret)
    done(await makeOffer({ bike, version: 1, price: '888', validUntil: '2026-12-01' }, shop.dealer))
    expect(await said()).not.toMatch(secret)
    await cleared(shop, bike)
    done(await buyBike({ bike, version: 2, price: '913', day: '2026-11-25' }, shop.dealer))
    expect(await said()).not.toMatch(secret)
    // The same words are in what a dealer reads: the pattern would have found them.
    expect(JSON.stringify(await forMoney())).toMatch(secret)
  })

  test('says how far the checks have come, and what stops it', async () => {
    const before = await forBench()
    await answer(shop.technician, { bike, answers: [['fuel-leaks', 'wet']] })
    const after = await forBench()
    expect(after.progress.done).toBe(before.progress.done + 1)
    expect(after.faults[0]).toMatchObject({ call: 'stop' })
    expect(after.rounds.find(({ round }) => round === 'running')?.open).toBe(false)
  })

  test('shows its photos, the first taken first', async () => {
    const ids = [await photo(), await photo()]
    expect((await forBench()).photos.map(({ id }) => id)).toEqual(ids)
    expect((await forMoney()).photos).toEqual((await forBench()).photos)
  })

  test.each([
    // Published example of a number with a valid check digit; K in position 10 stands for 1989 and 2019.
    [
      'a number whose check digit fits',
      '1M8GDM9AXKP042788',
      '1989',
      { checkDigit: 'right', claimedYearFits: true },
    ],
    [
      'another year than claimed',
      '1M8GDM9AXKP042788',
      '1995',
      { checkDigit: 'right', claimedYearFits: false },
    ],
    ['a check digit that must fit and does not', '1M8GDM9A1KP042788', '1989', { checkDigit: 'wrong' }],
    ['an older frame number', 'CLD6-0041873', '1997', { checkDigit: 'none', number: 'CLD6-0041873' }],
  ])('tells what the frame number says: %s', async (_what, frameNumber, year, said) => {
    const { viewingNo } = await takenIn(shop, { frameNumber, year })
    const { frame } = await forBench(String(viewingNo))
    expect(frame).toMatchObject(said)
    const fits = said.checkDigit !== 'wrong' && !('claimedYearFits' in said && !said.claimedYearFits)
    expect(frame!.problems.length === 0).toBe(fits)
  })
})

describe('a bike as the dealer sees it', () => {
  test('has seller, prices, offers and purchase, and the row it has on the board', async () => {
    done(await makeOffer({ bike, version: 1, price: '888', validUntil: '2026-12-01' }, shop.dealer))
    const seen = await forMoney()
    expect(seen).toMatchObject({
      version: 2,
      sellerName: 'Quillon Abernathy',
      askingMinor: 143700,
      sale: { low: 201300, likely: 235700, high: 261100 },
      purchase: null,
      offers: [{ priceMinor: 88800, validUntil: '2026-12-01' }],
      row: { price: { amountMinor: 88800, basis: 'offered' } },
    })
    await cleared(shop, bike)
    done(await buyBike({ bike, version: 2, price: '913', day: '2026-11-24' }, shop.dealer))
    expect(await forMoney()).toMatchObject({
      stockNo: 1,
      purchase: { priceMinor: 91300, day: '2026-11-24' },
      row: { price: { amountMinor: 91300, basis: 'paid' } },
    })
  })
})

describe('the deal on a bike', () => {
  test('goes from the sale price to the expected margin without a gap', async () => {
    const { deal } = await dealOf()
    const { sale, margin, ...less } = deal!.steps!
    const left = Object.values(less).reduce((rest, step) => rest - step, sale)
    expect(left).toBeCloseTo(margin, 6)
    expect(margin).toBeCloseTo(deal!.atPrice!.marginMean, 6)
    expect(less.price).toBe(143700)
  })

  test('is the one on the board', async () => {
    const { deal } = await dealOf()
    const { row } = await forMoney()
    expect(row).toMatchObject({
      walkAway: deal!.walkAway,
      marginMean: deal!.atPrice!.marginMean,
      chanceOfLoss: deal!.atPrice!.chanceOfLoss,
    })
  })

  test('tells which inputs move the price most, widest first', async () => {
    const { deal } = await dealOf()
    const widths = deal!.swings.map(({ width }) => width)
    expect(widths.length).toBeGreaterThanOrEqual(3)
    expect(widths).toEqual([...widths].sort((a, b) => b - a))
  })

  test('is none without a sale price: no figure is made up', async () => {
    const bare = await takenIn(shop, { saleLow: '', saleLikely: '', saleHigh: '' })
    expect((await dealOf(String(bare.viewingNo))).deal).toBeNull()
    expect((await forMoney(String(bare.viewingNo))).row).toMatchObject({ walkAway: null, marginMean: null })
  })

  test('has a walk-away price and no margin without a price', async () => {
    const bare = await takenIn(shop, { asking: '' })
    const { deal } = await dealOf(String(bare.viewingNo))
    expect(deal).toMatchObject({ atPrice: null, steps: null, marginShape: null })
    expect(deal?.walkAway).toBeGreaterThan(0)
  })
})

test.each([
  ['bench', forBench],
  ['money', forMoney],
  ['deal', dealOf],
])('%s is refused for a number that no bike has', async (_what, read) => {
  for (const number of ['0', '-1', '9', '1.5', 'one', '', '99999999999']) {
    await expect(read(number)).rejects.toThrow('There is no bike with that number.')
  }
})

test.each([
  // The bike with what it is judged by (its readings, decisions, clearings, work, open states, rides), the shop.
  ['bench', forBench, 11],
  // Beside it what was spent, what parts and outside work are asked at, prices noted, offers, other ways out, what-ifs
  // that were kept with who kept them, and the days of the bench plan.
  ['deal', dealOf, 21],
  // The kept row is looked up beside it, and worked out at most once.
  ['money', forMoney, 28],
])('%s takes the same few questions to the database however much is known', async (_what, read, most) => {
  await forMoney()
  // The shop's figures are read once and then known.
  await read()
  const few = await statements(() => read())
  await photo()
  await answer(shop.technician, {
    bike,
    answers: [
      ['tank-inside', 'flakes'],
      ['intake-boots', 'cracked'],
      ['fuel-leaks', 'dry'],
    ],
  })
  await takenIn(shop)
  await forMoney()
  expect(await statements(() => read())).toBe(few)
  expect(few).toBeLessThanOrEqual(most)
})
