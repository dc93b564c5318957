import { PrismaBetterSqlite3 } from '@prisma/adapter-better-sqlite3'
import {
  DriverAdapterError,
  type IsolationLevel,
  type SqlDriverAdapter,
  type SqlDriverAdapterFactory,
  type SqlQuery,
  type Transaction,
} from '@prisma/driver-adapter-utils'
import type Database from 'better-sqlite3'

/**
 * SQLite under Prisma with one lock for everything.
 *
 * The stock adapter has one connection and locks it for transactions only, so a plain query of another
 * request runs inside whatever transaction is open and is rolled back with it after its caller was told
 * that it was saved. Here plain queries, scripts and transactions all stand in the same queue, a transaction
 * begins IMMEDIATE, and COMMIT and ROLLBACK are ours, so that the lock is freed only after they really ran.
 */
export type LockedDatabase = {
  factory: SqlDriverAdapterFactory
  /** SQL statements run so far; a test counts what one page costs. */
  statementCount(): number
  /** After this no connection is opened any more, whatever a forgotten query asks for. */
  shut(): void
}

/** The connection waits this long inside SQLite, which stops all of Node meanwhile; then we wait outside. */
const busyTimeoutMs = 75
const busyRetryMs = 25
const busyPatienceMs = 10_000

const pragmas = [
  'journal_mode = WAL',
  'synchronous = FULL',
  'foreign_keys = ON',
  'trusted_schema = OFF',
  'cell_size_check = ON',
]

/** Thrown when SQLite's own check of the file finds damage. */
export class DamagedDatabase extends Error {
  override name = 'DamagedDatabase'
  constructor(
    readonly file: string,
    readonly found: string,
  ) {
    super(
      `The database ${file} is damaged (${found}). Nothing was changed. ` +
        'Keep the folder as it is and put the latest backup into a new folder with "npm run restore".',
    )
  }
}

export function lockedDatabase(file: string): LockedDatabase {
  const stock = new PrismaBetterSqlite3(
    { url: `file:${file}`, timeout: busyTimeoutMs },
    { timestampFormat: 'unixepoch-ms' },
  )
  const count = { statements: 0 }
  let isShut = false
  return {
    factory: {
      provider: 'sqlite',
      adapterName: stock.adapterName,
      async connect() {
        if (isShut) throw new Error(`The shop's database ${file} was closed.`)
        const inner = await stock.connect()
        try {
          prepareConnection(connectionOf(inner), file)
        } catch (error) {
          await inner.dispose()
          throw error
        }
        return lockingAdapter(inner, count)
      },
    },
    statementCount: () => count.statements,
    shut: () => {
      isShut = true
    },
  }
}

/** The stock adapter keeps its better-sqlite3 connection under this name and offers no other way to it. */
function connectionOf(inner: SqlDriverAdapter): Database.Database {
  return (inner as unknown as { client: Database.Database }).client
}

function prepareConnection(connection: Database.Database, file: string): void {
  const found = connection.pragma('quick_check(1)', { simple: true })
  if (found !== 'ok') throw new DamagedDatabase(file, String(found))
  for (const pragma of pragmas) connection.pragma(pragma)
  const mode = connection.pragma('journal_mode', { simple: true })
  if (mode !== 'wal') {
    throw new Error(
      `The database ${file} cannot use a write-ahead log (it says "${mode}"). ` +
        'Put the data folder on a local disk: network shares do not keep SQLite safe.',
    )
  }
}

function lockingAdapter(inner: SqlDriverAdapter, count: { statements: number }): SqlDriverAdapter {
  const connection = connectionOf(inner)
  const queue = turns()
  const whenFree = async <T>(work: () => Promise<T>): Promise<T> => {
    const leave = await queue.take()
    try {
      count.statements += 1
      return await untilNotBusy(work)
    } finally {
      leave()
    }
  }
  return {
    provider: inner.provider,
    adapterName: inner.adapterName,
    queryRaw: (query) => whenFree(() => inner.queryRaw(query)),
    executeRaw: (query) => whenFree(() => inner.executeRaw(query)),
    executeScript: (script) => whenFree(() => inner.executeScript(script)),
    async startTransaction(level) {
      refuseOtherLevels(level)
      const leave = await queue.take()
      try {
        count.statements += 1
        await untilNotBusy(() => inner.executeRaw(sql('BEGIN IMMEDIATE')))
      } catch (error) {
        leave()
        throw error
      }
      return openTransaction({ inner, connection, leave, count })
    },
    dispose: () => inner.dispose(),
  }
}

type OpenTransaction = {
  inner: SqlDriverAdapter
  connection: Database.Database
  leave: () => void
  count: { statements: number }
}

function openTransaction({ inner, connection, leave, count }: OpenTransaction): Transaction {
  let open = true

  // A full disk or a failed read makes SQLite roll back by itself. Whatever came next would then be written
  // outside any transaction, so every statement first asks whether there still is one.
  const within = async <T>(work: () => Promise<T>): Promise<T> => {
    if (!open || !connection.inTransaction) throw closedAlready()
    count.statements += 1
    return work()
  }
  const run = async (statement: string): Promise<void> => {
    await within(() => inner.executeRaw(sql(statement)))
  }
  const end = async (work: () => Promise<void>): Promise<void> => {
    if (!open) return
    try {
      await work()
    } finally {
      open = false
      try {
        // Whatever happened, the connection must not stay inside this transaction when the next one gets it.
        if (connection.inTransaction) connection.exec('ROLLBACK')
      } finally {
        leave()
      }
    }
  }

  return {
    provider: inner.provider,
    adapterName: inner.adapterName,
    options: { usePhantomQuery: true },
    queryRaw: (query) => within(() => inner.queryRaw(query)),
    executeRaw: (query) => within(() => inner.executeRaw(query)),
    commit: () =>
      end(() => within(() => untilNotBusy(async () => void (await inner.executeRaw(sql('COMMIT')))))),
    rollback: () => end(async () => {}),
    createSavepoint: (name) => run(`SAVEPOINT ${name}`),
    rollbackToSavepoint: (name) => run(`ROLLBACK TO ${name}`),
    releaseSavepoint: (name) => run(`RELEASE SAVEPOINT ${name}`),
  }
}

function sql(statement: string): SqlQuery {
  return { sql: statement, args: [], argTypes: [] }
}

function closedAlready(): DriverAdapterError {
  return new DriverAdapterError({
    kind: 'TransactionAlreadyClosed',
    cause: 'SQLite had already ended this transaction; nothing of it was kept.',
  })
}

function refuseOtherLevels(level: IsolationLevel | undefined): void {
  if (level && level !== 'SERIALIZABLE')
    throw new DriverAdapterError({ kind: 'InvalidIsolationLevel', level })
}

/** Another process (a backup, a checkpoint) may hold the file for a moment: wait without stopping Node. */
async function untilNotBusy<T>(work: () => Promise<T>): Promise<T> {
  const until = Date.now() + busyPatienceMs
  for (;;) {
    try {
      return await work()
    } catch (error) {
      if (!isBusy(error) || Date.now() > until) throw error
      await new Promise((resolve) => setTimeout(resolve, busyRetryMs))
    }
  }
}

function isBusy(error: unknown): boolean {
  return error instanceof DriverAdapterError && error.cause.kind === 'SocketTimeout'
}

/** A queue in which one stands at the front at a time, first come, first served. */
export function turns(): { take(): Promise<() => void> } {
  let last = Promise.resolve()
  return {
    take() {
      const before = last
      let leave = () => {}
      last = new Promise<void>((resolve) => {
        leave = resolve
      })
      return before.then(() => leave)
    },
  }
}
