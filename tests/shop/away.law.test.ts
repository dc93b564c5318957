import fc from 'fast-check'
import { uuidv7 } from 'uuidv7'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { fitsKind, usualKind } from '../../lib/core/checks/bike-kind'
import type { LookCheck } from '../../lib/core/checks/catalogue'
import { dealAway, offerAway, pricesAway, sheetAway } from '../../lib/shop/away-reckoned'
import type { Context } from '../../lib/shop/deed'
import { readPrices } from '../../lib/shop/read-comparables'
import { readDeal } from '../../lib/shop/read-deal'
import { readSheet } from '../../lib/shop/read-sheet'
import { makeOwn, Phone, packFor, signedIn } from '../support/away'
import { priceOfForm } from '../support/noted-prices'
import {
  chainDriven,
  type OpenShop,
  openInventedShop,
  openTestShop,
  testDay,
  testNow,
  viewing,
} from '../support/open-shop'
import { measured } from '../support/readings'
import type { FreshFolder } from '../support/shop-folder'

/* What a phone works out without a network is what the server says of the same, to the penny. */

/** All the pages of one viewing as the server makes them. */
async function onServer(context: Context, viewingNo: number) {
  const number = String(viewingNo)
  return {
    sheet: await readSheet(signedIn(context), number),
    deal: await readDeal(context, number),
    prices: await readPrices(context, number),
  }
}

function onPhone(phone: Phone, bike: string) {
  const away = phone.at(bike)
  return { sheet: sheetAway(away), deal: dealAway(away), prices: pricesAway(away) }
}

type Pages = Awaited<ReturnType<typeof onServer>>

/** What only the server can say stands aside: numbers it draws, and how often a row was changed. */
function worked({ sheet, deal, prices }: Pages) {
  const head = { viewingNo: 0, version: 0 }
  return {
    sheet: { ...sheet, bike: { ...sheet.bike, viewingNo: 0 } },
    deal: { ...deal, ...head, desk: deal.desk && { ...deal.desk, kept: [] } },
    prices: { ...prices, ...head },
  }
}

describe('of any viewing taken in, looked over, priced and offered for on the phone', () => {
  let shop: OpenShop
  beforeAll(async () => {
    shop = await openTestShop()
    await makeOwn(shop, shop.dealer)
  })
  afterAll(() => shop.dispose())

  const looks = startingCatalogue.checks.filter(
    (check): check is LookCheck =>
      check.sort === 'look' &&
      check.short !== undefined &&
      fitsKind({ ...usualKind, ...chainDriven }, check.appliesTo),
  )
  const anyAnswers = fc
    .uniqueArray(fc.nat(looks.length - 1), { minLength: 2, maxLength: 10 })
    .chain((places) =>
      fc.tuple(
        ...places.map((place) =>
          fc
            .nat(looks[place]!.answers.length - 1)
            .map((answer) => [looks[place]!.key, looks[place]!.answers[answer]!.key] as const),
        ),
      ),
    )
  const anyViewing = fc.record({
    answers: anyAnswers,
    asking: fc.integer({ min: 200, max: 2500 }),
    notes: fc.array(fc.integer({ min: 900, max: 4000 }), { minLength: 1, maxLength: 4 }),
    typed: fc.boolean(),
    pads: fc.constantFrom('0.8', '2.1', '4.5'),
    year: fc.integer({ min: 1985, max: 2015 }),
  })

  test('the sheet, the deal, the prices and the offer are those of the server once it is in', async () => {
    await fc.assert(
      fc.asyncProperty(anyViewing, async ({ answers, asking, notes, typed, pads, year }) => {
        const phone = new Phone(await packFor(shop.dealer), shop.dealer)
        const taken = viewing({
          ...{ asking: '', saleLow: '', saleLikely: '', saleHigh: '', year: String(year) },
          model: `Twin ${year}`,
        })
        const bike = taken.id
        phone.do('take-in-viewing', taken)
        const none = { asking: '', saleLow: '', saleLikely: '', saleHigh: '' }
        const sale = typed ? { saleLow: '1800', saleLikely: '2100', saleHigh: '2500' } : {}
        phone.do('say-prices', { bike, ...none, ...sale, asking: String(asking), was: none })
        for (const price of notes)
          phone.do('note-price', { ...priceOfForm, id: uuidv7(), bike, price: String(price) })
        for (const [check, value] of answers) {
          const conditions = looks.find(({ key }) => key === check)!.conditions ?? []
          const sent = { ...measured(bike, value), position: null, unit: null, instrument: null }
          phone.do('record-reading', { ...sent, check, kind: 'answer', conditions, engineSpeed: null })
        }
        phone.do('record-reading', { ...measured(bike, pads), engineSpeed: null })

        const terms = { price: asking * 90, validUntil: testDay, subjectTo: 'The papers are there.' }
        const before = onPhone(phone, bike)
        const made = offerFor(phone, { bike, terms })
        const answered = await phone.send()
        const { viewingNo } = await shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })
        expect(answered.filter(({ ok }) => !ok)).toEqual([])
        expect(worked(await onServer(shop.dealer, viewingNo))).toEqual(
          made === null ? worked(before) : worked(onPhone(phone, bike)),
        )
        if (made === null) return
        const offer = await shop.store.db.offer.findUniqueOrThrow({ where: { id: made } })
        const event = await shop.store.db.event.findFirstOrThrow({
          where: { verb: 'offer:make', bikeId: bike },
        })
        // Nothing came out otherwise here.
        expect(JSON.parse(event.body)).toEqual({
          priceMinor: terms.price,
          validUntil: testDay,
          away: { at: testNow.toISOString(), figuresNo: 1 },
        })
        expect(offer.priceMinor).toBe(terms.price)
      }),
      { numRuns: 4, endOnFailure: true },
    )
  })

  /** Makes an offer on the phone, where one may be made; answers its id. */
  function offerFor(
    phone: Phone,
    { bike, terms }: { bike: string; terms: Parameters<typeof offerAway>[1] },
  ): string | null {
    try {
      const made = offerAway(phone.at(bike), terms)
      return phone.do('make-offer', { id: uuidv7(), bike, ...terms, made }).id
    } catch {
      // An altered frame number: no offer here, and the server would refuse it too.
      expect(phone.deeds.some(({ body }) => body.value === 'altered')).toBe(true)
      return null
    }
  }
})

describe('of every bike of the invented shop', () => {
  let fresh: FreshFolder
  beforeAll(async () => {
    fresh = await openInventedShop()
  })
  afterAll(() => fresh.dispose())

  test('the pack shows what the pages of the server show', async () => {
    const { store } = fresh
    const { id: personId, name } = await store.db.person.findFirstOrThrow({ where: { name: 'Maren' } })
    const device = await store.db.device.findFirstOrThrow()
    const context = {
      ...{ store, now: testNow, deviceId: device.id },
      who: { personId, name, roles: ['manager', 'dealer'] as const, deviceId: device.id },
    }
    await makeOwn({ store, deviceId: device.id }, context)
    // As if she had taken in all of them and none were bought yet: then the pack has each with all that is known of it.
    await store.db.bike.updateMany({ data: { createdBy: personId, stage: 'viewing' } })
    const phone = new Phone(await packFor(context), context)
    expect(phone.pack.viewings.length).toBeGreaterThan(10)
    for (const { bike } of phone.pack.viewings) {
      const server = await onServer(context, bike.viewingNo)
      const { sheet, deal, prices } = onPhone(phone, bike.id)
      expect(sheet).toEqual(server.sheet)
      expect(deal).toEqual({ ...server.deal, desk: server.deal.desk && { ...server.deal.desk, kept: [] } })
      expect(prices).toEqual(server.prices)
    }
  })
})
