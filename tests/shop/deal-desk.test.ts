import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { followScope } from '../../lib/shop/follow-scope'
import { noteOtherWays } from '../../lib/shop/other-ways'
import { readDeal } from '../../lib/shop/read-deal'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { answer, takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await takenIn(shop, {
    asking: '1500',
    saleLow: '2000',
    saleLikely: '2400',
    saleHigh: '2700',
  }))
})
afterEach(() => shop.dispose())

const deskOf = async () => (await readDeal(shop.dealer, String(viewingNo))).desk!
const empty = { low: '', likely: '', high: '' }
const noted = (over: object = {}) => ({
  bike,
  version: '0',
  trade: { low: '900', likely: '1,100', high: '1250' },
  parts: { low: '600', likely: '800', high: '1000' },
  stripHours: '6',
  breakCost: '40',
  wastePermit: 'yes',
  registryNotice: 'yes',
  ...over,
})

describe('what a bike would bring without being put right', () => {
  test('is noted once and changed from the version one saw', async () => {
    done(await noteOtherWays(noted(), shop.dealer))
    const { otherWays, waysOut } = await deskOf()
    expect(otherWays).toMatchObject({
      version: 1,
      trade: { low: 90_000, likely: 110_000, high: 125_000 },
      parts: { value: { likely: 80_000 }, stripHours: 6, costs: 4000 },
      wastePermit: true,
    })
    expect(waysOut!.ways.map(({ shut }) => shut)).toEqual([null, null, null, null])
    done(await noteOtherWays(noted({ version: '1', trade: empty }), shop.dealer))
    expect((await deskOf()).otherWays).toMatchObject({ version: 2, trade: null })
    expect(refused(await noteOtherWays(noted({ version: '1' }), shop.dealer)).kind).toBe('stale')
    expect(refused(await noteOtherWays(noted(), shop.dealer)).kind).toBe('stale')
  })

  test.each([
    ['two of three amounts', { trade: { low: '900', likely: '', high: '1250' } }, 'trade.likely'],
    ['low above likely', { parts: { low: '900', likely: '800', high: '1000' } }, 'parts.low'],
    ['words for hours', { stripHours: 'a day' }, 'stripHours'],
  ])('%s is refused at its field', async (_, over, field) => {
    expect(Object.keys(refused(await noteOtherWays(noted(over), shop.dealer)).fields)).toContain(field)
    expect((await deskOf()).otherWays.version).toBe(0)
  })

  test('a technician neither notes nor learns it', async () => {
    expect(refused(await noteOtherWays(noted(), shop.technician)).kind).toBe('not-allowed')
  })
})

describe('the work that pays', () => {
  test('is taken in with one tap, each as a decision with its reason, and not twice', async () => {
    await answer(shop.technician, { bike, answers: [['tank-paint', 'poor']] })
    const before = (await deskOf()).scope!
    const paying = before.jobs.filter(({ pays }) => pays).map(({ job }) => job)
    expect(paying).toHaveLength(1)
    expect(done(await followScope({ bike }, shop.dealer)).jobs).toEqual(paying)
    const after = (await deskOf()).scope!
    expect(after.jobs.filter(({ decided }) => decided === 'in').map(({ job }) => job)).toEqual(paying)
    const rows = await shop.store.db.decision.findMany({ where: { bikeId: bike } })
    expect(rows.map(({ kind, key }) => [kind, key])).toEqual(paying.map((job) => ['add-job', job]))
    expect(refused(await followScope({ bike }, shop.dealer)).kind).toBe('rule')
  })
})

test('the desk names the round that evidence is missing for, and the checks worth most', async () => {
  const { firstNeeds, nextChecks, prices } = await deskOf()
  expect(firstNeeds!.round).toBe('running')
  expect(firstNeeds!.titles.length).toBeGreaterThan(3)
  expect(nextChecks!.length).toBe(3)
  for (const one of nextChecks!) {
    expect(['cold', 'stand']).toContain(one.round)
    expect(one.ifClean ?? 0).toBeGreaterThanOrEqual(one.ifFound ?? 0)
    expect(one.valueMinor).toBeGreaterThan(0)
  }
  expect(prices!.open).toBeLessThanOrEqual(prices!.aim)
})
