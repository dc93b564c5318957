import { type DBSchema, type IDBPDatabase, openDB } from 'idb'

/**
 * What this browser keeps of the shop. It outlives the page, the tab and the battery, and belongs to the device:
 * who works at it changes, what waits to be sent stays.
 */
interface TabletShape extends DBSchema {
  /** What was recorded here, in the order it was recorded; the key is that order. */
  outbox: { key: number; value: OutboxRow; indexes: { id: string } }
  /** The bytes of photos, by the id of what they belong to and for as long as that is here: apart, so that the list can be read without them. */
  bytes: { key: string; value: BytesRow }
  /** What the device keeps of the shop for one person, by name. */
  pack: { key: string; value: PackRow }
  /** Single facts of the device, by name. */
  meta: { key: string; value: unknown }
}

export type OutboxRow = {
  id: string
  /** All of it but the bytes of a photo. */
  body: unknown
  state: 'waiting' | 'sent' | 'refused'
  refused?: unknown
  /** When the server confirmed it, by the clock of this device. */
  sentAt?: number
}

/** Bytes and not a Blob: some browsers have lost what stood behind a stored Blob. */
export type BytesRow = {
  id: string
  bytes: ArrayBuffer
  type: string
  /** Hex; null where the browser can work out none, which is so on plain http. */
  sha256: string | null
}

export type PackRow = {
  name: string
  /** Whose it is: another person gets nothing of it. */
  person: string
  keptAt: string
  body: unknown
}

export type TabletStore = IDBPDatabase<TabletShape>

export const tabletStoreName = 'stand-ledger'
const shapeVersion = 1

let opened: Promise<TabletStore> | null = null

/**
 * The one database of this browser, opened once a page. Rejects where the browser has none to give (some do
 * not in a private window): whoever asks says so and goes on without.
 */
export function tabletStore(): Promise<TabletStore> {
  opened ??= openTabletStore(() => {
    opened = null
  }).catch((error: unknown) => {
    opened = null
    throw error
  })
  return opened
}

/** Opens it anew; `gone` is called once it can no longer be used and has to be opened again. */
export async function openTabletStore(gone: () => void = () => {}): Promise<TabletStore> {
  if (typeof indexedDB === 'undefined') throw new Error('This browser keeps nothing for pages.')
  const store = await openDB<TabletShape>(tabletStoreName, shapeVersion, {
    upgrade(db) {
      const outbox = db.createObjectStore('outbox', { autoIncrement: true })
      outbox.createIndex('id', 'id', { unique: true })
      db.createObjectStore('bytes', { keyPath: 'id' })
      db.createObjectStore('pack', { keyPath: 'name' })
      db.createObjectStore('meta')
    },
    // A page of a newer build wants to change its shape: this one lets go, and opens it again when it needs it.
    blocking() {
      gone()
      store.close()
    },
    terminated: gone,
  })
  return store
}

/** What is kept under that name for that person; null where there is none, or it is somebody else's. */
export async function fromPack(name: string, person: string): Promise<PackRow | null> {
  const row = await (await tabletStore()).get('pack', name)
  return row && row.person === person ? row : null
}

/** Done only once it is written. */
export async function keepInPack(row: PackRow): Promise<void> {
  const tx = (await tabletStore()).transaction('pack', 'readwrite', { durability: 'strict' })
  await Promise.all([tx.store.put(row), tx.done])
}

/** Everything of the shop goes: at sign-out, and when the server no longer knows this device. What waits stays. */
export async function emptyPack(): Promise<void> {
  const tx = (await tabletStore()).transaction('pack', 'readwrite')
  await Promise.all([tx.store.clear(), tx.done])
}

/** A single fact of the device; undefined where it was never noted. */
export async function fact(name: string): Promise<unknown> {
  return (await tabletStore()).get('meta', name)
}

export async function noteFact(name: string, value: unknown): Promise<void> {
  const tx = (await tabletStore()).transaction('meta', 'readwrite')
  await Promise.all([tx.store.put(value, name), tx.done])
}
