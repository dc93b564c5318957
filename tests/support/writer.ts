/**
 * A process of its own that writes to a shop as fast as it can and says on its standard output what was
 * acknowledged, a line each. For tests that kill it or copy the shop under its hands.
 *
 *   tsx tests/support/writer.ts FOLDER PREFIX [with-photos]
 */
import sharp from 'sharp'
import { appendEvent } from '../../lib/data/events'
import { openStore, type Store } from '../../lib/data/store'

const at = new Date('2025-03-01T09:00:00.000Z')
const bikeId = 'bike'

async function main([folder, prefix, photos]: string[]): Promise<void> {
  const store = await openStore(folder!)
  await store.db.bike.upsert({ where: { id: bikeId }, create: bike, update: {} })
  for (let n = 0; ; n++) {
    const id = `${prefix}-${n}`
    if (photos && n % 10 === 0) await writePhoto(store, id)
    await write(store, id)
    process.stdout.write(`${id}\n`)
  }
}

const bike = {
  id: bikeId,
  viewingNo: 1,
  stage: 'viewing',
  kind: '{}',
  make: 'Calder',
  makeKey: 'calder',
  model: 'Two',
  modelKey: 'two',
  distanceUnit: 'km',
  createdAt: at,
  createdBy: 'nobody',
}

async function write(store: Store, id: string): Promise<void> {
  await store.transaction(async (tx) => {
    await tx.person.create({ data: { id, name: id, nameKey: id, pinHash: 'none', createdAt: at } })
    await appendEvent(tx, {
      at,
      personId: id,
      deviceId: null,
      verb: 'person:add',
      bikeId: null,
      body: { id },
    })
  })
}

/** The file is on the disk before its row is written, as whoever takes in photos must do it. */
async function writePhoto(store: Store, id: string): Promise<void> {
  const colour = `#${id.length.toString(16).padStart(2, '0')}${Buffer.from(id).toString('hex').slice(-4)}`
  const picture = await sharp({ create: { width: 64, height: 48, channels: 3, background: colour } })
    .png()
    .toBuffer()
  const photo = await store.photos.keep(picture)
  await store.db.photo.create({
    data: { id, bikeId, ...photo, personId: 'nobody', takenAt: at, receivedAt: at },
  })
}

main(process.argv.slice(2)).catch((error: unknown) => {
  console.error(error)
  process.exit(1)
})
