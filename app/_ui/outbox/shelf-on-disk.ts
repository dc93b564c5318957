import type { BytesRow, OutboxRow, TabletStore } from '../tablet-store'
import type { Kept, Refused } from './outbox'
import { type OnShelf, type Shelf, shelfInMemory } from './shelf'

export type DiskParts = {
  open: () => Promise<TabletStore>
  /** Tells the other tabs of this device that something changed, and hears it of them. */
  tell: () => void
  hear: (listener: () => void) => void
  clock: () => number
}

/**
 * The shelf in the browser's own database, shared by all tabs of the device. Something counts as kept only once
 * its transaction has completed. What the disk does not take (none there, or none left) is kept in memory, and
 * `keep` says so.
 */
export function shelfOnDisk({ open, tell, hear, clock }: DiskParts): Shelf {
  const memory = shelfInMemory()

  /** Changes these rows; one that is not there is left alone. */
  async function change(ids: readonly string[], to: (row: OutboxRow) => OutboxRow | null): Promise<void> {
    const store = await open()
    const tx = store.transaction(['outbox', 'bytes'], 'readwrite', { durability: 'strict' })
    const outbox = tx.objectStore('outbox')
    for (const id of ids) {
      const place = await outbox.index('id').getKey(id)
      const row = place === undefined ? undefined : await outbox.get(place)
      if (place === undefined || !row) continue
      const changed = to(row)
      if (changed) await outbox.put(changed, place)
      else await outbox.delete(place)
      if (!changed) await tx.objectStore('bytes').delete(id)
    }
    await tx.done
    tell()
  }

  /** Where there is no disk, everything is in memory and there is nothing to change on it. */
  const ifThere = (work: Promise<void>): Promise<void> => work.catch(() => {})

  return {
    async load() {
      const inMemory = await memory.load()
      try {
        const store = await open()
        const tx = store.transaction('outbox')
        const [places, rows] = await Promise.all([tx.store.getAllKeys(), tx.store.getAll()])
        return [...rows.map((row, index) => fromRow(row, places[index] ?? 0)), ...inMemory]
      } catch {
        return inMemory
      }
    },

    async keep(kept) {
      try {
        const bytes = await bytesOf(kept)
        const store = await open()
        const tx = store.transaction(['outbox', 'bytes'], 'readwrite', { durability: 'strict' })
        const row: OutboxRow = { id: kept.id, body: withoutBytes(kept), state: 'waiting' }
        const [place] = await Promise.all([
          tx.objectStore('outbox').add(row),
          bytes && tx.objectStore('bytes').put(bytes),
          tx.done,
        ])
        tell()
        return { place, onDisk: true }
      } catch {
        return memory.keep(kept)
      }
    },

    async bytes(id) {
      const inMemory = await memory.bytes(id)
      if (inMemory) return inMemory
      const row = await (await open()).get('bytes', id)
      if (!row) return null
      const { bytes, type, sha256 } = row
      if (sha256 !== null && (await hashOf(bytes)) !== sha256) return null
      return new Blob([bytes], { type })
    },

    async sent(ids) {
      await memory.sent(ids)
      const sentAt = clock()
      await ifThere(change(ids, (row) => ({ ...row, state: 'sent', sentAt })))
    },

    async refuse(id, refused) {
      await memory.refuse(id, refused)
      await ifThere(change([id], (row) => ({ ...row, state: 'refused', refused })))
    },

    async drop(ids) {
      await memory.drop(ids)
      await ifThere(change(ids, () => null))
    },

    async dropSentBefore(instant) {
      const store = await open()
      const rows = await store.getAll('outbox')
      const gone = rows.filter(({ state, sentAt }) => state === 'sent' && (sentAt ?? 0) < instant)
      if (gone.length > 0)
        await change(
          gone.map(({ id }) => id),
          () => null,
        )
    },

    onChange: hear,
  }
}

function fromRow({ body, state, refused }: OutboxRow, place: number): OnShelf {
  const at = { kept: body as Kept, place, onDisk: true }
  return state === 'refused' ? { ...at, state, refused: refused as Refused } : { ...at, state }
}

function withoutBytes(kept: Kept): Kept {
  return kept.to === 'photos' ? { ...kept, bytes: null } : kept
}

async function bytesOf(kept: Kept): Promise<BytesRow | null> {
  if (kept.to !== 'photos' || !kept.bytes) return null
  const bytes = await kept.bytes.arrayBuffer()
  return { id: kept.id, bytes, type: kept.bytes.type, sha256: await hashOf(bytes) }
}

/** Hex; null on plain http, where browsers work out none. */
async function hashOf(bytes: ArrayBuffer): Promise<string | null> {
  if (!globalThis.crypto?.subtle) return null
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes))
  return [...digest].map((byte) => byte.toString(16).padStart(2, '0')).join('')
}
