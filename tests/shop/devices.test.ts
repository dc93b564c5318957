import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { clockWords } from '../../app/(shop)/settings/people/device-entry'
import { enrolDemoDevice } from '../../lib/shop/demo-device'
import { enrolDevice, makeDeviceCode, mayOwnDevice, revokeDevice } from '../../lib/shop/devices'
import { changePerson, personLeft } from '../../lib/shop/people'
import { readPeople } from '../../lib/shop/read-settings'
import { deviceOf, signIn, whoOf } from '../../lib/shop/sign-in'
import { done, type OpenShop, openTestShop, pins, refused, testNow } from '../support/open-shop'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

const personOf = (role: 'manager' | 'dealer' | 'technician') => shop[role].who?.personId ?? ''
const stranger = () => ({ ...shop.nobody, deviceId: null })

async function enrolFor(owner: string, deviceName = 'phone') {
  const { code } = done(await makeDeviceCode({ owner }, shop.manager))
  return done(await enrolDevice({ code, deviceName }, stranger()))
}

async function ownerOf(device: string) {
  return (await shop.store.db.device.findUniqueOrThrow({ where: { id: device } })).ownerId
}

async function listed(name: string) {
  const { devices } = await readPeople(shop.store.db, testNow)
  return devices.find((device) => device.name === name)
}

it('a code made for a dealer makes the device their own, one made for the bench makes it nobody’s', async () => {
  const own = await enrolFor(personOf('dealer'))
  const bench = await enrolFor('', 'bench tablet')
  expect(await ownerOf(own.deviceId)).toBe(personOf('dealer'))
  expect(await ownerOf(bench.deviceId)).toBeNull()
  expect(await listed('phone')).toMatchObject({ owner: { name: 'Dele', leftAt: null } })
  expect(await listed('bench tablet')).toMatchObject({ owner: null })
  expect(await listed('office')).toMatchObject({ owner: null })
})

it('the code says whose it is for, and the story of the shop keeps it', async () => {
  const made = done(await makeDeviceCode({ owner: personOf('dealer') }, shop.manager))
  expect(made.owner).toBe('Dele')
  expect(done(await makeDeviceCode({}, shop.manager)).owner).toBeNull()
  done(await enrolDevice({ code: made.code, deviceName: 'phone' }, stranger()))
  const events = await shop.store.db.event.findMany({ where: { verb: { startsWith: 'device:' } } })
  const bodies = events.map(({ body }) => JSON.parse(body) as { owner?: string })
  expect(bodies.filter(({ owner }) => owner === personOf('dealer'))).toHaveLength(2)
})

it('whoever takes no viewings in, or has left, has no device of their own', async () => {
  for (const owner of [personOf('technician'), shop.deviceId])
    expect(refused(await makeDeviceCode({ owner }, shop.manager)).fields).toHaveProperty('owner')
  done(await personLeft({ person: personOf('dealer'), version: 1 }, shop.manager))
  expect(refused(await makeDeviceCode({ owner: personOf('dealer') }, shop.manager)).fields).toHaveProperty(
    'owner',
  )
  expect(refused(await makeDeviceCode({ owner: 'Dele' }, shop.manager)).kind).toBe('malformed')
  expect(await shop.store.db.enrolCode.count({ where: { purpose: 'device' } })).toBe(0)
  expect([['technician'], ['dealer'], ['manager'], []].map((held) => mayOwnDevice(held as never))).toEqual([
    false,
    true,
    true,
    false,
  ])
})

it('somebody who leaves takes their own device out of the shop with them, and no other', async () => {
  const own = await enrolFor(personOf('dealer'))
  const bench = await enrolFor('', 'bench tablet')
  const other = done(
    await signIn({ person: personOf('technician'), pin: pins.technician }, { ...shop.nobody, ...own }),
  )
  done(await personLeft({ person: personOf('dealer'), version: 1 }, shop.manager))
  expect(await deviceOf(shop.store, own.deviceToken)).toBeNull()
  expect(await deviceOf(shop.store, bench.deviceToken)).toBe(bench.deviceId)
  const asked = { sessionToken: other.token, deviceId: own.deviceId, now: testNow }
  expect(await whoOf(shop.store, asked)).toBeNull()
  expect(await listed('phone')).toMatchObject({
    revokedAt: testNow,
    owner: { name: 'Dele', leftAt: testNow },
  })
})

it('a dealer who is only a technician from now on keeps a device that is listed as theirs', async () => {
  const own = await enrolFor(personOf('dealer'))
  const now = { person: personOf('dealer'), version: 1, name: 'Dele', roles: ['technician'] }
  done(await changePerson(now, shop.manager))
  expect(await ownerOf(own.deviceId)).toBe(personOf('dealer'))
})

it('what a device last said of itself is listed, a clock only where it is off by more than two minutes', async () => {
  const { deviceId } = await enrolFor(personOf('dealer'))
  const says = (data: object) => shop.store.db.device.update({ where: { id: deviceId }, data })
  expect(await listed('phone')).toMatchObject({ lastSyncAt: null, waiting: 0, clockAheadMs: null })
  await says({ lastSyncAt: testNow, waiting: 3, clockAheadMs: -119_000 })
  expect(await listed('phone')).toMatchObject({ lastSyncAt: testNow, waiting: 3, clockAheadMs: null })
  await says({ clockAheadMs: -121_000 })
  expect(await listed('phone')).toMatchObject({ clockAheadMs: -121_000 })
})

it('a device that was shut out stays in the list, with what it still kept', async () => {
  const { deviceId } = await enrolFor('', 'bench tablet')
  await shop.store.db.device.update({ where: { id: deviceId }, data: { waiting: 2 } })
  done(await revokeDevice({ device: deviceId, version: 1 }, shop.manager))
  expect(await listed('bench tablet')).toMatchObject({ revokedAt: testNow, waiting: 2 })
})

it.each([
  [7 * 60_000, '7 minutes fast'],
  [-2.4 * 60_000, '2 minutes slow'],
  [-5 * 3_600_000, '5 hours slow'],
  [3 * 86_400_000, '3 days fast'],
])('a clock ahead by %d ms is %s', (ahead, words) => {
  expect(clockWords(ahead)).toBe(words)
})

it('a visitor’s device of the demo is the own one of the first who takes viewings in, and stays so', async () => {
  const people = [{ name: 'Dele', pin: pins.dealer }]
  writeFileSync(join(shop.folder, 'demo-sign-in.json'), JSON.stringify({ people }))
  const { deviceId } = done(await enrolDemoDevice({}, stranger()))
  const comeIn = async (role: 'manager' | 'dealer' | 'technician', device = deviceId) =>
    done(await signIn({ person: personOf(role), pin: pins[role] }, { ...shop.nobody, deviceId: device }))
  await comeIn('technician')
  expect(await ownerOf(deviceId)).toBeNull()
  await comeIn('dealer')
  expect(await ownerOf(deviceId)).toBe(personOf('dealer'))
  await comeIn('manager')
  expect(await ownerOf(deviceId)).toBe(personOf('dealer'))
  await comeIn('manager', shop.deviceId)
  expect(await ownerOf(shop.deviceId)).toBeNull()
})

it('where people are real nobody makes a device their own by signing in', async () => {
  const { deviceId } = await enrolFor('', 'bench tablet')
  done(await signIn({ person: personOf('dealer'), pin: pins.dealer }, { ...shop.nobody, deviceId }))
  expect(await ownerOf(deviceId)).toBeNull()
})
