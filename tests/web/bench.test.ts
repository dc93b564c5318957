import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { currentBuild } from '../../lib/desk/build.mjs'
import type { Context } from '../../lib/shop/deed'
import { noteDistance } from '../../lib/shop/distances'
import { makeOffer } from '../../lib/shop/make-offer'
import { signIn } from '../../lib/shop/sign-in'
import { buyBike } from '../../lib/shop/stages'
import { pages } from '../../lib/web/pages'
import { type RunningShop, root, startShop } from '../browser/support/server'
import { cleared, done, type OpenShop, openTestShop, pins } from '../support/open-shop'
import { answer, look, measured, takenIn } from '../support/readings'
import { removeFolder } from '../support/shop-folder'

/*
 * What the bench gets from the built server, byte for byte: the pages as a browser receives them and the two
 * addresses that take what was recorded.
 */

const built = currentBuild(root) !== null
if (!built) console.warn('The bench is not tried: there is no build. `npm test` makes one.')

describe.skipIf(!built)('the bench, at the built server', () => {
  let made: OpenShop
  let server: RunningShop
  let bike: string
  let technician: string
  const cookies = { technician: '', dealer: '' }

  /** Amounts and names that nothing else on a page could be. */
  const money = { asking: '7341.17', saleLow: '8123.31', saleLikely: '8457.43', saleHigh: '8911.59' }
  const seller = { sellerName: 'Mr Verrill', sellerContact: '07700 900 123', notes: 'Seller in a hurry' }
  // An amount begins where a number does: within an id or the name of a file the same figures say nothing.
  const secrets = /(?<![\w-])(?:7,?341|8,?123|8,?457|8,?911|6,?733|5,?219)|Verrill|07700|in a hurry/

  beforeAll(async () => {
    made = await openTestShop()
    ;({ bike } = await takenIn(made, { ...money, ...seller }))
    technician = made.technician.who!.personId
    await answer(made.technician, {
      bike,
      answers: [
        ['fuel-leaks', 'wet'],
        ['tank-inside', 'peeling'],
      ],
    })
    const { dealer, store, folder } = made
    // Above the clock of today, so that the distance is not proven.
    const paper = { day: '2023-05-02', distance: '41000', unit: 'mi', source: 'service' }
    done(await noteDistance({ id: uuidv7(), bike, ...paper }, dealer))
    done(await makeOffer({ bike, version: 1, price: '5219.37', validUntil: '2027-01-31' }, dealer))
    await cleared(made, bike)
    done(await buyBike({ bike, version: 2, price: '6733.71', day: '2026-11-24' }, dealer))
    for (const role of ['technician', 'dealer'] as const) {
      const person = made[role].who!.personId
      const now = { ...made.nobody, now: new Date() }
      const { token } = done(await signIn({ person, pin: pins[role] }, now))
      cookies[role] = `sl_device=${made.deviceToken}; sl_session=${token}`
    }
    await store.close()
    server = await startShop({ folder })
  })
  afterAll(async () => {
    await server?.close()
    removeFolder(made.folder)
  })

  const asTechnician = () => ({ cookie: cookies.technician, 'sec-fetch-site': 'same-origin' })
  const post = (path: string, body: BodyInit, headers: Record<string, string> = asTechnician()) =>
    fetch(server.url + path, { method: 'POST', headers, body })
  const syncOf = (body: object, over: object = {}) =>
    JSON.stringify({
      operations: [{ id: uuidv7(), author: technician, deed: 'record-reading', body, ...over }],
    })

  const addresses = Object.keys(pages).map((page) => page.replace('[bike]', '1'))
  it.each(addresses)('sends a technician no money and no seller at %s', async (path) => {
    for (const headers of [asTechnician(), { ...asTechnician(), rsc: '1' }]) {
      const got = await fetch(server.url + path, { headers })
      expect((await got.text()).match(secrets)?.[0]).toBeUndefined()
    }
  })

  it('would notice them: a dealer is sent the asking price', async () => {
    const got = await fetch(`${server.url}/bikes/1/edit`, { headers: { cookie: cookies.dealer } })
    expect(await got.text()).toMatch(secrets)
  })

  it.each(['', '/checks', '/story', '/rides', '/identity'])(
    'says wherever a distance stands on paper that it is not proven: /bikes/1%s',
    async (part) => {
      const got = await fetch(`${server.url}/bikes/1${part}`, { headers: asTechnician() })
      expect(await got.text()).toMatch(/distance not proven/i)
    },
  )

  it('sends the sheet with what was read, and holds back how to run a bike that leaks', async () => {
    const got = await fetch(`${server.url}/bikes/1/checks?round=running`, { headers: asTechnician() })
    const page = await got.text()
    expect(page).toContain('The running round is shut')
    expect(page).toContain('Petrol wet or dripping')
    expect(page).toContain('How to do it is held back')
  })

  it('takes a reading and answers it again alike', async () => {
    const body = syncOf(measured(bike, '4.5'))
    const first = await post('/api/v1/sync', body)
    expect(first.status).toBe(200)
    expect(first.headers.get('cache-control')).toBe('no-store')
    const told = (await first.json()) as { answers: unknown }
    expect(told).toMatchObject({ ok: true, answers: [{ ok: true }] })
    const again = (await (await post('/api/v1/sync', body)).json()) as typeof told
    expect(again.answers).toEqual(told.answers)
  })

  it('answers what cannot be a reading in its place, and the request all the same', async () => {
    const got = await post('/api/v1/sync', syncOf(measured(bike, '45')))
    expect(got.status).toBe(200)
    expect(await got.json()).toMatchObject({ answers: [{ ok: false, refusal: { kind: 'malformed' } }] })
  })

  it('takes in under their name what somebody else recorded on this device, and nothing under the name of a stranger', async () => {
    const recorded = async ({ who }: Context) => {
      const body = syncOf(look(bike, ['fuel-leaks', 'dry']), { author: who!.personId })
      return (await post('/api/v1/sync', body)).json()
    }
    expect(await recorded(made.dealer)).toMatchObject({ answers: [{ ok: true }] })
    // The manager never signed in here.
    expect(await recorded(made.manager)).toMatchObject({
      answers: [{ ok: false, refusal: { kind: 'not-allowed' } }],
    })
    const sheet = await (await fetch(`${server.url}/bikes/1/checks`, { headers: asTechnician() })).text()
    expect(sheet).toContain('Dele')
    expect(sheet).not.toContain('Mara')
  })

  it.each([
    ['no JSON', '{'],
    ['nothing', ''],
    ['no operations', '{"operations":[]}'],
    ['a deed for a desk', '{"operations":[{"deed":"buy-bike"}]}'],
    ['more than a megabyte', `{"operations":[],"more":"${'x'.repeat(1_000_001)}"}`],
  ])('refuses a sending of %s', async (_what, body) => {
    const got = await post('/api/v1/sync', body)
    expect(got.status).toBe(422)
    expect(await got.json()).toMatchObject({ ok: false, refusal: { kind: 'malformed' } })
  })

  it('takes a photo, and hands it out to those who are signed in', async () => {
    const colour = { width: 8, height: 8, channels: 3, background: '#806040' } as const
    const bytes = await sharp({ create: colour }).png().toBuffer()
    const id = uuidv7()
    const facts = new URLSearchParams({ id, bike, check: 'fuel-leaks', takenAt: new Date().toISOString() })
    const got = await post(`/api/v1/photos?${facts}`, new Uint8Array(bytes))
    expect(await got.json()).toMatchObject({ ok: true, answer: { photo: id } })
    const photo = await fetch(`${server.url}/api/v1/photos/${id}?size=small`, { headers: asTechnician() })
    expect(photo.headers.get('content-type')).toBe('image/jpeg')
    expect((await fetch(`${server.url}/api/v1/photos/${id}`)).status).toBe(401)
  })

  it('refuses what is no photo in plain words', async () => {
    const facts = new URLSearchParams({ id: uuidv7(), bike, takenAt: new Date().toISOString() })
    const got = await post(`/api/v1/photos?${facts}`, 'no picture')
    expect(got.status).toBe(422)
    expect(await got.json()).toMatchObject({
      refusal: { kind: 'malformed', fields: { photo: expect.stringMatching(/photo/) } },
    })
  })

  it('tells of a photo or a bike that is not there', async () => {
    const photo = await fetch(`${server.url}/api/v1/photos/${uuidv7()}`, { headers: asTechnician() })
    expect(photo.status).toBe(404)
    const sheet = await fetch(`${server.url}/bikes/77/checks`, { headers: asTechnician() })
    expect(sheet.status).toBe(404)
  })
})
