import { join } from 'node:path'
import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { checkChain } from '../../lib/data/events'
import { addPhoto } from '../../lib/shop/add-photo'
import { markPhoto } from '../../lib/shop/mark-photo'
import { readPhoto } from '../../lib/shop/read-photo'
import { readPhotos } from '../../lib/shop/read-photos'
import { readSheet } from '../../lib/shop/read-sheet'
import { takeBackPhoto } from '../../lib/shop/take-back-photo'
import { done, type OpenShop, openTestShop, refused, testNow } from '../support/open-shop'
import { takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop))
})
afterEach(() => shop.dispose())

const picture = (format: 'jpeg' | 'png' | 'webp' | 'gif' = 'jpeg', background = '#806040') =>
  sharp({ create: { width: 40, height: 30, channels: 3, background } })
    .toFormat(format)
    .toBuffer()

async function photo(over: object = {}) {
  const bytes = await picture()
  return { id: uuidv7(), bike, check: 'fuel-leaks', takenAt: '2026-11-25T11:58:00Z', bytes, ...over }
}

describe('adding a photo', () => {
  test('keeps it with the check, who took it and when, and hands it back as a JPEG', async () => {
    const sent = await photo({ caption: 'wet seam' })
    const { sha256 } = done(await addPhoto(sent, shop.technician))
    expect(await shop.store.db.photo.findUnique({ where: { id: sent.id } })).toMatchObject({
      bikeId: bike,
      check: 'fuel-leaks',
      sha256,
      width: 40,
      height: 30,
      caption: 'wet seam',
      personId: shop.technician.who?.personId,
      deviceId: shop.deviceId,
      takenAt: new Date('2026-11-25T11:58:00Z'),
      receivedAt: testNow,
    })
    const kept = await readPhoto(shop.store, { photo: sent.id, size: 'full' })
    expect((await sharp(Buffer.from(kept)).metadata()).format).toBe('jpeg')
  })

  test.each(['jpeg', 'png', 'webp'] as const)('takes a %s', async (format) => {
    done(await addPhoto(await photo({ bytes: await picture(format) }), shop.technician))
  })

  test('takes one of the whole bike', async () => {
    const sent = await photo({ check: null })
    done(await addPhoto(sent, shop.technician))
    expect((await shop.store.db.photo.findUnique({ where: { id: sent.id } }))?.check).toBeNull()
  })

  test('sent twice is kept once', async () => {
    const sent = await photo()
    const first = done(await addPhoto(sent, shop.technician))
    const events = await shop.store.db.event.count()
    expect(done(await addPhoto(sent, shop.technician))).toEqual(first)
    expect(await shop.store.db.photo.count()).toBe(1)
    expect(await shop.store.db.event.count()).toBe(events)
  })

  test('writes its event into the chain', async () => {
    const sent = await photo()
    done(await addPhoto(sent, shop.technician))
    const last = await shop.store.db.event.findFirst({ orderBy: { seq: 'desc' } })
    expect(last).toMatchObject({ verb: 'photo:add', bikeId: bike })
    expect(JSON.parse(last?.body ?? '')).toMatchObject({ photo: sent.id, check: 'fuel-leaks' })
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test('is open to every role, and to nobody who is not signed in', async () => {
    for (const person of [shop.technician, shop.dealer, shop.manager])
      done(await addPhoto(await photo(), person))
    expect(refused(await addPhoto(await photo(), shop.nobody)).kind).toBe('not-signed-in')
    expect(await shop.store.db.photo.count()).toBe(3)
  })

  test('is refused for a bike that is not there', async () => {
    expect(refused(await addPhoto(await photo({ bike: uuidv7() }), shop.technician)).kind).toBe('not-found')
    expect(await shop.store.db.photo.count()).toBe(0)
  })

  test.each([
    ['a moving picture', async () => ({ bytes: await picture('gif') }), 'photo'],
    [
      'a drawing with scripts in it',
      async () => ({ bytes: Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>') }),
      'photo',
    ],
    ['half a picture', async () => ({ bytes: (await picture()).subarray(0, 200) }), 'photo'],
    ['nothing', async () => ({ bytes: Buffer.alloc(0) }), 'photo'],
    ['an id that is none', async () => ({ id: '7' }), 'id'],
    ['no time', async () => ({ takenAt: 'just now' }), 'takenAt'],
    ['a caption without end', async () => ({ caption: 'x'.repeat(201) }), 'caption'],
  ] as [string, () => Promise<object>, string][])('%s is refused', async (_what, over, field) => {
    const refusal = refused(await addPhoto(await photo(await over()), shop.technician))
    expect(refusal.kind).toBe('malformed')
    expect(refusal.fields).toHaveProperty(field)
    expect(await shop.store.db.photo.count()).toBe(0)
  })

  test('is refused in the same words where the store was opened by another build of the program', async () => {
    vi.resetModules()
    const elsewhere = await import('../../lib/data/photos')
    const photos = elsewhere.photoStore(join(shop.folder, 'photos'))
    const context = { ...shop.technician, store: { ...shop.store, photos } }
    const refusal = refused(await addPhoto(await photo({ bytes: Buffer.from('no picture') }), context))
    expect(refusal).toMatchObject({ kind: 'malformed', fields: { photo: expect.stringMatching(/./) } })
  })
})

describe('taking a photo back', () => {
  const back = (id: string, as = shop.technician) =>
    takeBackPhoto({ photo: id, because: 'Of another bike' }, as)

  test('leaves it in the record and on no page', async () => {
    const sent = await photo()
    done(await addPhoto(sent, shop.technician))
    const viewing = async () => {
      const { viewingNo } = await shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })
      const sheet = await readSheet({ ...shop.technician, who: shop.technician.who! }, viewingNo)
      const onSheet = sheet.rounds.flatMap(({ checks }) => checks.flatMap(({ photos }) => photos))
      const page = await readPhotos(shop.technician, String(viewingNo))
      return { onSheet: onSheet.length, onPage: page.photos.length, takenBack: page.takenBack }
    }
    expect(await viewing()).toEqual({ onSheet: 1, onPage: 1, takenBack: 0 })
    done(await back(sent.id))
    done(await back(sent.id))
    expect(await viewing()).toEqual({ onSheet: 0, onPage: 0, takenBack: 1 })
    expect(await shop.store.db.photo.count({ where: { id: sent.id } })).toBe(1)
    const told = await shop.store.db.event.findMany({ where: { verb: 'photo:take-back' } })
    expect(told.map(({ body }) => JSON.parse(body))).toMatchObject([
      { photo: sent.id, because: 'Of another bike' },
    ])
    await checkChain(shop.store.db)
  })

  test('is for whoever took it, or a manager', async () => {
    const sent = await photo()
    done(await addPhoto(sent, shop.technician))
    expect(refused(await back(sent.id, shop.dealer)).kind).toBe('rule')
    done(await back(sent.id, shop.manager))
    expect(refused(await markPhoto({ photo: sent.id, version: '2', marks: '[]' }, shop.manager)).kind).toBe(
      'not-found',
    )
  })
})
