import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { crc32, deflateSync } from 'node:zlib'
import sharp from 'sharp'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { sha256 } from '../../lib/data/hash'
import { type PhotoFault, PhotoRefused, type PhotoStore, photoStore } from '../../lib/data/photos'
import { removeFolder, scratchFolder } from '../support/shop-folder'

let folder: string
let photos: PhotoStore
beforeEach(() => {
  folder = scratchFolder()
  photos = photoStore(folder)
})
afterEach(() => removeFolder(folder))

/** Left half red, right half blue, so that a turn can be seen. */
function redAndBlue(width: number, height: number) {
  const half = { width: width / 2, height, channels: 3 as const }
  const blue = { input: { create: { ...half, background: '#0000ff' } }, left: width / 2, top: 0 }
  return sharp({ create: { width, height, channels: 3, background: '#ff0000' } }).composite([blue])
}

async function colourAt(bytes: Buffer, { left, top }: { left: number; top: number }) {
  const { data } = await sharp(bytes)
    .extract({ left, top, width: 1, height: 1 })
    .raw()
    .toBuffer({ resolveWithObject: true })
  return data[0]! > 200 ? 'red' : data[2]! > 200 ? 'blue' : 'other'
}

const files = () =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => entry.name)
    .sort()

describe('a photo that is kept', () => {
  test.each(['jpeg', 'png', 'webp'] as const)(
    'may come as %s and is a plain JPEG named by its bytes',
    async (kind) => {
      const kept = await photos.keep(await redAndBlue(80, 60).toFormat(kind).toBuffer())
      const bytes = (await photos.read(kept.sha256))!
      expect(kept).toEqual({ sha256: sha256(bytes), width: 80, height: 60, bytes: bytes.length })
      expect((await sharp(bytes).metadata()).format).toBe('jpeg')
      expect(files()).toEqual([`${kept.sha256}.jpg`, `${kept.sha256}.small.jpg`])
      expect(await photos.check(kept.sha256)).toBe('good')
    },
  )

  test('holds nothing of where, when and with what it was taken', async () => {
    const withPlace = await redAndBlue(80, 60)
      .jpeg()
      .withExif({
        IFD0: { Make: 'Invented', Model: 'Camera' },
        IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '12/1 34/1 56/1', GPSLongitudeRef: 'E' },
      })
      .toBuffer()
    expect((await sharp(withPlace).metadata()).exif?.includes('Invented')).toBe(true)

    const { sha256: name } = await photos.keep(withPlace)
    for (const size of ['full', 'small'] as const) {
      const bytes = (await photos.read(name, size))!
      const { exif, xmp, iptc, icc } = await sharp(bytes).metadata()
      expect({ exif, xmp, iptc, icc }).toEqual({})
      expect(bytes.includes('Invented')).toBe(false)
    }
  })

  test('stands the way it was held: the turn noted by the camera is applied and the note is gone', async () => {
    // Orientation 6: the camera was turned, the picture is to be turned a quarter clockwise. Left becomes top.
    const held = await redAndBlue(80, 60).jpeg().withMetadata({ orientation: 6 }).toBuffer()
    const kept = await photos.keep(held)
    const bytes = (await photos.read(kept.sha256))!
    expect(kept).toMatchObject({ width: 60, height: 80 })
    expect((await sharp(bytes).metadata()).orientation).toBeUndefined()
    expect(await colourAt(bytes, { left: 30, top: 10 })).toBe('red')
    expect(await colourAt(bytes, { left: 30, top: 70 })).toBe('blue')
  })

  test('is made no longer than 2400 on its longest side, its small copy no longer than 480', async () => {
    const kept = await photos.keep(await redAndBlue(3000, 1000).jpeg().toBuffer())
    expect(kept).toMatchObject({ width: 2400, height: 800 })
    const small = await sharp((await photos.read(kept.sha256, 'small'))!).metadata()
    expect([small.width, small.height]).toEqual([480, 160])
  })

  test('kept twice is kept once', async () => {
    const bytes = await redAndBlue(80, 60).png().toBuffer()
    const [one, two] = await Promise.all([photos.keep(bytes), photos.keep(bytes)])
    expect(one).toEqual(two)
    expect(files()).toHaveLength(2)
  })

  test('gets its small copy again when that is gone', async () => {
    const { sha256: name } = await photos.keep(await redAndBlue(600, 400).png().toBuffer())
    const small = await photos.read(name, 'small')
    rmSync(photos.fileOf(name).replace('.jpg', '.small.jpg'))
    expect(await photos.read(name, 'small')).toEqual(small)
    expect(files()).toHaveLength(2)
  })

  test('that was damaged on the disk is found out', async () => {
    const { sha256: name } = await photos.keep(await redAndBlue(80, 60).png().toBuffer())
    const bytes = readFileSync(photos.fileOf(name))
    bytes[bytes.length - 10]! ^= 1
    writeFileSync(photos.fileOf(name), bytes)
    expect(await photos.check(name)).toBe('damaged')
    expect(await photos.check('0'.repeat(64))).toBe('missing')
  })
})

describe('a file that cannot be kept', () => {
  const svg = Buffer.from(
    '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9" height="9"/></svg>',
  )
  const refused: [string, () => Promise<Buffer> | Buffer, PhotoFault, RegExp][] = [
    ['an empty file', () => Buffer.alloc(0), 'empty', /Take the photo again/],
    ['an SVG', () => svg, 'not-a-photo', /Choose a JPEG, PNG or WebP/],
    ['a HEIC photo', () => heic('heic'), 'not-a-photo', /HEIC .* save JPEG/],
    ['a HEIF photo', () => heic('mif1'), 'not-a-photo', /HEIC .* save JPEG/],
    ['a GIF', () => redAndBlue(8, 8).gif().toBuffer(), 'not-a-photo', /Choose a JPEG, PNG or WebP/],
    ['a TIFF', () => redAndBlue(8, 8).tiff().toBuffer(), 'not-a-photo', /Choose a JPEG, PNG or WebP/],
    ['text', () => Buffer.from('no picture at all'), 'not-a-photo', /Choose a JPEG, PNG or WebP/],
    ['more than 20 MB', () => Buffer.alloc(20 * 1024 * 1024 + 1), 'too-large', /larger than 20 MB/],
    ['a picture that unpacks to gigabytes', () => bomb(40_000, 40_000), 'too-many-pixels', /50 million/],
    ['a picture just over 50 million pixels', () => bomb(10_000, 5_001), 'too-many-pixels', /50 million/],
    ['a photo cut off on its way', cutOff, 'damaged', /Send it again/],
  ]
  test.each(refused)(
    '%s is refused with a sentence that says what to do',
    async (_, make, fault, sentence) => {
      const error = await photos.keep(await make()).catch((caught: unknown) => caught)
      expect(error).toBeInstanceOf(PhotoRefused)
      expect(error).toMatchObject({ fault, message: expect.stringMatching(sentence) })
      expect(files()).toEqual([])
    },
  )

  test.each(['../../shop.db', '..', 'A'.repeat(64), '', `${'0'.repeat(64)}/x`])(
    'nothing is read from the name %j',
    async (name) => {
      writeFileSync(join(folder, 'shop.db'), 'secret')
      expect(await photos.read(name)).toBeNull()
      expect(await photos.read(name, 'small')).toBeNull()
      expect(await photos.check(name)).toBe('missing')
      expect(() => photos.fileOf(name)).toThrow()
    },
  )

  test('does not stop others from being kept, however many come at once', async () => {
    const good = await redAndBlue(80, 60).png().toBuffer()
    const asked = Array.from({ length: 12 }, (_, n) => photos.keep(n % 3 === 0 ? svg : good))
    const answers = await Promise.allSettled(asked)
    expect(answers.map(({ status }) => status)).toEqual(
      Array.from({ length: 12 }, (_, n) => (n % 3 === 0 ? 'rejected' : 'fulfilled')),
    )
  })
})

/** The first bytes of such a file; nothing after them is looked at. */
function heic(brand: string): Buffer {
  return Buffer.concat([Buffer.from([0, 0, 0, 24]), Buffer.from(`ftyp${brand}`), Buffer.alloc(64)])
}

async function cutOff(): Promise<Buffer> {
  const noise = await sharp({
    create: {
      width: 400,
      height: 300,
      channels: 3,
      noise: { type: 'gaussian', mean: 128, sigma: 60 },
      background: '#000',
    },
  })
    .jpeg()
    .toBuffer()
  return noise.subarray(0, noise.length / 2)
}

/** A few bytes of PNG whose header promises a picture of any size. */
function bomb(width: number, height: number): Buffer {
  const header = Buffer.alloc(13)
  header.writeUInt32BE(width, 0)
  header.writeUInt32BE(height, 4)
  header.set([1, 0, 0, 0, 0], 8)
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])
  const rows = deflateSync(Buffer.alloc(1000))
  return Buffer.concat([
    signature,
    chunk('IHDR', header),
    chunk('IDAT', rows),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

function chunk(kind: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(kind), data])
  const length = Buffer.alloc(4)
  length.writeUInt32BE(data.length)
  const check = Buffer.alloc(4)
  check.writeUInt32BE(crc32(body))
  return Buffer.concat([length, body, check])
}
