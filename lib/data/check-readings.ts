import type Database from 'better-sqlite3'
import { type HashedReading, readingHash } from './hash'
import type { Db } from './store'

const readingsPage = 1000

type StoredReading = HashedReading & { hash: string }

/** Numbers (`seq`) of the readings that no longer hash to what was stored with them; empty when all is well. */
export function checkReadings(db: Db): Promise<number[]> {
  return walk((after) =>
    db.reading.findMany({ where: { seq: { gt: after } }, orderBy: { seq: 'asc' }, take: readingsPage }),
  )
}

/** The same for a database file that is not open as a store: a backup. */
export function checkReadingsIn(database: Database.Database): Promise<number[]> {
  type Row = Omit<StoredReading, 'takenAt' | 'receivedAt'> & { takenAt: number; receivedAt: number }
  const page = database.prepare<[number, number], Row>(
    'SELECT * FROM Reading WHERE seq > ? ORDER BY seq LIMIT ?',
  )
  const instants = (row: Row) => ({
    ...row,
    takenAt: new Date(row.takenAt),
    receivedAt: new Date(row.receivedAt),
  })
  return walk(async (after) => page.all(after, readingsPage).map(instants))
}

async function walk(readingsAfter: (seq: number) => Promise<StoredReading[]>): Promise<number[]> {
  const changed: number[] = []
  for (let seq = -1; ; ) {
    const page = await readingsAfter(seq)
    changed.push(...page.filter((reading) => readingHash(reading) !== reading.hash).map((row) => row.seq))
    if (page.length < readingsPage) return changed
    seq = page.at(-1)!.seq
  }
}
