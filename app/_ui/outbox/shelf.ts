import type { Kept, Refused } from './outbox'

/** One thing on the shelf, and how far it is. Its place is its turn: it goes out before what has a higher one. */
export type OnShelf = { kept: Kept; place: number; onDisk: boolean } & (
  | { state: 'waiting' | 'sent' }
  | { state: 'refused'; refused: Refused }
)

/** Where what was recorded is kept until the server has it, and what it refused until a person has seen it. */
export type Shelf = {
  load(): Promise<readonly OnShelf[]>
  /** Answers once it is kept; `onDisk` is whether it outlives the page. */
  keep(one: Kept): Promise<{ place: number; onDisk: boolean }>
  /** The bytes of a photo for as long as it is here, also after it was sent or refused; null where they are not what they were. */
  bytes(id: string): Promise<Blob | null>
  /** Notes that the server has these. */
  sent(ids: readonly string[]): Promise<void>
  refuse(id: string, refused: Refused): Promise<void>
  drop(ids: readonly string[]): Promise<void>
  /** Takes out what the server had before that instant, by the clock of this device. */
  dropSentBefore(instant: number): Promise<void>
  /** Calls back when somebody else (another tab) changed what is here. */
  onChange(listener: () => void): void
}

/** Whatever has no place on disk comes after what has. */
const firstPlaceInMemory = 2 ** 40

/** Lasts as long as the page. */
export function shelfInMemory(): Shelf {
  const rows = new Map<string, OnShelf & { sentAt?: number }>()
  let next = firstPlaceInMemory
  return {
    load: async () => [...rows.values()],
    async keep(kept) {
      const place = next++
      rows.set(kept.id, { kept, place, onDisk: false, state: 'waiting' })
      return { place, onDisk: false }
    },
    async bytes(id) {
      const kept = rows.get(id)?.kept
      return kept?.to === 'photos' ? kept.bytes : null
    },
    async sent(ids) {
      for (const id of ids) rows.delete(id)
    },
    async refuse(id, refused) {
      const row = rows.get(id)
      if (row) rows.set(id, { ...row, state: 'refused', refused })
    },
    async drop(ids) {
      for (const id of ids) rows.delete(id)
    },
    dropSentBefore: async () => {},
    onChange: () => {},
  }
}
