import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { enrolDemoDevice } from '../../lib/shop/demo-device'
import { readSignInTiles } from '../../lib/shop/read-sign-in'
import { deviceOf } from '../../lib/shop/sign-in'
import { done, openTestShop, pins } from '../support/open-shop'

it('a visitor of the demo enrols without a code and sees the invented people’s PINs', async () => {
  const shop = await openTestShop()
  const people = [{ name: 'Tove', pin: pins.technician }]
  writeFileSync(join(shop.folder, 'demo-sign-in.json'), JSON.stringify({ people }))
  const visitor = { ...shop.nobody, deviceId: null }
  const { deviceId, deviceToken } = done(await enrolDemoDevice({}, visitor))
  expect(await deviceOf(shop.store, deviceToken)).toBe(deviceId)
  const tiles = await readSignInTiles(shop.store, { deviceId, demo: true })
  expect(tiles.find(({ name }) => name === 'Tove')?.pin).toBe(pins.technician)
  expect(tiles.find(({ name }) => name === 'Mara')?.pin).toBeNull()
  const plain = await readSignInTiles(shop.store, { deviceId, demo: false })
  expect(plain.every(({ pin }) => pin === null)).toBe(true)
  await shop.dispose()
})
