import { AsyncLocalStorage } from 'node:async_hooks'
import { mkdir, realpath } from 'node:fs/promises'
import { lockedDatabase } from './adapter'
import { dataFolder, layoutOf } from './folder'
import { type Prisma, PrismaClient } from './generated/client'
import { migrate } from './migrate'
import { ownFolder } from './owner'
import { openPepper } from './pepper'
import { type PhotoStore, photoStore } from './photos'

/** For reads outside a transaction. A `Tx` fits wherever a `Db` is asked for. */
export type Db = Omit<PrismaClient, '$connect' | '$disconnect' | '$extends' | '$on' | '$transaction'>
/** For everything inside a transaction. */
export type Tx = Prisma.TransactionClient

/** One shop's data, open in this process and in no other. */
export type Store = {
  readonly folder: string
  readonly db: Db
  /**
   * Runs `work` in one transaction: all of it is kept when the promise resolves, none when it rejects.
   * Await nothing but `tx` inside: everybody else is waiting meanwhile.
   */
  transaction<T>(work: (tx: Tx) => Promise<T>): Promise<T>
  readonly photos: PhotoStore
  /** Goes into every PIN's hash; never in the database. */
  readonly pepper: Buffer
  /** The pepper was lost (a restored backup without it): nobody named by `pinsToSetAgain` can sign in. */
  readonly pepperMissing: boolean
  pinsToSetAgain(): Promise<string[]>
  /** SQL statements run since the store was opened. */
  statementCount(): number
  close(): Promise<void>
}

export type OpenOptions = {
  /** Told in plain sentences what is being done, where it may take a while. */
  say?: (line: string) => void
}

const patience = { maxWait: 10_000, timeout: 10_000 }

/** Makes the folder where there is none, brings the database to this version's form, opens it. */
export async function openStore(folder: string, { say = () => {} }: OpenOptions = {}): Promise<Store> {
  await mkdir(folder, { recursive: true, mode: 0o700 })
  const root = await realpath(folder)
  const layout = layoutOf(root)
  const owner = ownFolder(layout)
  try {
    await migrate({ layout, say })
    const database = lockedDatabase(layout.database)
    const client = new PrismaClient({ adapter: database.factory, errorFormat: 'minimal' })
    try {
      await client.$connect()
      const db = guarded(client)
      const pepper = await openPepper(layout, db)
      return {
        folder: root,
        db,
        transaction: (work) => transact(client, work),
        photos: photoStore(layout.photos),
        pepper: pepper.bytes,
        pepperMissing: pepper.missing,
        pinsToSetAgain: pepper.pinsToSetAgain,
        statementCount: database.statementCount,
        async close() {
          database.shut()
          await client.$disconnect()
          owner.release()
        },
      }
    } catch (error) {
      await client.$disconnect()
      throw error
    }
  } catch (error) {
    owner.release()
    throw error
  }
}

const sharedKey = Symbol.for('stand-ledger.store')

/**
 * The store of this process. Next loads modules several times in one process (pages, actions and route
 * handlers apart), and each copy would have its own lock: so the one store lives in globalThis.
 */
export function sharedStore(): Promise<Store> {
  const shared = globalThis as { [sharedKey]?: Promise<Store> }
  shared[sharedKey] ??= openStore(dataFolder(), { say: console.log }).catch((error: unknown) => {
    delete shared[sharedKey]
    throw error
  })
  return shared[sharedKey]
}

/** Makes a store that is already open the one of this process: the server opens it, then starts serving. */
export function shareStore(store: Store): void {
  const shared = globalThis as { [sharedKey]?: Promise<Store> }
  shared[sharedKey] = Promise.resolve(store)
}

// Inside a transaction the plain client would wait for a lock that its own transaction holds, until both time
// out. A flag that follows the asynchronous calls turns that hang into an error at the line that is wrong.
// It cannot be checked further down: Prisma gathers findUnique calls of one tick, whoever made them.

const insideKey = Symbol.for('stand-ledger.inside-transaction')
type Inside = { open: boolean }

function inside(): AsyncLocalStorage<Inside> {
  const shared = globalThis as { [insideKey]?: AsyncLocalStorage<Inside> }
  shared[insideKey] ??= new AsyncLocalStorage<Inside>()
  return shared[insideKey]
}

/** True while the caller runs inside the function given to `transaction`. */
export function isInsideTransaction(): boolean {
  return inside().getStore()?.open === true
}

async function transact<T>(client: PrismaClient, work: (tx: Tx) => Promise<T>): Promise<T> {
  if (isInsideTransaction()) {
    throw new Error('A transaction was begun inside another: hand on its tx instead.')
  }
  const here: Inside = { open: true }
  try {
    return await client.$transaction((tx) => inside().run(here, () => work(tx)), patience)
  } finally {
    here.open = false
  }
}

const outsideOnly = new Set(['$connect', '$disconnect', '$extends', '$on', '$transaction'])

function guarded(client: PrismaClient): Db {
  return guard(client, (key) => {
    if (outsideOnly.has(key)) throw new Error(`Use the store's own functions in place of ${key}.`)
  })
}

function guard<T extends object>(target: T, refuse: (key: string) => void): T {
  const wrapped = new Map<string, unknown>()
  return new Proxy(target, {
    get(_, key) {
      // `then` is asked for by every await, symbols by printing; neither queries anything.
      if (typeof key === 'symbol' || key === 'then') return Reflect.get(target, key)
      if (isInsideTransaction()) {
        throw new Error(`db.${key} was used inside a transaction: use the tx that was handed to it.`)
      }
      refuse(key)
      if (!wrapped.has(key)) wrapped.set(key, guardedMember(target, key))
      return wrapped.get(key)
    },
  })
}

function guardedMember(target: object, key: string): unknown {
  const value = Reflect.get(target, key)
  if (typeof value === 'function') return value.bind(target)
  return typeof value === 'object' && value !== null ? guard(value, () => {}) : value
}
