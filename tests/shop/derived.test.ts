import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { setBikeLimit } from '../../lib/shop/bike-limit'
import { decide } from '../../lib/shop/decide'
import { forgetDerived, readBoardRows } from '../../lib/shop/derived'
import { changeFigures } from '../../lib/shop/figures'
import { makeOffer } from '../../lib/shop/make-offer'
import { recordReading } from '../../lib/shop/record-reading'
import { buyBike } from '../../lib/shop/stages'
import { done, type OpenShop, openTestShop, testNow } from '../support/open-shop'
import { answer, look, takenIn } from '../support/readings'

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
      async () => done(await buyBike({ bike, version: 1, price: '1111', day: '2026-11-25' }, shop.dealer)),
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
    expect(found.costMean).toBeGreaterThan(before.costMean)
    expect(found.marginMean).toBeLessThan(before.marginMean!)
    done(await buyBike({ bike, version: 1, price: '1111', day: '2026-11-25' }, shop.dealer))
    const bought = await rowOf()
    expect(bought).toMatchObject({
      stage: 'bought',
      stockNo: 1,
      price: { amountMinor: 111100, basis: 'paid' },
    })
  })

  test('are all worked out anew after the shop’s figures changed', async () => {
    const before = await rows()
    const { version } = await shop.store.db.shop.findFirstOrThrow()
    done(await changeFigures({ version, figures: { labourCost: '90' } }, shop.manager))
    const after = await rows()
    after.forEach((row, index) => {
      expect(row.costMean).toBeGreaterThan(before[index]!.costMean)
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
