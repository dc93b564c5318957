import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { currentBuild } from '../../lib/desk/build.mjs'
import { type Demo, startDemo } from '../browser/support/demo'
import type { DemoBike } from '../browser/support/people'
import { root } from '../browser/support/server'

const built = currentBuild(root) !== null
if (!built) console.warn('The photo routes are not tried: there is no build. `npm test` makes one.')

const plain = { width: 60, height: 40, channels: 3, background: '#7a5a3a' } as const

/** As a telephone makes one: on its side, and with the place it was taken at. */
const withPlace = () =>
  sharp({ create: plain })
    .jpeg()
    .withExif({
      IFD0: { Make: 'Calder', Copyright: 'taken at the kerb' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 3230/100' },
    })
    .withMetadata({ orientation: 6 })
    .toBuffer()

const drawing =
  '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9" height="9"/></svg>'

describe.skipIf(!built)('photos over the wire', () => {
  let demo: Demo
  let bike: DemoBike

  beforeAll(async () => {
    demo = await startDemo()
    bike = (await demo.bikes())[0]!
  })
  afterAll(() => demo?.close())

  const as = (over: object = {}) => ({ cookie: demo.people.technician.cookie, origin: demo.url, ...over })
  const send = (bytes: BodyInit | Buffer, over: { facts?: object; headers?: object } = {}) => {
    const facts = { id: uuidv7(), bike: bike.id, takenAt: new Date().toISOString(), ...over.facts }
    return fetch(`${demo.url}/api/v1/photos?${new URLSearchParams(facts)}`, {
      method: 'POST',
      headers: as(over.headers),
      body: Buffer.isBuffer(bytes) ? new Uint8Array(bytes) : bytes,
    })
  }
  const get = (photo: string, headers: object = as()) =>
    fetch(`${demo.url}/api/v1/photos/${photo}`, { headers: { ...headers } })

  it('keeps a jpeg and hands it out upright, written anew, without what the camera added', async () => {
    const taken = await withPlace()
    expect((await sharp(taken).metadata()).exif?.toString('latin1')).toContain('taken at the kerb')
    const id = uuidv7()
    expect(await (await send(taken, { facts: { id } })).json()).toMatchObject({
      ok: true,
      answer: { photo: id },
    })

    const answer = await get(id)
    expect(answer.status).toBe(200)
    expect(answer.headers.get('content-type')).toBe('image/jpeg')
    expect(answer.headers.get('cache-control')).toMatch(/^private\b/)
    expect(answer.headers.get('x-content-type-options')).toBe('nosniff')
    const bytes = Buffer.from(await answer.arrayBuffer())
    const { exif, orientation, width, height, format } = await sharp(bytes).metadata()
    expect({ exif, orientation, width, height, format }).toEqual({
      exif: undefined,
      orientation: undefined,
      width: plain.height,
      height: plain.width,
      format: 'jpeg',
    })
    expect(bytes.toString('latin1')).not.toMatch(/taken at the kerb|Calder|GPS/)
  })

  it.each(['png', 'webp'] as const)('keeps a %s as a jpeg', async (format) => {
    const id = uuidv7()
    await send(await sharp({ create: plain }).toFormat(format).toBuffer(), { facts: { id } })
    const bytes = Buffer.from(await (await get(id)).arrayBuffer())
    expect((await sharp(bytes).metadata()).format).toBe('jpeg')
  })

  it.each([
    ['a drawing that claims to be a photo', drawing, /JPEG, PNG or WebP/],
    ['words', 'no picture at all', /JPEG, PNG or WebP/],
    ['nothing', '', /empty/],
  ])('refuses %s in words that say what to do', async (_what, bytes, says) => {
    const id = uuidv7()
    const answer = await send(bytes, { facts: { id }, headers: { 'content-type': 'image/jpeg' } })
    expect(answer.status).toBe(422)
    const { refusal } = (await answer.json()) as { refusal: { fields: { photo?: string } } }
    expect(refusal.fields.photo).toMatch(says)
    expect((await get(id)).status).toBe(404)
  })

  it('refuses a photo that was cut off on its way', async () => {
    const noise = { type: 'gaussian', mean: 128, sigma: 60 } as const
    const whole = await sharp({ create: { ...plain, width: 400, height: 300, noise } })
      .jpeg()
      .toBuffer()
    const answer = await send(whole.subarray(0, whole.length / 2))
    expect(answer.status).toBe(422)
  })

  it('refuses more than 20 MB, and the connection goes on', async () => {
    const answer = await send(Buffer.alloc(21 * 1024 * 1024))
    expect(answer.status).toBe(422)
    expect(await answer.json()).toMatchObject({ refusal: { message: expect.stringContaining('20 MB') } })
    expect((await get('no-such-photo')).status).toBe(404)
  })

  it('keeps the same photo sent twice once', async () => {
    const bytes = await withPlace()
    const facts = { id: uuidv7() }
    const [first, second] = [await send(bytes, { facts }), await send(bytes, { facts })]
    expect(await second.json()).toEqual(await first.json())
  })

  it('says at which field the address of a photo is wrong', async () => {
    const answer = await send(await withPlace(), { facts: { id: 'seven', takenAt: 'yesterday' } })
    expect(answer.status).toBe(422)
    const { refusal } = (await answer.json()) as { refusal: { fields: object } }
    expect(Object.keys(refusal.fields).sort()).toEqual(['id', 'takenAt'])
  })

  it('refuses a photo of a bike that is not there', async () => {
    expect((await send(await withPlace(), { facts: { bike: uuidv7() } })).status).toBe(404)
  })

  it.each(['no-such-photo', '..%2f..%2fshop.db', '%00', 'a'.repeat(64)])(
    'has nothing under the name %s',
    async (name) => {
      expect((await get(name)).status).toBe(404)
    },
  )

  it('hands nothing out and takes nothing in without a session', async () => {
    const id = uuidv7()
    await send(await withPlace(), { facts: { id } })
    expect((await get(id, {})).status).toBe(401)
    expect((await send(await withPlace(), { headers: { cookie: '' } })).status).toBe(401)
  })

  it('takes nothing in from another site', async () => {
    const answer = await send(await withPlace(), { headers: { origin: 'http://elsewhere.example' } })
    expect(answer.status).toBe(403)
  })
})
