import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { BackupProblem, backUp, type Restore, restore } from '../../lib/data/backup'
import { checkReadings } from '../../lib/data/check-readings'
import { appendEvent, checkChain } from '../../lib/data/events'
import { layoutOf } from '../../lib/data/folder'
import { readingHash } from '../../lib/data/hash'
import { projectRoot } from '../../lib/data/root'
import { openStore } from '../../lib/data/store'
import { emptyShopFolder, removeFolder, scratchFolder } from '../support/shop-folder'
import { startWriter } from '../support/writing-process'

const at = new Date('2025-03-01T09:00:00.000Z')
const say = () => {}

let folder: string
let copies: string
beforeEach(async () => {
  folder = await emptyShopFolder()
  copies = scratchFolder()
})
afterEach(() => {
  removeFolder(folder)
  removeFolder(copies)
})

const putBack = (wish: Pick<Restore, 'backup' | 'into'> & Partial<Restore>) =>
  restore({ presentFolder: folder, history: 'must be whole', say, ...wish })

describe('a backup made while another process writes', () => {
  test('holds all that was acknowledged before it began, its chain and its photos, and can be opened', async () => {
    const writer = startWriter([folder, 'busy', 'with-photos'])
    try {
      for (const round of [1, 2, 3]) {
        await writer.until(writer.acknowledged.length + 30)
        const before = [...writer.acknowledged]
        const into = join(copies, `restored-${round}`)
        const made = await backUp({ folder, into: copies, at: new Date(at.getTime() + round * 1000), say })
        const back = await putBack({ backup: made.folder, into })
        expect(back.pepper).toBe('from the present shop')
        expect(made.manifest.photosLost).toEqual([])

        const copy = await openStore(into)
        try {
          const stored = new Set(
            (await copy.db.person.findMany({ select: { id: true } })).map(({ id }) => id),
          )
          expect(before.filter((id) => !stored.has(id))).toEqual([])
          expect(await checkChain(copy.db)).toMatchObject({ ok: true, events: stored.size })
          expect(copy.pepperMissing).toBe(false)
          const photos = await copy.db.photo.findMany()
          expect(photos.length).toBeGreaterThan(0)
          for (const { sha256 } of photos) {
            expect(await copy.photos.check(sha256)).toBe('good')
            expect(await copy.photos.read(sha256, 'small')).not.toBeNull()
          }
        } finally {
          await copy.close()
        }
      }
      await writer.until(writer.acknowledged.length + 1)
    } finally {
      await writer.kill()
    }
  })
})

describe('a backup of a shop with a person, an event and a photo', () => {
  let backup: string
  let pepper: Buffer
  beforeEach(async () => {
    const store = await openStore(folder)
    pepper = store.pepper
    const picture = await sharp({ create: { width: 60, height: 40, channels: 3, background: '#345' } })
      .png()
      .toBuffer()
    const photo = await store.photos.keep(picture)
    await store.transaction(async (tx) => {
      await tx.person.create({
        data: { id: 'p', name: 'Pat', nameKey: 'pat', pinHash: 'kept', createdAt: at },
      })
      await tx.bike.create({ data: { ...bike, photos: { create: { id: 'f', ...photo, ...taken } } } })
      await appendEvent(tx, {
        at,
        personId: 'p',
        deviceId: null,
        verb: 'bike:take-in',
        bikeId: 'b',
        body: {},
      })
    })
    await store.close()
    backup = (await backUp({ folder, into: copies, at, say })).folder
  })

  test('holds the pepper in no file of it', () => {
    for (const file of filesIn(backup)) {
      const bytes = readFileSync(file)
      expect(bytes.includes(pepper), file).toBe(false)
      expect(bytes.includes(pepper.toString('hex')), file).toBe(false)
      expect(bytes.includes(pepper.toString('base64')), file).toBe(false)
    }
    expect(existsSync(layoutOf(backup).secrets)).toBe(false)
  })

  test('goes into a new or empty folder and into no other', async () => {
    const empty = join(copies, 'empty')
    mkdirSync(empty)
    expect(readdirSync((await putBack({ backup, into: empty })).folder)).toContain('shop.db')
    await expect(putBack({ backup, into: empty })).rejects.toThrow(/not empty/)
    await expect(putBack({ backup, into: folder })).rejects.toThrow(/not empty/)
    await expect(putBack({ backup, into: join(backup, 'manifest.json') })).rejects.toThrow(/is a file/)
  })

  test('is refused after any harm, and nothing is left where it should have gone', async () => {
    const photo = filesIn(join(backup, 'photos'))[0]!
    const harms: [string, RegExp, () => void][] = [
      ['a bit of the database', /not the one it was made with/, () => flipBit(join(backup, 'shop.db'))],
      ['a bit of a photo', /photos in this backup are missing or damaged/, () => flipBit(photo)],
      ['a photo taken away', /photos in this backup are missing or damaged/, () => rmSync(photo)],
      [
        'the manifest cut off',
        /cannot be read/,
        () => writeFileSync(join(backup, 'manifest.json'), '{"form'),
      ],
      ['the manifest gone', /not a finished backup/, () => rmSync(join(backup, 'manifest.json'))],
    ]
    const keep = new Map(filesIn(backup).map((file) => [file, readFileSync(file)]))
    for (const [name, sentence, harm] of harms) {
      harm()
      const before = readdirSync(copies)
      const refused = putBack({ backup, into: join(copies, 'new') })
      await expect(refused, name).rejects.toThrow(BackupProblem)
      await expect(refused, name).rejects.toThrow(sentence)
      expect(readdirSync(copies), name).toEqual(before)
      for (const [file, bytes] of keep) writeFileSync(file, bytes)
    }
  })

  test('with a changed history says so when it is made, and is put back only when told to', async () => {
    const store = await openStore(folder)
    await store.db.event.update({ where: { seq: 1 }, data: { body: '{"price":1}' } })
    await store.close()
    const made = await backUp({ folder, into: copies, at: new Date(at.getTime() + 1000), say })
    expect(made.chain).toEqual({ ok: false, seq: 1, because: 'changed' })

    const wish = { backup: made.folder, into: join(copies, 'changed') }
    await expect(putBack(wish)).rejects.toThrow(/changed at event 1/)
    expect((await putBack({ ...wish, history: 'may be changed' })).chain.ok).toBe(false)
  })

  test('with a changed reading names it when it is made, and is put back only when told to', async () => {
    const store = await openStore(folder)
    await store.db.reading.create({ data: { ...reading, hash: readingHash(reading) } })
    expect(await checkReadings(store.db)).toEqual([])
    await store.db.reading.update({ where: { id: 'r' }, data: { value: '3.9' } })
    expect(await checkReadings(store.db)).toEqual([7])
    await store.close()
    const made = await backUp({ folder, into: copies, at: new Date(at.getTime() + 1000), say })
    expect(made.changedReadings).toEqual([7])

    const wish = { backup: made.folder, into: join(copies, 'changed') }
    await expect(putBack(wish)).rejects.toThrow(/1 readings in this backup were changed/)
    expect((await putBack({ ...wish, history: 'may be changed' })).changedReadings).toEqual([7])
  })

  test('of a shop that lost a photo holds the rest and names it', async () => {
    rmSync(filesIn(join(folder, 'photos')).find((file) => !file.includes('.small.'))!)
    const made = await backUp({ folder, into: copies, at: new Date(at.getTime() + 1000), say })
    expect(made.manifest.photosLost).toHaveLength(1)
    expect((await putBack({ backup: made.folder, into: join(copies, 'rest') })).manifest.photos).toEqual([])
  })

  test('without its pepper opens, names whose PIN is useless, and forgets them as PINs are set again', async () => {
    const into = join(copies, 'elsewhere')
    const back = await putBack({ backup, into, presentFolder: scratchFolderIn(copies) })
    expect(back.pepper).toBe('none')

    for (const start of ['first', 'second']) {
      const store = await openStore(into)
      expect(store.pepperMissing, start).toBe(true)
      expect(await store.pinsToSetAgain(), start).toEqual(['p'])
      await store.close()
    }
    const store = await openStore(into)
    await store.db.person.update({ where: { id: 'p' }, data: { pinHash: 'made with the new one' } })
    expect(await store.pinsToSetAgain()).toEqual([])
    await store.close()
    const again = await openStore(into)
    expect(again.pepperMissing).toBe(false)
    await again.close()
  })

  test('takes a pepper that was kept apart, and refuses another', async () => {
    const kept = join(copies, 'kept-pepper')
    const other = join(copies, 'other-pepper')
    writeFileSync(kept, pepper)
    writeFileSync(other, Buffer.alloc(32, 7))
    const presentFolder = scratchFolderIn(copies)
    const wish = { backup, into: join(copies, 'new'), presentFolder }
    await expect(putBack({ ...wish, pepperFile: other })).rejects.toThrow(/not the pepper/)
    await expect(putBack({ ...wish, pepperFile: `${kept}-gone` })).rejects.toThrow(/is not there/)

    expect((await putBack({ ...wish, pepperFile: kept })).pepper).toBe('given')
    const store = await openStore(wish.into)
    expect(store.pepper).toEqual(pepper)
    expect(store.pepperMissing).toBe(false)
    await store.close()
  })
})

test('the commands say in one sentence what is wrong instead of showing a stack of calls', () => {
  const root = projectRoot()
  const run = (command: string, ...args: string[]) =>
    spawnSync(process.execPath, ['--import', 'tsx', join(root, 'lib', 'desk', command), ...args], {
      cwd: root,
      encoding: 'utf8',
      env: { ...process.env, STAND_LEDGER_DATA: join(folder, 'not-there') },
    })
  const asked: [string, string[], RegExp][] = [
    ['backup.ts', [join(folder, 'copies')], /There is no shop to copy/],
    ['restore.ts', [], /npm run restore -- BACKUP NEW_FOLDER/],
    ['restore.ts', [folder, join(folder, 'new')], /not a finished backup/],
    ['migration.ts', ['Not A Name'], /Name the migration in small letters/],
  ]
  for (const [command, args, sentence] of asked) {
    const { status, stderr } = run(command, ...args)
    expect(status, command).toBe(1)
    expect(stderr, command).toMatch(sentence)
    expect(stderr.trim().split('\n').length, command).toBe(1)
  }
})

const bike = {
  id: 'b',
  viewingNo: 1,
  stage: 'viewing',
  kind: '{}',
  make: 'Calder',
  makeKey: 'calder',
  model: 'Two',
  modelKey: 'two',
  distanceUnit: 'km',
  createdAt: at,
  createdBy: 'p',
}
const reading = {
  id: 'r',
  seq: 7,
  bikeId: 'b',
  check: 'front-pads',
  position: null,
  kind: 'measured',
  value: '2.9',
  unit: 'mm',
  conditions: null,
  instrument: null,
  note: null,
  personId: 'p',
  deviceId: null,
  takenAt: at,
  receivedAt: at,
  supersedes: null,
}
const taken = { personId: 'p', takenAt: at, receivedAt: at }

function filesIn(place: string): string[] {
  return readdirSync(place, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
}

function flipBit(file: string): void {
  const bytes = readFileSync(file)
  const middle = Math.floor(bytes.length / 2)
  bytes[middle] = bytes[middle]! ^ 1
  writeFileSync(file, bytes)
}

/** A data folder in which there is no shop yet. */
function scratchFolderIn(parent: string): string {
  const made = join(parent, 'no-shop')
  mkdirSync(made)
  return made
}
