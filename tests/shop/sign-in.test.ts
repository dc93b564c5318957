import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { makeFirstDayCode } from '../../lib/shop/codes'
import type { Context } from '../../lib/shop/deed'
import { enrolDemoDevice } from '../../lib/shop/demo-device'
import { enrolDevice, makeDeviceCode, revokeDevice } from '../../lib/shop/devices'
import { readSignInTiles } from '../../lib/shop/read-sign-in'
import { delaySeconds, deviceOf, signIn, signOut, whoOf } from '../../lib/shop/sign-in'
import { done, type OpenShop, openTestShop, pins, refused, testNow } from '../support/open-shop'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

const later = (seconds: number) => new Date(testNow.getTime() + seconds * 1000)
const idOf = (context: Context) => context.who?.personId ?? ''

function tryPin(pin: string, over: Partial<Context> = {}) {
  return signIn({ person: idOf(shop.technician), pin }, { ...shop.nobody, ...over })
}

async function events(verb: string) {
  return shop.store.db.event.findMany({ where: { verb } })
}

describe('signing in', () => {
  it('with the right PIN on an enrolled device starts a session that tells who it is', async () => {
    const { token, expiresAt } = done(await tryPin(pins.technician))
    const asked = { sessionToken: token, deviceId: shop.deviceId, now: testNow }
    expect(await whoOf(shop.store, asked)).toEqual({
      personId: idOf(shop.technician),
      name: 'Tove',
      roles: ['technician'],
      deviceId: shop.deviceId,
    })
    expect(await whoOf(shop.store, { ...asked, now: expiresAt })).toBeNull()
    expect(await whoOf(shop.store, { ...asked, deviceId: null })).toBeNull()
    expect(await whoOf(shop.store, { ...asked, sessionToken: `${token}x` })).toBeNull()
    const [event] = await events('session:start')
    expect(event?.body).toContain(idOf(shop.technician))
    expect(event?.body).not.toContain(token)
  })

  it('keeps neither the PIN nor the token of a session in the database', async () => {
    const { token } = done(await tryPin(pins.technician))
    const kept = JSON.stringify([
      await shop.store.db.session.findMany(),
      await shop.store.db.person.findMany(),
      await shop.store.db.event.findMany(),
      await shop.store.db.device.findMany(),
    ])
    expect(kept).not.toContain(token)
    expect(kept).not.toContain(pins.technician)
    expect(kept).not.toContain(shop.deviceToken)
  })

  it('on a device that is not enrolled is refused before the PIN is looked at', async () => {
    expect(refused(await tryPin(pins.technician, { deviceId: null })).kind).toBe('not-signed-in')
    expect(await shop.store.db.signInDelay.count()).toBe(0)
  })

  it('with a wrong PIN says so at the field and starts nothing', async () => {
    expect(refused(await tryPin('112233')).fields).toHaveProperty('pin')
    expect(await shop.store.db.session.count()).toBe(0)
    expect(await events('session:start')).toEqual([])
  })

  it('needs the pepper that lies outside the database', async () => {
    const other = { ...shop.store, pepper: Buffer.alloc(32, 7) }
    expect(refused(await tryPin(pins.technician, { store: other })).fields).toHaveProperty('pin')
    done(await tryPin(pins.technician))
  })

  it('answers a person who is not there like a wrong PIN', async () => {
    const nobody = await signIn({ person: shop.deviceId, pin: '112233' }, shop.nobody)
    expect(refused(nobody)).toEqual(refused(await tryPin('112233')))
  })

  it('ends with signing out, on this device', async () => {
    const { token } = done(await tryPin(pins.technician))
    done(await signOut({}, shop.technician))
    expect(await whoOf(shop.store, { sessionToken: token, deviceId: shop.deviceId, now: testNow })).toBeNull()
    expect(await events('session:end')).toHaveLength(1)
  })
})

describe('failing again and again', () => {
  it('costs nothing twice, then doubles up to a quarter of an hour', () => {
    expect([1, 2, 3, 4, 5, 6, 11, 12, 40].map(delaySeconds)).toEqual([0, 0, 2, 4, 8, 16, 512, 900, 900])
  })

  it('makes even the right PIN wait, and tells how long', async () => {
    for (const pin of ['112233', '112234', '112235']) await tryPin(pin)
    const tooSoon = refused(await tryPin(pins.technician, { now: later(1) }))
    expect(tooSoon).toMatchObject({ kind: 'too-soon', waitSeconds: 1 })
    done(await tryPin(pins.technician, { now: later(2) }))
  })

  it('waits longer each time, and a right PIN clears the count', async () => {
    let at = 0
    const waits: number[] = []
    for (let tries = 0; tries < 6; tries++) {
      await tryPin('112233', { now: later(at) })
      const refusal = refused(await tryPin('112233', { now: later(at) }))
      const wait = refusal.kind === 'too-soon' ? (refusal.waitSeconds ?? 0) : 0
      if (refusal.kind === 'too-soon') waits.push(wait)
      at += wait
    }
    expect(waits).toEqual([2, 4, 8, 16, 32])
    done(await tryPin(pins.technician, { now: later(at) }))
    expect(await shop.store.db.signInDelay.count()).toBe(0)
    expect(refused(await tryPin('112233', { now: later(at) })).kind).toBe('malformed')
  })

  it('gains nothing by many tries at once: no more than three are looked at', async () => {
    const many = Array.from({ length: 12 }, (_, index) => tryPin(String(900100 + index)))
    const refusals = (await Promise.all(many)).map(refused)
    expect(refusals.filter(({ kind }) => kind === 'malformed')).toHaveLength(3)
    expect(refusals.filter(({ kind }) => kind === 'too-soon')).toHaveLength(9)
  })

  it('shuts out neither another person there nor the same person elsewhere', async () => {
    for (const pin of ['112233', '112234', '112235']) await tryPin(pin)
    done(await signIn({ person: idOf(shop.dealer), pin: pins.dealer }, shop.nobody))
    const { code } = done(await makeDeviceCode({}, shop.manager))
    const { deviceId } = done(await enrolDevice({ code, deviceName: 'bench tablet' }, stranger()))
    done(await tryPin(pins.technician, { deviceId }))
  })
})

const stranger = (now = testNow): Context => ({ store: shop.store, now, who: null, deviceId: null })

describe('enrolling a device', () => {
  it('works with a manager’s code, however it is typed, and only once', async () => {
    const { code } = done(await makeDeviceCode({}, shop.manager))
    const typed = ` ${code.toLowerCase().replaceAll('-', ' ')} `
    const { deviceId, deviceToken } = done(
      await enrolDevice({ code: typed, deviceName: 'bench tablet' }, stranger()),
    )
    expect(await deviceOf(shop.store, deviceToken)).toBe(deviceId)
    const again = refused(await enrolDevice({ code, deviceName: 'another' }, stranger()))
    expect(again.fields).toHaveProperty('code')
    expect(await shop.store.db.device.count()).toBe(2)
    expect(await events('device:enrol')).toHaveLength(1)
  })

  it('gives the code to one of two who type it at the same moment', async () => {
    const { code } = done(await makeDeviceCode({}, shop.manager))
    const both = await Promise.all(
      ['left', 'right'].map((deviceName) => enrolDevice({ code, deviceName }, stranger())),
    )
    expect(both.map(({ ok }) => ok).sort()).toEqual([false, true])
  })

  it('is refused half an hour later, with a first-day code, and with none', async () => {
    const { code } = done(await makeDeviceCode({}, shop.manager))
    const late = await enrolDevice({ code, deviceName: 'late' }, stranger(later(30 * 60)))
    expect(refused(late).fields).toHaveProperty('code')
    expect(await makeFirstDayCode(shop.store, testNow)).toBeNull()
    expect(refused(await enrolDevice({ code: '', deviceName: 'x' }, stranger())).fields).toHaveProperty(
      'code',
    )
  })

  it('is for a manager alone to prepare, and the code itself is kept nowhere', async () => {
    expect(refused(await makeDeviceCode({}, shop.dealer)).kind).toBe('not-allowed')
    const { code } = done(await makeDeviceCode({}, shop.manager))
    const kept = JSON.stringify([
      await shop.store.db.enrolCode.findMany(),
      await shop.store.db.event.findMany(),
    ])
    expect(kept).not.toContain(code)
    expect(kept).not.toContain(code.replaceAll('-', ''))
  })

  it('ends when the device is shut out: its sessions and its token stop at once', async () => {
    const { code } = done(await makeDeviceCode({}, shop.manager))
    const made = done(await enrolDevice({ code, deviceName: 'bench tablet' }, stranger()))
    const { token } = done(await tryPin(pins.technician, { deviceId: made.deviceId }))
    done(await revokeDevice({ device: made.deviceId, version: 1 }, shop.manager))
    expect(await deviceOf(shop.store, made.deviceToken)).toBeNull()
    expect(await whoOf(shop.store, { sessionToken: token, deviceId: made.deviceId, now: testNow })).toBeNull()
    const twice = await revokeDevice({ device: made.deviceId, version: 1 }, shop.manager)
    expect(refused(twice).kind).toBe('stale')
  })

  it('without a code is for the demo alone', async () => {
    expect(refused(await enrolDemoDevice({}, stranger())).kind).toBe('rule')
    expect(await shop.store.db.device.count()).toBe(1)
  })
})

describe('the sign-in page', () => {
  it('shows who works here to an enrolled device, and no name to a stranger', async () => {
    const here = await readSignInTiles(shop.store, { deviceId: shop.deviceId, demo: false })
    expect(here.map(({ name, pin }) => [name, pin])).toEqual([
      ['Dele', null],
      ['Mara', null],
      ['Tove', null],
    ])
    expect(await readSignInTiles(shop.store, { deviceId: null, demo: true })).toEqual([])
  })
})
