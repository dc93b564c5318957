import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { addPhoto } from '../../lib/shop/add-photo'
import type { Context } from '../../lib/shop/deed'
import { mostPictures, readKeptPages, readKeptPictures } from '../../lib/shop/kept-pages'
import { recordReading } from '../../lib/shop/record-reading'
import { takeBackPhoto } from '../../lib/shop/take-back-photo'
import { pages } from '../../lib/web/pages'
import { done, type OpenShop, openTestShop } from '../support/open-shop'
import { look, takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await takenIn(shop))
})
afterEach(() => shop.dispose())

const keptFor = async (context: Context) => readKeptPages({ ...context, who: context.who! })
const addresses = async (context: Context) => (await keptFor(context)).map(({ address }) => address)

describe('the pages that a device keeps', () => {
  test('are a technician’s own: lists, and each bike with its checks and its bench', async () => {
    expect(await addresses(shop.technician)).toEqual([
      '/device',
      '/bench/today',
      '/bikes',
      '/tyres',
      '/words',
      `/bikes/${viewingNo}`,
      `/bikes/${viewingNo}/checks`,
      `/bikes/${viewingNo}/checks/short`,
      `/bikes/${viewingNo}/bench`,
    ])
  })

  test.each(['dealer', 'manager'] as const)(
    'are for a %s only those that show no money to anybody',
    async (role) => {
      expect(await addresses(shop[role])).toEqual([
        '/device',
        '/bench/today',
        '/tyres',
        '/words',
        `/bikes/${viewingNo}/checks`,
        `/bikes/${viewingNo}/checks/short`,
        `/bikes/${viewingNo}/bench`,
      ])
    },
  )

  test('are open to whoever keeps them, by the table of pages', async () => {
    for (const address of await addresses(shop.technician)) {
      const page = address.replace(String(viewingNo), '[bike]') as keyof typeof pages
      expect(pages[page], address).toBe('bike:see')
    }
  })

  test('have on a dealer’s own device the page of the viewings that lie on it, and nobody else has', async () => {
    const { personId } = shop.dealer.who!
    await shop.store.db.device.update({ where: { id: shop.deviceId }, data: { ownerId: personId } })
    expect(await addresses(shop.dealer)).toContain('/away')
    expect(await addresses(shop.manager)).not.toContain('/away')
    expect(await addresses(shop.technician)).not.toContain('/away')
  })

  test('leave out a bike that was passed up', async () => {
    await shop.store.db.bike.update({ where: { id: bike }, data: { stage: 'passed up' } })
    expect((await addresses(shop.technician)).filter((one) => one.startsWith('/bikes/'))).toEqual([])
  })

  test('change their mark where the bike had something happen to it, and only there', async () => {
    const { bike: other, viewingNo: otherNo } = await takenIn(shop)
    const before = new Map((await keptFor(shop.technician)).map(({ address, mark }) => [address, mark]))
    done(await recordReading(look(other, ['fuel-leaks', 'dry']), shop.technician))
    const after = await keptFor(shop.technician)
    const changed = after.filter(({ address, mark }) => before.get(address) !== mark)
    expect(changed.map(({ address }) => address)).toEqual([
      '/bench/today',
      '/bikes',
      `/bikes/${otherNo}`,
      `/bikes/${otherNo}/checks`,
      `/bikes/${otherNo}/checks/short`,
      `/bikes/${otherNo}/bench`,
    ])
  })
})

describe('the pictures that a device keeps', () => {
  const pictureOf = (photo: string) => `/api/v1/photos/${photo}?size=small`

  async function take(of: string, at: string): Promise<string> {
    const bytes = await sharp({ create: { width: 8, height: 8, channels: 3, background: '#806040' } })
      .png()
      .toBuffer()
    const facts = { id: uuidv7(), bike: of, check: 'fuel-leaks', takenAt: at, bytes }
    return done(await addPhoto(facts, shop.at(shop.technician, at))).photo
  }

  test('are the small ones of its bikes, the newest first', async () => {
    const first = await take(bike, '2026-11-25T11:00:00Z')
    const { bike: other } = await takenIn(shop)
    const second = await take(other, '2026-11-25T11:01:00Z')
    expect(await readKeptPictures(shop.technician)).toEqual([pictureOf(second), pictureOf(first)])
  })

  test('leave out a photo that was taken back, and those of a bike that was passed up', async () => {
    const { bike: other } = await takenIn(shop)
    const [shown, slip, gone] = [
      await take(bike, '2026-11-25T11:00:00Z'),
      await take(bike, '2026-11-25T11:01:00Z'),
      await take(other, '2026-11-25T11:02:00Z'),
    ]
    done(await takeBackPhoto({ photo: slip, because: 'Undone at once' }, shop.technician))
    await shop.store.db.bike.update({ where: { id: other }, data: { stage: 'passed up' } })
    const kept = await readKeptPictures(shop.technician)
    expect(kept).toEqual([pictureOf(shown)])
    expect(kept).not.toContain(pictureOf(gone))
  })

  test('are no more than a tablet has room for', async () => {
    const photo = await take(bike, '2026-11-25T11:00:00Z')
    const row = await shop.store.db.photo.findUniqueOrThrow({ where: { id: photo } })
    await shop.store.db.photo.createMany({
      data: Array.from({ length: mostPictures }, () => ({
        ...row,
        id: uuidv7(),
        receivedAt: new Date('2026-11-25T12:00:00Z'),
      })),
    })
    const kept = await readKeptPictures(shop.technician)
    expect(kept).toHaveLength(mostPictures)
    expect(kept).not.toContain(pictureOf(photo))
  })
})
