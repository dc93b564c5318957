import { execFile } from 'node:child_process'
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import { deflateRawSync, deflateSync } from 'node:zlib'
import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addPhoto } from '../../lib/shop/add-photo'
import { readPhoto } from '../../lib/shop/read-photo'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
beforeAll(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop))
})
afterAll(() => shop.dispose())

const send = (bytes: Uint8Array, over: object = {}) =>
  addPhoto({ id: uuidv7(), bike, takenAt: '2026-11-25T11:58:00Z', bytes, ...over }, shop.technician)

async function kept(bytes: Uint8Array): Promise<Buffer> {
  const { photo } = done(await send(bytes))
  return readPhoto(shop.store, { photo, size: 'full' })
}

/** Not flat: what is drawn must still be there after it was written anew. */
const picture = (width = 320, height = 240) => {
  const pixels = Buffer.from(
    Array.from({ length: width * height * 3 }, (_, at) => (at * 7 + (at >> 8) * 13) % 256),
  )
  return sharp(pixels, { raw: { width, height, channels: 3 } })
}

/** A PNG of one colour, as large as it says, written by hand: no program has to unpack it to make it. */
function flatPng(width: number, height: number): Buffer {
  const head = Buffer.alloc(13)
  head.writeUInt32BE(width, 0)
  head.writeUInt32BE(height, 4)
  head.set([1, 0, 0, 0, 0], 8) // one bit a pixel, grey
  const rows = deflateSync(Buffer.alloc((Math.ceil(width / 8) + 1) * height), { level: 9 })
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    ...[chunk('IHDR', head), chunk('IDAT', rows), chunk('IEND', Buffer.alloc(0))],
  ])
}

function chunk(name: string, body: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(name), body])
  const size = Buffer.alloc(4)
  size.writeUInt32BE(body.length)
  const sum = Buffer.alloc(4)
  sum.writeUInt32BE(crc(named))
  return Buffer.concat([size, named, sum])
}

/** CRC-32 as in the PNG specification, annex D. */
function crc(bytes: Buffer): number {
  let sum = 0xffffffff
  for (const byte of bytes) {
    sum ^= byte
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1
  }
  return (sum ^ 0xffffffff) >>> 0
}

const half = (bytes: Buffer) => bytes.subarray(0, bytes.length / 2)
const text = (said: string) => Buffer.from(said, 'utf8')
const isoBox = (brand: string) =>
  Buffer.concat([
    Buffer.from([0, 0, 0, 24]),
    text(`ftyp${brand}`),
    Buffer.alloc(4),
    text('mif1heic'),
    Buffer.alloc(64),
  ])

describe('what cannot be kept is refused in plain words, and nothing is left of it', () => {
  const refusals: readonly [string, () => Buffer | Promise<Buffer>, RegExp][] = [
    ['nothing at all', () => Buffer.alloc(0), /file is empty/],
    [
      'a picture of 400 million pixels in a few kilobytes',
      () => flatPng(20_000, 20_000),
      /more than 50 million pixels/,
    ],
    [
      'a picture one row high and endlessly wide',
      () => flatPng(60_000_000, 1),
      /more than 50 million pixels|not a photo/,
    ],
    ['a file of 21 MB', () => Buffer.alloc(21 * 1024 * 1024, 0xff), /larger than 20 MB/],
    [
      'a drawing with a script',
      () => text('<svg xmlns="http://www.w3.org/2000/svg"><script>x=1</script></svg>'),
      /not a photo/,
    ],
    [
      'a drawing that names a file of this machine',
      () =>
        text(
          '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY f SYSTEM "file:///etc/passwd">]><svg xmlns="http://www.w3.org/2000/svg"><text>&f;</text></svg>',
        ),
      /not a photo/,
    ],
    [
      'a page that calls itself a photo',
      () => text('<!doctype html><script>alert(1)</script>'),
      /not a photo/,
    ],
    ['a PDF', () => text('%PDF-1.7\n1 0 obj <<>> endobj'), /not a photo/],
    [
      'a packed archive',
      () => Buffer.concat([text('PK\u0003\u0004'), deflateRawSync(Buffer.alloc(4096))]),
      /not a photo/,
    ],
    [
      'random octets',
      () => Buffer.from(Array.from({ length: 4096 }, (_, at) => (at * 197 + 31) % 256)),
      /not a photo/,
    ],
    ['a GIF', () => picture().gif().toBuffer(), /not a photo/],
    ['a TIFF', () => picture().tiff().toBuffer(), /not a photo/],
    ['an AVIF', () => picture(64, 64).avif({ effort: 0 }).toBuffer(), /not a photo|HEIC/],
    ['a HEIC by its brand', () => isoBox('heic'), /HEIC.*JPEG/],
    ['a GIF header before a page', () => text('GIF89a<script>alert(1)</script>'), /not a photo/],
    [
      'a JPEG header before a page',
      () => Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), text('<script>alert(1)</script>')]),
      /not a photo|damaged/,
    ],
    [
      'a JPEG cut off in the middle',
      async () => half(await picture().jpeg().toBuffer()),
      /damaged or was cut off/,
    ],
    [
      'a PNG cut off in the middle',
      async () => half(await picture().png().toBuffer()),
      /damaged or was cut off/,
    ],
    [
      'a WebP cut off in the middle',
      async () => half(await picture().webp().toBuffer()),
      /damaged or was cut off|not a photo/,
    ],
  ]

  it.each(refusals)('%s', async (_title, make, says) => {
    const before = await everything()
    const refusal = refused(await send(await make()))
    expect(refusal).toMatchObject({ kind: 'malformed', message: expect.stringMatching(says) })
    expect(refusal.message).toMatch(/[.!]$/)
    expect(refusal.message).not.toMatch(/vips|sharp|Error|undefined|\bat\b .*:\d+/)
    expect(await everything()).toEqual(before)
  })

  async function everything() {
    const files = readdirSync(shop.folder, { recursive: true, encoding: 'utf8' }).filter((name) =>
      name.startsWith('photos'),
    )
    return {
      files: files.sort(),
      rows: await shop.store.db.photo.count(),
      events: await shop.store.db.event.count(),
    }
  }
})

describe('what is kept is a plain picture and nothing else', () => {
  const tails: readonly [string, Buffer][] = [
    ['a page', text('<html><script>alert(1)</script></html>')],
    ['an archive', Buffer.concat([text('PK\u0003\u0004'), text('evil.exe'), Buffer.alloc(100)])],
    ['another picture', Buffer.from([0x89, 0x50, 0x4e, 0x47])],
  ]
  it.each(tails)('%s behind a JPEG does not come along', async (_title, tail) => {
    const bytes = await kept(Buffer.concat([await picture().jpeg().toBuffer(), tail]))
    expect(bytes.includes(tail)).toBe(false)
    // Every JPEG ends with its end mark (ITU-T T.81, B.1.1.3): nothing stands behind it.
    expect([...bytes.subarray(-2)]).toEqual([0xff, 0xd9])
  })

  it('what a camera noted is gone: place, owner, device, time, thumbnail, comments', async () => {
    const noted = await picture()
      .withExif({
        IFD0: { Artist: 'Somebody Private', Make: 'CameraMaker', Copyright: 'Private' },
        IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 3230/100', GPSLongitudeRef: 'W' },
      })
      .withXmp('<x:xmpmeta xmlns:x="adobe:ns:meta/"><private>Somebody Private</private></x:xmpmeta>')
      .jpeg()
      .toBuffer()
    const came = await sharp(noted).metadata()
    expect(came.exif).toBeDefined()
    expect(came.xmp).toBeDefined()
    const bytes = await kept(noted)
    const { exif, xmp, iptc, orientation, comments } = await sharp(bytes).metadata()
    expect({ exif, xmp, iptc, orientation, comments }).toEqual({
      ...{ exif: undefined, xmp: undefined, iptc: undefined, orientation: undefined, comments: undefined },
    })
    for (const word of ['Private', 'CameraMaker', 'GPS', 'Exif']) expect(bytes.includes(word)).toBe(false)
  })

  it.each([
    [1, [240, 320], 'as it is'],
    [3, [240, 320], 'upside down'],
    [6, [320, 240], 'a quarter to the right'],
    [8, [320, 240], 'a quarter to the left'],
  ])('a photo held as orientation %i is turned (%j, %s)', async (orientation, [width, height]) => {
    // The upper left corner of what the sensor saw is white, all else black.
    const corner = await sharp({ create: { width: 80, height: 80, channels: 3, background: '#ffffff' } })
      .png()
      .toBuffer()
    const seen = await sharp({ create: { width: 240, height: 320, channels: 3, background: '#000000' } })
      .composite([{ input: corner, left: 0, top: 0 }])
      .withMetadata({ orientation })
      .jpeg({ quality: 95 })
      .toBuffer()
    const { data, info } = await sharp(await kept(seen))
      .greyscale()
      .raw()
      .toBuffer({ resolveWithObject: true })
    expect([info.width, info.height]).toEqual([width, height])
    // Where that corner is to be seen once the photo is held right (TIFF 6.0, tag 274).
    const light = (x: number, y: number) => (data[y * info.width + x] ?? 0) > 128
    const [right, bottom] = [info.width - 20, info.height - 20]
    const corners = { 1: light(20, 20), 6: light(right, 20), 3: light(right, bottom), 8: light(20, bottom) }
    expect(Object.entries(corners).filter(([, lit]) => lit)).toEqual([[String(orientation), true]])
  })

  it('colours come out as sRGB, from a wider space too, without a profile to carry', async () => {
    const wide = await sharp({ create: { width: 60, height: 60, channels: 3, background: '#30a040' } })
      .withIccProfile('p3')
      .jpeg({ quality: 95 })
      .toBuffer()
    const came = await sharp(wide).metadata()
    expect(came.icc).toBeDefined()
    const bytes = await kept(wide)
    expect((await sharp(bytes).metadata()).space).toBe('srgb')
    const { data } = await sharp(bytes).raw().toBuffer({ resolveWithObject: true })
    // The colour is the one that was meant, within what JPEG rounds.
    for (const [at, meant] of [0x30, 0xa0, 0x40].entries())
      expect(Math.abs((data[at] ?? 0) - meant)).toBeLessThanOrEqual(6)
  })

  it('of a moving WebP the first picture is kept', async () => {
    const frames = ['#ff0000', '#00ff00', '#0000ff'].map((background) =>
      sharp({ create: { width: 40, height: 40, channels: 3, background } })
        .png()
        .toBuffer(),
    )
    const moving = await sharp(await Promise.all(frames), { join: { animated: true } })
      .webp({ lossless: true })
      .toBuffer()
    expect((await sharp(moving).metadata()).pages).toBe(3)
    const bytes = await kept(moving)
    const { width, height, pages } = await sharp(bytes).metadata()
    expect([width, height, pages ?? 1]).toEqual([40, 40, 1])
    const { data } = await sharp(bytes).raw().toBuffer({ resolveWithObject: true })
    expect((data[0] ?? 0) > 200 && (data[1] ?? 0) < 60).toBe(true)
  })

  it('what is see-through becomes white', async () => {
    const clear = await sharp({
      create: { width: 20, height: 20, channels: 4, background: { r: 0, g: 0, b: 0, alpha: 0 } },
    })
      .png()
      .toBuffer()
    const { data } = await sharp(await kept(clear))
      .raw()
      .toBuffer({ resolveWithObject: true })
    expect(data[0]).toBeGreaterThan(250)
  })

  it('one that is written anew from what was kept is no larger than the longest side, never enlarged', async () => {
    const large = await sharp({ create: { width: 3000, height: 1000, channels: 3, background: '#446688' } })
      .jpeg()
      .toBuffer()
    expect(await sharp(await kept(large)).metadata()).toMatchObject({
      width: 2400,
      height: 800,
      format: 'jpeg',
    })
    expect(await sharp(await kept(await picture(30, 20).png().toBuffer())).metadata()).toMatchObject({
      width: 30,
    })
  })
})

describe('names that lead elsewhere', () => {
  const paths = ['../../../etc/passwd', '..\\..\\x', '/etc/passwd', 'C:\\x', 'a'.repeat(64), '%2e%2e%2f']

  it.each(paths)('an id of "%s" is refused before anything is written', async (id) => {
    expect(refused(await send(await picture().jpeg().toBuffer(), { id })).fields).toHaveProperty('id')
  })

  it.each(paths)('a caption of "%s" is only text', async (caption) => {
    const id = uuidv7()
    done(await send(await picture().jpeg().toBuffer(), { id, caption }))
    const row = await shop.store.db.photo.findUniqueOrThrow({ where: { id } })
    expect(row.caption).toBe(caption)
    expect(row.sha256).toMatch(/^[0-9a-f]{64}$/)
    const files = readdirSync(join(shop.folder, 'photos'), { recursive: true, encoding: 'utf8' })
    expect(files.filter((name) => !/^[0-9a-f]{2}([/\\][0-9a-f]{64}(\.small)?\.jpg)?$/.test(name))).toEqual([])
  })

  it.each(paths)('nothing is read under the name "%s"', async (name) => {
    expect(await shop.store.photos.read(name)).toBeNull()
    await expect(readPhoto(shop.store, { photo: name, size: 'full' })).rejects.toMatchObject({
      plain: { kind: 'not-found' },
    })
  })
})

it('memory stays bounded however many of the largest come at once: two are unpacked at a time', async () => {
  const run = promisify(execFile)
  const file = fileURLToPath(new URL('../support/photo-memory.ts', import.meta.url))
  const { stdout } = await run(process.execPath, ['--import', 'tsx', file])
  const { kept: many, refused: none, grownBytes } = JSON.parse(stdout)
  expect({ many, none }).toEqual({ many: 8, none: 4 })
  // Eight of 49.6 million pixels would be 1.2 GB unpacked at once, two are 300 MB; the rest is room for the decoder. It
  // grew by some 210 MB where this was written, since a JPEG is made smaller while it is read.
  expect(grownBytes / 1e6).toBeLessThan(700)
})
