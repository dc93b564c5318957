import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { noteCounterOffer } from '../../lib/shop/counter-offer'
import type { Context } from '../../lib/shop/deed'
import { makeOffer } from '../../lib/shop/make-offer'
import { readDeal } from '../../lib/shop/read-deal'
import { readOfferForShop, readSellerOffers } from '../../lib/shop/read-offer'
import { readStory, storyAsked } from '../../lib/shop/read-story'
import { passUp } from '../../lib/shop/stages'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
let offer: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop))
  const made = { bike, version: 1, price: '900', validUntil: '2026-12-02', subjectTo: 'Both keys' }
  offer = done(await makeOffer(made, shop.dealer)).offer
})
afterEach(() => shop.dispose())

const said = (over: object = {}) => ({ id: uuidv7(), offer, said: 'seller', amount: '1,100', ...over })
const note = (over: object = {}, context: Context = shop.dealer) => noteCounterOffer(said(over), context)
const rows = () => shop.store.db.counterOffer.findMany({ orderBy: { id: 'asc' } })
const offers = () => shop.store.db.offer.findMany({ orderBy: { id: 'asc' } })
const onSellerSide = (context: Context): Context => ({
  ...context,
  who: { ...context.who!, roles: ['technician'], sellerSide: true },
})

describe('a figure named in answer to an offer', () => {
  test('by the seller is kept beside it, and the price counted stays that of the offer', async () => {
    done(await note({ note: 'Wants it gone by Friday' }))
    expect(await rows()).toMatchObject([
      { offerId: offer, said: 'seller', amountMinor: 110000, note: 'Wants it gone by Friday' },
    ])
    expect(await offers()).toHaveLength(1)
    const { deal } = await readDeal(shop.dealer, '1')
    expect(deal?.atPrice).toMatchObject({ priceMinor: 90000, basis: 'offered' })
  })

  test('by the shop is an offer of its own, until the same day and subject to the same', async () => {
    const made = done(await note({ said: 'shop', amount: '950' })).offer
    expect(made).not.toBe(offer)
    const [, second] = await offers()
    expect(second).toMatchObject({
      id: made,
      priceMinor: 95000,
      validUntil: '2026-12-02',
      subjectTo: 'Both keys',
    })
    expect(JSON.parse(second!.input).asking).toBe(95000)
    expect(JSON.parse(second!.sheet)).toMatchObject({ offerMinor: 95000, subjectTo: 'Both keys' })
    expect(await rows()).toMatchObject([{ offerId: offer, said: 'shop', amountMinor: 95000 }])
    const { deal } = await readDeal(shop.dealer, '1')
    expect(deal?.atPrice).toMatchObject({ priceMinor: 95000, basis: 'offered' })
  })

  test('by the shop, the same as before, is no new offer', async () => {
    expect(done(await note({ said: 'shop', amount: '900' })).offer).toBe(offer)
    expect(await offers()).toHaveLength(1)
    expect(await rows()).toHaveLength(1)
  })

  test('is in the story for who may see money, and for nobody else', async () => {
    done(await note({ note: 'Cash today' }))
    const asked = { viewingNo: '1', asked: storyAsked({}) }
    const readAs = (context: Context) => readStory({ ...context, who: context.who! }, asked)
    const told = JSON.stringify(await readAs(shop.dealer))
    expect(told).toContain('The seller answered an offer with a figure. Cash today.')
    expect(told).toContain('110000')
    const bench = JSON.stringify(await readAs(shop.technician))
    expect(bench).not.toMatch(/answered an offer|Cash today|110000/)
  })

  test("on the seller's side is only the seller's own", async () => {
    const seen = onSellerSide(shop.dealer)
    done(await note({}, seen))
    expect(refused(await note({ said: 'shop', amount: '2000' }, seen)).message).toContain('needs the PIN')
    expect(await offers()).toHaveLength(1)
    expect(await rows()).toHaveLength(1)
  })

  test('is about the latest offer, before the bike is bought or passed up, and stands once', async () => {
    const once = said()
    done(await noteCounterOffer(once, shop.dealer))
    expect(refused(await noteCounterOffer(once, shop.dealer)).message).toBe('This is written down already.')
    const made = done(await note({ said: 'shop', amount: '950' })).offer
    expect(refused(await note()).message).toBe('A newer offer has been made. Look at it first.')
    done(await passUp({ bike, version: 3, reason: 'Too far apart' }, shop.dealer))
    expect(refused(await note({ offer: made })).kind).toBe('rule')
  })

  test('by the shop on an offer that has run out asks for a new one', async () => {
    const later = shop.at(shop.dealer, '2026-12-03T12:00:00Z')
    expect(refused(await note({ said: 'shop', amount: '950' }, later)).message).toContain('has run out')
    done(await note({}, later))
  })
})

describe('the offers as their seller may read them', () => {
  test('hold the figures named and neither notes nor anything of the shop’s side', async () => {
    done(await note({ note: 'Could go to 1,000' }))
    const page = await readSellerOffers(onSellerSide(shop.dealer), { viewingNo: '1' })
    expect(page.offers).toMatchObject([{ id: offer, priceMinor: 90000, counters: [{ amountMinor: 110000 }] }])
    const text = JSON.stringify(page)
    expect(text).not.toMatch(/Could go|walkAway|margin|target|asking|chance|labourRate/i)
    const own = await readOfferForShop(shop.dealer, offer)
    expect([...own.notes.values()]).toEqual([{ who: 'Dele', note: 'Could go to 1,000' }])
    expect(own.recomputed).toEqual({ state: 'same', differing: [], otherRules: null })
  })

  test('are those of that bike alone', async () => {
    const other = await takenIn(shop)
    const asked = { viewingNo: String(other.viewingNo), offer }
    await expect(readSellerOffers(shop.dealer, asked)).rejects.toThrow('That offer is not there.')
    expect((await readSellerOffers(shop.dealer, { viewingNo: String(other.viewingNo) })).shown).toBeNull()
  })
})
