import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { checkChain } from '../../lib/data/events'
import type { Context } from '../../lib/shop/deed'
import { changeFigures } from '../../lib/shop/figures'
import { makeOffer } from '../../lib/shop/make-offer'
import { recordReading } from '../../lib/shop/record-reading'
import { endSellerSide, startSellerSide } from '../../lib/shop/seller-side'
import { signIn, signOut, whoOf } from '../../lib/shop/sign-in'
import { may, type PersonVerb, whoMay } from '../../lib/shop/who-may'
import { done, type OpenShop, openTestShop, pins, refused, testNow } from '../support/open-shop'
import { look, takenIn } from '../support/readings'

let shop: OpenShop
let token: string
beforeEach(async () => {
  shop = await openTestShop()
  token = done(await signIn({ person: shop.manager.who!.personId, pin: pins.manager }, shop.nobody)).token
})
afterEach(() => shop.dispose())

const from = '/bikes/1/deal'
const later = (seconds: number) => new Date(testNow.getTime() + seconds * 1000)

/** The context of a request with that session's cookie, as every door reads it. */
async function asked(sessionToken = token, now = testNow): Promise<Context> {
  const { store, deviceId } = shop
  return { store, now, deviceId, who: await whoOf(store, { sessionToken, deviceId, now }) }
}
const start = async () => done(await startSellerSide({ from }, await asked()))
const end = async (pin: string, now = testNow) => endSellerSide({ pin, from }, await asked(token, now))
const events = (verb: string) => shop.store.db.event.findMany({ where: { verb } })

describe("the seller's side", () => {
  it('takes every role of the shop’s side from the session, in every window, until the PIN is given', async () => {
    expect((await asked()).who).toMatchObject({ roles: ['dealer', 'manager'] })
    await start()
    const { personId } = shop.manager.who!
    for (let window = 0; window < 2; window++)
      expect((await asked()).who).toEqual({
        personId,
        name: 'Mara',
        roles: ['technician'],
        deviceId: shop.deviceId,
        sellerSide: true,
      })
    done(await end(pins.manager))
    const { who } = await asked()
    expect(who).toMatchObject({ roles: ['dealer', 'manager'] })
    expect(who).not.toHaveProperty('sellerSide')
  })

  it('allows what a technician may, the sheet and what is said to it, and no more', async () => {
    await start()
    const { who } = await asked()
    const verbs = Object.keys(may).filter((verb) => typeof may[verb as PersonVerb] !== 'string')
    const gained = (verbs as PersonVerb[]).filter(
      (verb) => whoMay(who!, verb) && !whoMay({ roles: ['technician'] }, verb),
    )
    expect(gained).toEqual(['offer:show', 'offer:counter'])
    const lost = (verbs as PersonVerb[]).filter(
      (verb) => !whoMay(who!, verb) && whoMay({ roles: ['technician'] }, verb),
    )
    expect(lost).toEqual([])
    for (const verb of ['money:see', 'offer:make', 'decision:make', 'figures:change'] as const)
      expect(whoMay(who!, verb), verb).toBe(false)
  })

  it('refuses each deed of the shop’s side and still takes a reading', async () => {
    const { bike } = await takenIn(shop)
    await start()
    const here = await asked()
    const offer = { bike, version: 1, price: '900', validUntil: '2026-12-02' }
    expect(refused(await makeOffer(offer, here)).kind).toBe('not-allowed')
    const figures = { version: 1, figures: { targetMargin: '1' } }
    expect(refused(await changeFigures(figures, here)).kind).toBe('not-allowed')
    done(await recordReading(look(bike, ['intake-boots', 'cracked']), here))
    const reading = await shop.store.db.reading.findFirstOrThrow()
    expect(reading.personId).toBe(shop.manager.who!.personId)
  })

  it('is told in the history, in and out, with an unbroken chain', async () => {
    await start()
    done(await end(pins.manager))
    const who = { personId: shop.manager.who!.personId, deviceId: shop.deviceId, bikeId: null }
    expect(await events('seller-side:start')).toMatchObject([who])
    expect(await events('seller-side:end')).toMatchObject([who])
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  it('is for who has a shop’s side: not a technician, not somebody who is not signed in, not twice', async () => {
    const there = { ...shop.nobody, who: shop.technician.who }
    expect(refused(await startSellerSide({ from }, there)).kind).toBe('not-allowed')
    expect(refused(await startSellerSide({ from }, shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await startSellerSide({}, await asked())).fields).toHaveProperty('from')
    await start()
    expect(refused(await startSellerSide({ from }, await asked())).kind).toBe('not-allowed')
    expect(await events('seller-side:start')).toHaveLength(1)
  })

  it('is of this device alone: the same person elsewhere goes on, and so does another person here', async () => {
    const dealer = done(
      await signIn({ person: shop.dealer.who!.personId, pin: pins.dealer }, shop.nobody),
    ).token
    await start()
    expect((await asked(dealer)).who).toMatchObject({ roles: ['dealer'] })
  })

  it('ends with signing out, and a new sign-in needs the PIN too', async () => {
    await start()
    done(await signOut({}, await asked()))
    expect((await asked()).who).toBeNull()
  })
})

describe('the way back', () => {
  it('is shut by a wrong PIN, by another person’s, and by one of five digits', async () => {
    await start()
    for (const pin of ['112233', pins.dealer, '12345'])
      expect(refused(await end(pin)).fields, pin).toHaveProperty('pin')
    expect((await asked()).who?.sellerSide).toBe(true)
    expect(await events('seller-side:end')).toEqual([])
  })

  it('waits longer after each failed try, together with those at sign-in, and a right PIN clears the count', async () => {
    await start()
    const person = shop.manager.who!.personId
    await end('112233')
    await signIn({ person, pin: '112234' }, shop.nobody)
    await end('112235')
    expect(refused(await end(pins.manager, later(1)))).toMatchObject({ kind: 'too-soon', waitSeconds: 1 })
    expect((await asked()).who?.sellerSide).toBe(true)
    done(await end(pins.manager, later(2)))
    expect(await shop.store.db.signInDelay.count()).toBe(0)
    expect((await asked()).who).toMatchObject({ roles: ['dealer', 'manager'] })
  })

  it('gains nothing by many tries at once: no more than three are looked at', async () => {
    await start()
    const many = await Promise.all(Array.from({ length: 12 }, (_, no) => end(String(900100 + no))))
    expect(many.map(refused).filter(({ kind }) => kind === 'malformed')).toHaveLength(3)
  })

  it('is no second place to try PINs for who is not on the seller’s side', async () => {
    expect(refused(await end('112233')).kind).toBe('rule')
    expect(await shop.store.db.signInDelay.count()).toBe(0)
  })
})
