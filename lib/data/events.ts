import type Database from 'better-sqlite3'
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

export type ChainBreak = 'number out of sequence' | 'not chained to the one before' | 'changed'

export type ChainCheck =
  | { ok: true; events: number; lastHash: string }
  | { ok: false; seq: number; because: ChainBreak }

/** Walks every event from the first and recomputes its hash; stops at the first that does not agree. */
export function checkChain(db: Db): Promise<ChainCheck> {
  return walk((after) =>
    db.event.findMany({ where: { seq: { gt: after } }, orderBy: { seq: 'asc' }, take: chainPage }),
  )
}

/** The same for a database file that is not open as a store: a backup. */
export function checkChainIn(database: Database.Database): Promise<ChainCheck> {
  type Row = Omit<HashedEvent, 'at'> & { at: number }
  const page = database.prepare<[number, number], Row>(
    'SELECT * FROM Event WHERE seq > ? ORDER BY seq LIMIT ?',
  )
  return walk(async (after) => page.all(after, chainPage).map((row) => ({ ...row, at: new Date(row.at) })))
}

type HashedEvent = ChainedEvent & { hash: string }

async function walk(eventsAfter: (seq: number) => Promise<HashedEvent[]>): Promise<ChainCheck> {
  let seq = 0
  let lastHash = chainStart
  for (;;) {
    const page = await eventsAfter(seq)
    for (const event of page) {
      const because = breakAt(event, { seq, lastHash })
      if (because) return { ok: false, seq: event.seq, because }
      seq = event.seq
      lastHash = event.hash
    }
    if (page.length < chainPage) return { ok: true, events: seq, lastHash }
  }
}

function breakAt(event: HashedEvent, before: { seq: number; lastHash: string }): ChainBreak | null {
  if (event.seq !== before.seq + 1) return 'number out of sequence'
  if (event.previousHash !== before.lastHash) return 'not chained to the one before'
  return event.hash === eventHash(event) ? null : 'changed'
}
