import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { setBikeLimit } from '../../lib/shop/bike-limit'
import { changeJob } from '../../lib/shop/change-job'
import { decide } from '../../lib/shop/decide'
import { forgetDerived, readBoardRows } from '../../lib/shop/derived'
import { changeFigures } from '../../lib/shop/figures'
import { setLimit, withdrawLimit } from '../../lib/shop/limits'
import { makeOffer } from '../../lib/shop/make-offer'
import { recordReading } from '../../lib/shop/record-reading'
import { buyBike } from '../../lib/shop/stages'
import { cleared, done, type OpenShop, openTestShop, testNow } from '../support/open-shop'
import { answer, look, measured, takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
let other: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop))
  other = (await takenIn(shop, { model: '750', asking: '900' })).bike
})
afterEach(() => shop.dispose())

const rows = async (now = testNow) => (await readBoardRows(shop.store, now)).rows
const rowOf = async (id = bike, now = testNow) => (await rows(now)).find((row) => row.id === id)!
const kept = async () => {
  const all = await shop.store.db.derived.findMany()
  return Object.fromEntries(all.map(({ bikeId, inputsHash, asOf }) => [bikeId, `${asOf} ${inputsHash}`]))
}

describe('the rows of the board', () => {
  test('are worked out once and kept, with what they are sorted by beside them', async () => {
    const first = await rows()
    expect(first.map(({ id }) => id)).toEqual([bike, other])
    const [row] = await shop.store.db.derived.findMany({ where: { bikeId: bike } })
    expect(row).toMatchObject({
      asOf: '2026-11-25',
      marginMinor: Math.round(first[0]!.marginMean!),
      chanceOfLoss: first[0]!.chanceOfLoss,
    })
    const before = await kept()
    expect(await rows()).toEqual(first)
    expect(await kept()).toEqual(before)
  })

  test('asked again while nothing changed, they come from what is kept', async () => {
    const { body } =
      (await rows()) && (await shop.store.db.derived.findUniqueOrThrow({ where: { bikeId: bike } }))
    await shop.store.db.derived.update({
      where: { bikeId: bike },
      data: { body: JSON.stringify({ ...JSON.parse(body), holdUp: 'As it was kept.' }) },
    })
    expect((await rowOf()).holdUp).toBe('As it was kept.')
  })

  const changes: [string, () => Promise<unknown>][] = [
    [
      'a reading',
      async () => done(await recordReading(look(bike, ['tank-inside', 'flakes']), shop.technician)),
    ],
    [
      'a decision',
      async () =>
        done(
          await decide(
            { bike, decision: { kind: 'add-fault', id: uuidv7(), key: 'tank-rust', reason: 'Seen inside' } },
            shop.dealer,
          ),
        ),
    ],
    [
      'an offer',
      async () =>
        done(await makeOffer({ bike, version: 1, price: '700', validUntil: '2026-12-01' }, shop.dealer)),
    ],
    [
      'a purchase',
      async () => {
        await cleared(shop, bike)
        done(await buyBike({ bike, version: 1, price: '1111', day: '2026-11-25' }, shop.dealer))
      },
    ],
    [
      'a limit stamped on it',
      async () =>
        done(
          await setBikeLimit(
            { id: uuidv7(), bike, check: 'disc-rear', source: 'stamped', min: '4', unit: 'mm' },
            shop.technician,
          ),
        ),
    ],
  ]
  test.each(changes)(
    'of one bike is worked out anew after %s, and the others are not',
    async (_what, change) => {
      await rows()
      const before = await kept()
      await change()
      await rows()
      const after = await kept()
      expect(after[bike]).not.toBe(before[bike])
      expect(after[other]).toBe(before[other])
    },
  )

  test('follow what changed', async () => {
    const before = await rowOf()
    await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
    const found = await rowOf()
    expect(found.costMean).toBeGreaterThan(before.costMean!)
    expect(found.marginMean).toBeLessThan(before.marginMean!)
    await cleared(shop, bike)
    done(await buyBike({ bike, version: 1, price: '1111', day: '2026-11-25' }, shop.dealer))
    const bought = await rowOf()
    expect(bought).toMatchObject({
      stage: 'bought',
      stockNo: 1,
      price: { amountMinor: 111100, basis: 'paid' },
    })
  })

  const forTheShop = () => ({
    ...{ id: uuidv7(), check: 'disc-rear', scope: 'shop', source: 'maker', unit: 'mm', min: '4', max: '' },
    ...{ make: '', model: '', yearFrom: '', yearTo: '', asNew: '', saleMin: '', saleMax: '', note: '' },
  })
  const shared: [string, () => Promise<unknown>][] = [
    ['a limit for the whole shop', async () => done(await setLimit(forTheShop(), shop.manager))],
    [
      'the shop’s own figures for a job',
      async () =>
        done(
          await changeJob(
            {
              key: 'tank-reseal',
              version: '0',
              hours: { low: '', likely: '9', high: '' },
              outsideWork: { low: '0', likely: '0', high: '0' },
              parts: {},
            },
            shop.manager,
          ),
        ),
    ],
  ]
  test.each(shared)('of all bikes are worked out anew after %s', async (_what, change) => {
    await rows()
    const before = await kept()
    await change()
    await rows()
    const after = await kept()
    for (const id of [bike, other]) expect(after[id]).not.toBe(before[id])
  })

  test('of all bikes are worked out anew when a limit is withdrawn: what it found is no longer found', async () => {
    const before = await rowOf()
    const thin = measured(bike, '3', { check: 'disc-rear', position: 'a', instrument: 'micrometer' })
    done(await recordReading(thin, shop.technician))
    done(await setLimit(forTheShop(), shop.manager))
    expect((await rowOf()).stops).toBe(before.stops + 1)
    const [row] = await shop.store.db.limit.findMany()
    done(await withdrawLimit({ limit: row!.id, version: 1 }, shop.manager))
    expect((await rowOf()).stops).toBe(before.stops)
  })

  test('come from what is kept on the same day, and say when they were worked out', async () => {
    await rows()
    await rows(new Date('2026-11-25T18:00:00Z'))
    const all = await shop.store.db.derived.findMany()
    expect(all.map(({ at }) => at.toISOString())).toEqual([testNow.toISOString(), testNow.toISOString()])
    await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
    await rows(new Date('2026-11-25T18:00:00Z'))
    const after = await shop.store.db.derived.findMany()
    const workedOut = new Map(after.map((one) => [one.bikeId, one.at.toISOString()]))
    expect(workedOut.get(bike)).toBe('2026-11-25T18:00:00.000Z')
    expect(workedOut.get(other)).toBe(testNow.toISOString())
  })

  test('a tyre grows too old by itself: on that day its bike has more to put right', async () => {
    // Week 46 of 2018 began on 18 November; its age is told in tenths of a year, so it is over the shop's line of
    // eight on the day on which 8.05 years, or 2,941 days, are full: 7 December 2026.
    const tyre = { ...look(bike, ['tyre-date-rear', '4618']), kind: 'code' }
    done(await recordReading(tyre, shop.technician))
    const on = async (day: string) => (await rowOf(bike, new Date(`${day}T12:00:00Z`))).musts
    const before = await on('2026-12-06')
    expect(await on('2026-12-07')).toBe(before + 1)
  })

  test('are all worked out anew after the shop’s figures changed', async () => {
    const before = await rows()
    const { version } = await shop.store.db.shop.findFirstOrThrow()
    done(await changeFigures({ version, figures: { labourCost: '90' } }, shop.manager))
    const after = await rows()
    after.forEach((row, index) => {
      expect(row.costMean).toBeGreaterThan(before[index]!.costMean!)
    })
  })

  test('are worked out anew on the next day in the shop’s zone', async () => {
    done(await makeOffer({ bike, version: 1, price: '700', validUntil: '2026-11-25' }, shop.dealer))
    expect((await rowOf()).price).toEqual({ amountMinor: 70000, basis: 'offered' })
    // The last minute of the day on which the offer holds, then the first of the next, when it has lapsed.
    expect((await rowOf(bike, new Date('2026-11-25T23:59:00Z'))).price?.basis).toBe('offered')
    const next = await rowOf(bike, new Date('2026-11-26T00:00:00Z'))
    expect(next.price).toEqual({ amountMinor: 145000, basis: 'asking' })
    expect(Object.values(await kept()).every((row) => row.startsWith('2026-11-26'))).toBe(true)
  })

  test('are forgotten at start, since another build may calculate differently', async () => {
    await rows()
    await forgetDerived(shop.store)
    expect(await kept()).toEqual({})
    expect(await rows()).toHaveLength(2)
  })
})
