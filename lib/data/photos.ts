import { join } from 'node:path'
import sharp, { type Sharp } from 'sharp'
import { readOrNull, writeDurably } from './durable'
import { sha256 } from './hash'

export type KeptPhoto = { sha256: string; width: number; height: number; bytes: number }
export type PhotoSize = 'full' | 'small'
export type PhotoCheck = 'good' | 'missing' | 'damaged'

/**
 * Photos as files named by what is in them. Keeping the same picture twice keeps it once; a file's name says
 * what its bytes must hash to. Photos are only added.
 */
export type PhotoStore = {
  /** Makes a plain JPEG of a jpeg, png or webp and keeps it with its thumbnail. @throws PhotoRefused */
  keep(bytes: Uint8Array): Promise<KeptPhoto>
  /** The kept JPEG, or null where there is none under that name. */
  read(sha256: string, size?: PhotoSize): Promise<Buffer | null>
  /** Whether the file is there and still hashes to its name. */
  check(sha256: string): Promise<PhotoCheck>
  fileOf(sha256: string): string
}

/** What every kept photo is, whatever came in. */
export const photoContentType = 'image/jpeg'

export const photoRules = {
  accepted: ['jpeg', 'png', 'webp'] as readonly string[],
  largestBytes: 20 * 1024 * 1024,
  largestPixels: 50_000_000,
  longestSide: 2400,
  longestSideSmall: 480,
} as const

export type PhotoFault = 'empty' | 'too-large' | 'too-many-pixels' | 'not-a-photo' | 'damaged'

/** A picture that cannot be kept; the message tells the person what to do instead. */
export class PhotoRefused extends Error {
  override name = 'PhotoRefused'
  constructor(
    readonly fault: PhotoFault,
    message: string,
  ) {
    super(message)
  }
}

/**
 * Told by its name, not by its class: the server that opened the store and the pages that use it are built
 * apart, and each has a class of its own.
 */
export function isPhotoRefused(error: unknown): error is PhotoRefused {
  return error instanceof Error && error.name === 'PhotoRefused'
}

export function photoStore(folder: string): PhotoStore {
  const fileOf = (name: string, size: PhotoSize = 'full') =>
    join(folder, name.slice(0, 2), size === 'full' ? `${name}.jpg` : `${name}.small.jpg`)
  const write = (name: string, size: PhotoSize, bytes: Buffer) => writeDurably(fileOf(name, size), bytes)

  return {
    fileOf: (name) => fileOf(hashName(name) ?? wrongName(name)),
    async keep(bytes) {
      refuseBySize(bytes)
      return decoding(async () => {
        await refuseByKind(bytes)
        const { data, info } = await reencode(bytes, photoRules.longestSide)
        const name = sha256(data)
        const small = await reencode(data, photoRules.longestSideSmall)
        await write(name, 'small', small.data)
        await write(name, 'full', data)
        return { sha256: name, width: info.width, height: info.height, bytes: data.length }
      })
    },
    async read(asked, size = 'full') {
      const name = hashName(asked)
      if (!name) return null
      const found = await readOrNull(fileOf(name, size))
      if (found || size === 'full') return found
      // A restored backup holds the photos only; their thumbnails are made again when first asked for.
      const full = await readOrNull(fileOf(name))
      if (!full) return null
      const small = await decoding(() => reencode(full, photoRules.longestSideSmall))
      await write(name, 'small', small.data)
      return small.data
    },
    async check(asked) {
      const name = hashName(asked)
      const bytes = name && (await readOrNull(fileOf(name)))
      if (!bytes) return 'missing'
      return sha256(bytes) === name ? 'good' : 'damaged'
    },
  }
}

/** Names come from addresses of pages too: only a SHA-256 in lower-case hex may reach the disk. */
function hashName(name: string): string | null {
  return /^[0-9a-f]{64}$/.test(name) ? name : null
}

function wrongName(name: string): never {
  throw new Error(`"${name}" is not the name of a photo.`)
}

function refuseBySize(bytes: Uint8Array): void {
  if (bytes.length === 0) throw new PhotoRefused('empty', 'The file is empty. Take the photo again.')
  if (bytes.length > photoRules.largestBytes) {
    throw new PhotoRefused('too-large', 'The photo is larger than 20 MB. Set the camera to a smaller size.')
  }
}

/**
 * The kind is read from the bytes, never from the name: sharp would draw an SVG too, and an SVG may name
 * other files. Reading the header decodes nothing, so a picture that unpacks to gigabytes is refused here.
 */
async function refuseByKind(bytes: Uint8Array): Promise<void> {
  if (looksLikeHeic(bytes)) {
    throw new PhotoRefused(
      'not-a-photo',
      'This photo is in the HEIC format, which cannot be read here. Set the camera to save JPEG and take it again.',
    )
  }
  const header = await sharp(bytes, { limitInputPixels: photoRules.largestPixels })
    .metadata()
    .catch((error: unknown) => {
      if (saysTooManyPixels(error)) throw tooManyPixels()
      return null
    })
  if (!header?.format || !photoRules.accepted.includes(header.format)) {
    throw new PhotoRefused(
      'not-a-photo',
      'This is not a photo that can be kept. Choose a JPEG, PNG or WebP file.',
    )
  }
  if (header.width * header.height > photoRules.largestPixels) throw tooManyPixels()
}

/** ISO base media files name their brand after "ftyp"; these are the brands of HEIC and HEIF pictures. */
function looksLikeHeic(bytes: Uint8Array): boolean {
  const start = Buffer.from(bytes.subarray(4, 12)).toString('latin1')
  return /^ftyp(heic|heix|heim|heis|hevc|hevx|mif1|msf1)$/.test(start)
}

function tooManyPixels(): PhotoRefused {
  return new PhotoRefused(
    'too-many-pixels',
    'The picture has more than 50 million pixels. Set the camera to a smaller size and take it again.',
  )
}

function saysTooManyPixels(error: unknown): boolean {
  return error instanceof Error && /pixel limit/i.test(error.message)
}

/** Turned the way it was held, made no longer than `longestSide`, and written new: no metadata survives. */
async function reencode(bytes: Uint8Array, longestSide: number) {
  const picture: Sharp = sharp(bytes, { limitInputPixels: photoRules.largestPixels, failOn: 'error' })
  try {
    return await picture
      .autoOrient()
      .resize({ width: longestSide, height: longestSide, fit: 'inside', withoutEnlargement: true })
      .flatten({ background: '#ffffff' })
      .toColourspace('srgb')
      .jpeg({ quality: 82 })
      .toBuffer({ resolveWithObject: true })
  } catch (error) {
    if (saysTooManyPixels(error)) throw tooManyPixels()
    throw new PhotoRefused('damaged', 'The photo is damaged or was cut off on its way. Send it again.')
  }
}

/**
 * A decoded photo of 50 million pixels is 200 MB, so no more than two are decoded at once in this process.
 * The places are counted in globalThis: Next loads this module several times in one process.
 */
const places = Symbol.for('stand-ledger.photo-places')
const decodedAtOnce = 2
type Places = { free: number; waiting: (() => void)[] }

async function decoding<T>(work: () => Promise<T>): Promise<T> {
  const shared = globalThis as { [places]?: Places }
  const here = shared[places] ?? { free: decodedAtOnce, waiting: [] }
  shared[places] = here
  if (here.free > 0) here.free -= 1
  else await new Promise<void>((resolve) => here.waiting.push(resolve))
  try {
    return await work()
  } finally {
    const next = here.waiting.shift()
    if (next) next()
    else here.free += 1
  }
}
