import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { fitsKind, usualKind } from '../../lib/core/checks/bike-kind'
import type { LookCheck } from '../../lib/core/checks/catalogue'
import { makeOffer } from '../../lib/shop/make-offer'
import { noteOtherWays } from '../../lib/shop/other-ways'
import { recompute } from '../../lib/shop/read-offer'
import { recordReading } from '../../lib/shop/record-reading'
import { buyBike } from '../../lib/shop/stages'
import { expectByCalc } from '../support/by-calc'
import {
  chainDriven,
  cleared,
  done,
  type OpenShop,
  openInventedShop,
  openTestShop,
  testDay,
  testNow,
} from '../support/open-shop'
import { look, takenIn } from '../support/readings'
import type { FreshFolder } from '../support/shop-folder'

/* What the deal page shows is what the command says of the stored input. */

describe('of any small bike', () => {
  let shop: OpenShop
  beforeAll(async () => {
    shop = await openTestShop()
  })
  afterAll(() => shop.dispose())

  const looks = startingCatalogue.checks.filter(
    (check): check is LookCheck =>
      check.sort === 'look' &&
      (check.round === 'cold' || check.round === 'stand') &&
      fitsKind({ ...usualKind, ...chainDriven }, check.appliesTo),
  )
  const anyAnswers = fc
    .uniqueArray(fc.nat(looks.length - 1), { minLength: 2, maxLength: 12 })
    .chain((places) =>
      fc.tuple(
        ...places.map((place) =>
          fc
            .nat(looks[place]!.answers.length - 1)
            .map((answer) => [looks[place]!.key, looks[place]!.answers[answer]!.key] as const),
        ),
      ),
    )
  const pounds = (min: number, max: number) => fc.integer({ min, max })
  const anyBike = fc.record({
    answers: anyAnswers,
    asking: pounds(200, 2500),
    sale: fc
      .tuple(pounds(900, 4000), pounds(900, 4000), pounds(900, 4000))
      .map((three) => three.sort((a, b) => a - b)),
    trade: fc
      .tuple(pounds(100, 1500), pounds(100, 1500), pounds(100, 1500))
      .map((three) => three.sort((a, b) => a - b)),
    year: fc.integer({ min: 1985, max: 2015 }),
    bought: fc.boolean(),
  })

  test('by its answers, prices and whether it is bought; and an offer comes out to the penny', async () => {
    await fc.assert(
      fc.asyncProperty(anyBike, async ({ answers, asking, sale, trade, year, bought }) => {
        const [saleLow, saleLikely, saleHigh] = sale.map(String)
        const { bike, viewingNo } = await takenIn(shop, {
          asking: String(asking),
          year: String(year),
          ...{ saleLow, saleLikely, saleHigh },
        })
        for (const [check, value] of answers) {
          const conditions = looks.find(({ key }) => key === check)!.conditions ?? []
          done(await recordReading(look(bike, [check, value], { conditions }), shop.technician))
        }
        const [low, likely, high] = trade.map(String)
        const none = { low: '', likely: '', high: '' }
        const ways = { trade: { low, likely, high }, parts: none, stripHours: '', breakCost: '' }
        done(await noteOtherWays({ bike, version: 0, ...ways }, shop.dealer))
        if (bought) await cleared(shop, bike)
        const { version } = await shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })
        if (bought) {
          const price = String(asking)
          done(await buyBike({ bike, version, price, day: testDay }, shop.dealer))
        } else {
          const offered = { price: String(Math.ceil(asking * 0.8)), validUntil: testDay }
          done(await makeOffer({ bike, version, ...offered }, shop.dealer))
          const offer = await shop.store.db.offer.findFirstOrThrow({ where: { bikeId: bike } })
          expect(recompute(offer)).toEqual({ state: 'same', differing: [], otherRules: null })
        }
        await expectByCalc(shop.dealer, String(viewingNo))
      }),
      { numRuns: 5, endOnFailure: true },
    )
  })
})

describe('of every bike of the invented shop', () => {
  let fresh: FreshFolder
  beforeAll(async () => {
    fresh = await openInventedShop()
  })
  afterAll(() => fresh.dispose())

  test('the same holds, next checks and optional jobs among them', async () => {
    const { store } = fresh
    const { id: personId, name } = await store.db.person.findFirstOrThrow({ where: { name: 'Maren' } })
    const who = { personId, name, roles: ['manager', 'dealer'] as const, deviceId: null }
    const bikes = await store.db.bike.findMany()
    let [checks, optional] = [0, 0]
    for (const { viewingNo } of bikes) {
      const among = await expectByCalc({ store, now: testNow, who, deviceId: null }, String(viewingNo))
      checks += among.checks
      optional += among.optional
    }
    expect(bikes.length).toBeGreaterThan(10)
    expect(checks).toBeGreaterThan(8)
    expect(optional).toBeGreaterThan(4)
  })
})
