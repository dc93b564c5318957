import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { coreVersion } from '../../lib/core/board/version'
import { deal } from '../../lib/core/deal/deal'
import { dealInput } from '../../lib/core/deal/deal.input'
import { changeBike } from '../../lib/shop/change-bike'
import { makeOffer } from '../../lib/shop/make-offer'
import { buyBike } from '../../lib/shop/stages'
import { cleared, done, type OpenShop, openTestShop, refused, viewing } from '../support/open-shop'
import { answer, takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop))
})
afterEach(() => shop.dispose())

const stored = () => shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })
const offers = () => shop.store.db.offer.findMany({ orderBy: { at: 'asc' } })
const offered = (over: object = {}) => ({
  bike,
  version: 1,
  price: '900',
  validUntil: '2026-12-02',
  ...over,
})
const offer = (over: object = {}) => makeOffer(offered(over), shop.dealer)

describe('an offer', () => {
  test('is written down with price, day and who made it, and moves the bike on', async () => {
    const { offer: id } = done(await offer())
    const [row] = await offers()
    expect(row).toMatchObject({
      id,
      bikeId: bike,
      priceMinor: 90000,
      validUntil: '2026-12-02',
      coreVersion,
      personId: shop.dealer.who?.personId,
      at: shop.dealer.now,
    })
    expect(await stored()).toMatchObject({ stage: 'offered', version: 2 })
    const last = await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
    expect(last).toMatchObject({ verb: 'offer:make', bikeId: bike })
    expect(JSON.parse(last.body)).toEqual({ priceMinor: 90000, validUntil: '2026-12-02' })
  })

  test('keeps the whole input of its calculation, which gives the same output again whatever changed since', async () => {
    await answer(shop.technician, {
      bike,
      answers: [
        ['intake-boots', 'cracked'],
        ['tank-inside', 'flakes'],
      ],
    })
    done(await offer())
    done(
      await changeBike(
        viewing({ id: bike, version: 2, saleLow: '900', saleLikely: '950', saleHigh: '1000' }),
        shop.dealer,
      ),
    )
    const [row] = await offers()
    const kept = JSON.parse(row!.input)
    // It stands the schema of the calculation, so that it can be put to it from a terminal too.
    expect(dealInput.parse(kept)).toEqual(kept)
    expect(kept.sale).toEqual({ low: 200000, likely: 235000, high: 260000 })
    expect(JSON.parse(JSON.stringify(deal(dealInput.parse(kept))))).toEqual(JSON.parse(row!.output))
    expect(JSON.parse(row!.output).walkAway).toBeGreaterThan(0)
  })

  test('is worked out from what is stored at that moment, not from a kept result', async () => {
    done(await offer())
    await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
    done(await offer({ version: 2, price: '850' }))
    const [first, second] = (await offers()).map((row) => JSON.parse(row.input).estimate.jobs)
    const keys = (jobs: { key: string; chance?: unknown }[]) =>
      jobs.filter(({ chance }) => chance === 1).map(({ key }) => key)
    expect(keys(first)).not.toContain('tank-reseal')
    expect(keys(second)).toContain('tank-reseal')
  })

  test('may be made without a sale price: then it rests on no calculation', async () => {
    const bare = await takenIn(shop, { saleLow: '', saleLikely: '', saleHigh: '' })
    done(await offer({ bike: bare.bike }))
    const [row] = await offers()
    expect([row?.input, row?.output]).toEqual(['null', 'null'])
  })

  test('holds to the end of its last day, and none is made for a day that is past', async () => {
    expect(refused(await offer({ validUntil: '2026-11-24' })).fields).toEqual({
      validUntil: 'That day is past. Give today or a later day.',
    })
    done(await offer({ validUntil: '2026-11-25' }))
  })

  test.each([
    ['no price', { price: '' }, 'price'],
    ['a price in words', { price: 'all of it' }, 'price'],
    ['a price below nothing', { price: '-1' }, 'price'],
    ['no day', { validUntil: '' }, 'validUntil'],
    ['no day of the calendar', { validUntil: '2026-13-01' }, 'validUntil'],
  ])('says at the field: %s', async (_what, over, field) => {
    expect(Object.keys(refused(await offer(over)).fields)).toEqual([field])
    expect(await offers()).toEqual([])
  })

  test('is refused from an older version, for a bike that is bought or not there, and to a technician', async () => {
    expect(refused(await offer({ version: 3 })).kind).toBe('stale')
    expect(refused(await offer({ bike: uuidv7() })).kind).toBe('not-found')
    expect(refused(await makeOffer(offered(), shop.technician)).kind).toBe('not-allowed')
    expect(refused(await makeOffer(offered(), shop.nobody)).kind).toBe('not-signed-in')
    await cleared(shop, bike)
    done(await buyBike({ bike, version: 1, price: '900', day: '2026-11-25' }, shop.dealer))
    expect(refused(await offer({ version: 2 })).kind).toBe('rule')
    expect(await offers()).toEqual([])
  })
})
