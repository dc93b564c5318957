import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { addPhoto } from '../../lib/shop/add-photo'
import { choosePhoto, markPhoto } from '../../lib/shop/mark-photo'
import { readPhotos } from '../../lib/shop/read-photos'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop))
})
afterEach(() => shop.dispose())

const circle = { kind: 'circle', x: 0.25, y: 0.5, radius: 0.1 } as const
const signedIn = (role: 'dealer' | 'technician') => ({ ...shop[role], who: shop[role].who! })
const viewingNo = async () =>
  String((await shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })).viewingNo)

async function take(over: object = {}, takenAt = '2026-11-25T11:58:00Z'): Promise<string> {
  const bytes = await sharp({ create: { width: 40, height: 30, channels: 3, background: '#806040' } })
    .jpeg()
    .toBuffer()
  const { photo } = done(await addPhoto({ id: uuidv7(), bike, takenAt, bytes, ...over }, shop.technician))
  return photo
}

it('a photo is shown with what it was taken for: a fault, a check, or the whole bike', async () => {
  const worn = await take({ fault: 'chain-worn' }, '2026-11-25T11:58:03Z')
  const leaks = await take({ check: 'fuel-leaks', caption: 'wet seam' }, '2026-11-25T11:58:02Z')
  const whole = await take({}, '2026-11-25T11:58:01Z')
  const { photos } = await readPhotos(signedIn('technician'), await viewingNo())
  expect(photos.map(({ id, about, fault, caption, who }) => [id, about, fault, caption, who])).toEqual([
    [whole, null, null, '', 'Tove'],
    [leaks, 'Fuel smell and leaks', null, 'wet seam', 'Tove'],
    [worn, 'Chain worn', 'chain-worn', '', 'Tove'],
  ])
})

it('marks and the choice for the buyer stand beside the picture, which stays as it was', async () => {
  const photo = await take()
  const before = await shop.store.db.photo.findUniqueOrThrow({ where: { id: photo } })
  done(await markPhoto({ photo, version: 1, marks: [circle] }, shop.technician))
  done(await choosePhoto({ photo, version: 2, forBuyer: 'yes' }, shop.dealer))
  const { photos } = await readPhotos(signedIn('dealer'), await viewingNo())
  expect(photos[0]).toMatchObject({ marks: [circle], forBuyer: true, version: 3, width: 40, height: 30 })
  const after = await shop.store.db.photo.findUniqueOrThrow({ where: { id: photo } })
  expect(after.sha256).toBe(before.sha256)
  expect(await shop.store.photos.check(after.sha256)).toBe('good')
})

it('of two who draw on one photo the second is told, and nothing of the first is lost', async () => {
  const photo = await take()
  done(await markPhoto({ photo, version: 1, marks: [circle] }, shop.technician))
  expect(refused(await markPhoto({ photo, version: 1, marks: [] }, shop.dealer)).kind).toBe('stale')
  const row = await shop.store.db.photo.findUniqueOrThrow({ where: { id: photo } })
  expect(JSON.parse(row.marks)).toEqual([circle])
})

it('a technician draws, and does not choose what a buyer sees', async () => {
  const photo = await take()
  expect(refused(await choosePhoto({ photo, version: 1, forBuyer: 'yes' }, shop.technician)).kind).toBe(
    'not-allowed',
  )
})

it('what is read for the page holds no money and no seller', async () => {
  await take()
  const read = JSON.stringify(await readPhotos(signedIn('technician'), await viewingNo()))
  expect(read).not.toMatch(/minor|seller|asking|price/i)
})
