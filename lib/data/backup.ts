import { randomUUID } from 'node:crypto'
import { copyFile, mkdir, readdir, readFile, rename, rm, rmdir } from 'node:fs/promises'
import { dirname, join, resolve } from 'node:path'
import Database from 'better-sqlite3'
import { z } from 'zod'
import { checkReadingsIn } from './check-readings'
import { readOrNull, syncFile, syncFolder, writeDurably } from './durable'
import { type ChainCheck, checkChainIn } from './events'
import { layoutOf } from './folder'
import { sha256 } from './hash'
import { pepperMark, readPepper, writeSecret } from './pepper'
import { photoStore } from './photos'

/** What a backup says of itself; every file in it is named here with its hash. */
export type Manifest = z.infer<typeof Manifest>

const Hash = z.string().regex(/^[0-9a-f]{64}$/)
const Manifest = z.object({
  format: z.literal(1),
  madeAt: z.iso.datetime(),
  database: z.object({ file: z.literal('shop.db'), sha256: Hash, bytes: z.int().positive() }),
  photos: z.array(z.object({ sha256: Hash, bytes: z.int().positive() })),
  /** Photos that rows name and that were gone or damaged when the backup was made. */
  photosLost: z.array(Hash),
  lastEvent: z.object({ seq: z.int().nonnegative(), hash: Hash }).nullable(),
  /** Tells which pepper the PINs were made with; the pepper itself is never in a backup. */
  pepperMark: Hash.nullable(),
})

/** Something a person has to decide or put right before the copy can be made or used. */
export class BackupProblem extends Error {
  override name = 'BackupProblem'
}

export type BackUp = { folder: string; into: string; at: Date; say: (line: string) => void }
export type MadeBackup = { folder: string; manifest: Manifest } & Examined

/** What the copied database says of itself: its chain of events, and readings (by number) that were changed. */
export type Examined = { chain: ChainCheck; changedReadings: number[] }

const progressEvery = 500

/**
 * Copies a shop that may be in use by another process: one consistent picture of the database, then the
 * photos that this picture names. A photo's file is on the disk before its row is written and is never taken
 * away, so that none can be missing that the picture knows. The copy gets its name only when it is whole.
 */
export async function backUp({ folder, into, at, say }: BackUp): Promise<MadeBackup> {
  const layout = layoutOf(folder)
  const name = `shop-${at.toISOString().replaceAll(':', '').replace(/\.\d+/, '')}`
  const finished = join(into, name)
  const making = join(into, `.${name}.${randomUUID()}.part`)
  await mkdir(making, { recursive: true, mode: 0o700 })
  try {
    say('Copying the database ...')
    const file = join(making, 'shop.db')
    copyDatabase(layout.database, file)
    await syncFile(file)
    const { photoNames, chain, changedReadings } = await examine(file)
    const { kept, lost } = await copyPhotos({ names: photoNames, from: layout.photos, to: making, say })
    const bytes = await readFile(file)
    const pepper = readPepper(layout.pepper)
    const manifest: Manifest = {
      format: 1,
      madeAt: at.toISOString(),
      database: { file: 'shop.db', sha256: sha256(bytes), bytes: bytes.length },
      photos: kept,
      photosLost: lost,
      lastEvent: chain.ok ? { seq: chain.events, hash: chain.lastHash } : null,
      pepperMark: pepper && pepperMark(pepper),
    }
    await writeDurably(join(making, 'manifest.json'), `${JSON.stringify(manifest, null, 2)}\n`)
    await rename(making, finished)
    await syncFolder(into)
    return { folder: finished, manifest, chain, changedReadings }
  } catch (error) {
    await rm(making, { recursive: true, force: true })
    throw error
  }
}

/** VACUUM INTO reads one snapshot; a plain copy of a live file would miss what still is in its log. */
function copyDatabase(from: string, to: string): void {
  let database: Database.Database
  try {
    database = new Database(from, { readonly: true, fileMustExist: true, timeout: 5_000 })
  } catch {
    throw new BackupProblem(`There is no shop to copy: ${from} is not there or cannot be opened.`)
  }
  try {
    database.prepare('VACUUM INTO ?').run(to)
  } finally {
    database.close()
  }
}

async function examine(file: string): Promise<{ photoNames: string[] } & Examined> {
  const database = new Database(file, { readonly: true })
  try {
    const found = database.pragma('quick_check(1)', { simple: true })
    if (found !== 'ok') throw new BackupProblem(`The database ${file} is damaged (${found}).`)
    const photoNames = database
      .prepare<[], { sha256: string }>('SELECT DISTINCT sha256 FROM Photo ORDER BY sha256')
      .all()
      .map((row) => row.sha256)
    const changedReadings = await checkReadingsIn(database)
    return { photoNames, chain: await checkChainIn(database), changedReadings }
  } finally {
    database.close()
  }
}

type CopyPhotos = { names: readonly string[]; from: string; to: string; say: (line: string) => void }

async function copyPhotos({ names, from, to, say }: CopyPhotos) {
  const source = photoStore(from)
  const copy = photoStore(join(to, 'photos'))
  const kept: { sha256: string; bytes: number }[] = []
  const lost: string[] = []
  for (const [index, name] of names.entries()) {
    if (index % progressEvery === 0) say(`Copying photos: ${index} of ${names.length} ...`)
    const bytes = await source.read(name)
    if (bytes && sha256(bytes) === name) {
      await writeDurably(copy.fileOf(name), bytes)
      kept.push({ sha256: name, bytes: bytes.length })
    } else lost.push(name)
  }
  return { kept, lost }
}

/** How the PINs' pepper came, or did not come, into the restored folder. */
export type PepperFound = 'given' | 'from the present shop' | 'none'

export type Restore = {
  backup: string
  into: string
  /** A file that holds the pepper, where somebody kept one. */
  pepperFile?: string | undefined
  /** The data folder in use now, whose pepper fits when the backup was made from it. */
  presentFolder: string
  history: 'must be whole' | 'may be changed'
  say: (line: string) => void
}

export type Restored = MadeBackup & { pepper: PepperFound }

/** Checks a backup to the last byte and puts it into a new folder, which gets its name only when it is whole. */
export async function restore(wish: Restore): Promise<Restored> {
  const { backup, say } = wish
  const into = resolve(wish.into)
  await refuseUsed(into)
  const manifest = await readManifest(backup)
  const pepper = findPepper(wish, manifest)

  const making = join(dirname(into), `.restoring-${randomUUID()}.part`)
  const layout = layoutOf(making)
  await mkdir(making, { recursive: true, mode: 0o700 })
  try {
    say('Checking and copying the database ...')
    await copyFile(join(backup, manifest.database.file), layout.database)
    if (sha256(await readFile(layout.database)) !== manifest.database.sha256) {
      throw new BackupProblem(
        'The database in this backup is not the one it was made with. Use another backup.',
      )
    }
    await syncFile(layout.database)
    const examined = await examine(layout.database)
    refuseChanged(examined, manifest, wish.history)
    await restorePhotos({ manifest, from: join(backup, 'photos'), to: making, say })
    if (pepper.bytes) writeSecret(layout.pepper, pepper.bytes)
    if (await readdir(into).catch(() => null)) await rmdir(into)
    await rename(making, into)
    await syncFolder(dirname(into))
    return {
      folder: into,
      manifest,
      chain: examined.chain,
      changedReadings: examined.changedReadings,
      pepper: pepper.found,
    }
  } catch (error) {
    await rm(making, { recursive: true, force: true })
    throw error
  }
}

async function refuseUsed(folder: string): Promise<void> {
  const inside = await readdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return []
    if (error.code === 'ENOTDIR') throw new BackupProblem(`${folder} is a file. Name a new folder.`)
    throw error
  })
  if (inside.length > 0)
    throw new BackupProblem(`${folder} is not empty. Name a new folder; nothing was touched.`)
}

async function readManifest(backup: string): Promise<Manifest> {
  const text = await readOrNull(join(backup, 'manifest.json'))
  if (!text) {
    throw new BackupProblem(`${backup} is not a finished backup: it has no manifest.json. Use another one.`)
  }
  const read = Manifest.safeParse(parsedOrNull(text.toString('utf8')))
  if (!read.success)
    throw new BackupProblem(`${backup} has a manifest.json that cannot be read. Use another backup.`)
  return read.data
}

function parsedOrNull(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
}

function refuseChanged(examined: Examined, manifest: Manifest, history: Restore['history']): void {
  const { chain, changedReadings } = examined
  if (history === 'may be changed') return
  if (!chain.ok) {
    throw new BackupProblem(
      `The history in this backup was changed at event ${chain.seq} (${chain.because}). ` +
        'Use an older backup, or add --even-if-changed to take it as it is.',
    )
  }
  if (changedReadings.length > 0) {
    throw new BackupProblem(
      `${changedReadings.length} readings in this backup were changed (first: number ${changedReadings[0]}). ` +
        'Use an older backup, or add --even-if-changed to take it as it is.',
    )
  }
  if (manifest.lastEvent?.seq !== chain.events || manifest.lastEvent.hash !== chain.lastHash) {
    throw new BackupProblem(
      'The history in this backup does not end where its manifest says. Use another backup.',
    )
  }
}

type RestorePhotos = { manifest: Manifest; from: string; to: string; say: (line: string) => void }

async function restorePhotos({ manifest, from, to, say }: RestorePhotos): Promise<void> {
  const names = manifest.photos.map((photo) => photo.sha256)
  const { lost } = await copyPhotos({ names, from, to, say })
  if (lost.length === 0) return
  throw new BackupProblem(
    `${lost.length} of ${names.length} photos in this backup are missing or damaged (first: ${lost[0]}). ` +
      'Use another backup.',
  )
}

function findPepper(wish: Restore, manifest: Manifest): { found: PepperFound; bytes: Buffer | null } {
  const fits = (bytes: Buffer) => manifest.pepperMark === null || pepperMark(bytes) === manifest.pepperMark
  if (wish.pepperFile) {
    const bytes = readPepper(wish.pepperFile)
    if (!bytes) throw new BackupProblem(`The pepper file ${wish.pepperFile} is not there.`)
    if (!fits(bytes))
      throw new BackupProblem(`${wish.pepperFile} is not the pepper this backup was made with.`)
    return { found: 'given', bytes }
  }
  const present = readPepper(layoutOf(wish.presentFolder).pepper)
  if (present && manifest.pepperMark !== null && fits(present)) {
    return { found: 'from the present shop', bytes: present }
  }
  return { found: 'none', bytes: null }
}
