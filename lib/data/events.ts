import { canonicalJson, sha256 } from './hash'
import type { Db, Tx } from './store'

/** What the first event names as the hash before it. */
export const chainStart = '0'.repeat(64)

const chainPage = 1000

export type NewEvent = {
  at: Date
  personId: string | null
  deviceId: string | null
  verb: string
  bikeId: string | null
  body: unknown
}

/**
 * Writes the next event and chains it to the one before: its hash covers its own fields and that hash, so
 * that no event can be changed, taken out or put in between without every later hash failing.
 * Returns the event's number; numbers are consecutive because every writer holds the database's one lock.
 */
export async function appendEvent(tx: Tx, event: NewEvent): Promise<number> {
  const last = await tx.event.findFirst({ orderBy: { seq: 'desc' }, select: { seq: true, hash: true } })
  const { at, personId, deviceId, verb, bikeId } = event
  const row = {
    seq: (last?.seq ?? 0) + 1,
    at,
    personId,
    deviceId,
    verb,
    bikeId,
    body: canonicalJson(event.body),
    previousHash: last?.hash ?? chainStart,
  }
  await tx.event.create({ data: { ...row, hash: eventHash(row) } })
  return row.seq
}

type ChainedEvent = Omit<NewEvent, 'body'> & { seq: number; body: string; previousHash: string }

function eventHash(event: ChainedEvent): string {
  const { seq, at, personId, deviceId, verb, bikeId, body, previousHash } = event
  return sha256(canonicalJson({ seq, at, personId, deviceId, verb, bikeId, body, previousHash }))
}

export type ChainCheck =
  | { ok: true; events: number; lastHash: string }
  | {
      ok: false
      seq: number
      because: 'number out of sequence' | 'not chained to the one before' | 'changed'
    }

/** Walks every event from the first and recomputes its hash; stops at the first that does not agree. */
export async function checkChain(db: Db): Promise<ChainCheck> {
  let seq = 0
  let lastHash = chainStart
  for (;;) {
    const page = await db.event.findMany({
      where: { seq: { gt: seq } },
      orderBy: { seq: 'asc' },
      take: chainPage,
    })
    for (const event of page) {
      if (event.seq !== seq + 1) return { ok: false, seq: event.seq, because: 'number out of sequence' }
      if (event.previousHash !== lastHash)
        return { ok: false, seq: event.seq, because: 'not chained to the one before' }
      if (event.hash !== eventHash(event)) return { ok: false, seq: event.seq, because: 'changed' }
      seq = event.seq
      lastHash = event.hash
    }
    if (page.length < chainPage) return { ok: true, events: seq, lastHash }
  }
}
