import type { BikeFacts, BoardRow } from '../core/board/row'
import { coreVersion } from '../core/board/version'
import { bodyHash } from '../data/hash'
import type { Db, Store } from '../data/store'
import { isAsideThere, reckonAside } from './aside'
import { bikeWithFacts, readShopFacts, type ShopFacts } from './facts'
import { notedByBike, readNoted } from './noted-prices'
import { otherWaysOf } from './other-ways-of'
import { toWorkOut } from './to-work-out'

/**
 * How far a row's figures can be trusted: they are of now; they are what was kept, and are being worked out again or
 * for the first time; or that failed.
 */
export type RowState = 'now' | 'again' | 'first' | 'failed'

type Worked = 'hoursMean' | 'costMean' | 'daysToReady'
/** A row as a page shows it; one that was never worked out has no figures. */
export type RowShown = Omit<BoardRow, Worked> & { [figure in Worked]: BoardRow[figure] | null } & {
  state: RowState
}

/**
 * Board rows of all bikes. A row is kept with the hash of what it was worked out from and worked out again when
 * that differs: every change to a bike writes an event, so the number of its last event stands for all of it,
 * the number of the last change to limits, figures or catalogue for all they share, the versions of the noted
 * prices that count for it, and the days by which the bench plan has it ready. The day stands beside the hash, because tyres and notes grow older by themselves.
 * Where somebody reckons beside the pages nobody waits for them: what is kept is shown and marked.
 */
export async function readBoardRows(store: Store, now: Date): Promise<{ rows: RowShown[]; shop: ShopFacts }> {
  const read = await readKept(store, now, {})
  const { bikes, stale, batch, shop } = read
  if (!isAsideThere()) return { rows: await allWorkedOut(store, read), shop }
  workOutAhead(store, batch, stale)
  const failed = new Set(underWay(store).failed.keys())
  const rows = bikes.map((bike): RowShown => {
    const kept = keptRow(bike)
    if (!stale.includes(bike)) return { ...kept!, state: 'now' }
    const state = failed.has(keyOf(bike, batch)) ? 'failed' : kept ? 'again' : 'first'
    return { ...(kept ?? withoutFigures), ...factsOf(bike), state }
  })
  return { rows, shop }
}

/** The row of one bike, worked out before it is shown where it has to be. */
export async function readBoardRow(
  store: Store,
  { bikeId, now }: { bikeId: string; now: Date },
): Promise<BoardRow> {
  const [row] = await allWorkedOut(store, await readKept(store, now, { id: bikeId }))
  if (!row) throw new Error(`no row was worked out for ${bikeId}`)
  return row
}

/** Has every row that is out of step worked out beside the pages, before anybody asks for it. */
export async function refreshBoardRows(store: Store, now: Date): Promise<void> {
  const { stale, batch } = await readKept(store, now, {})
  workOutAhead(store, batch, stale)
}

/** Forgets every kept row: done at start, since a new build may calculate differently. */
export async function forgetDerived(store: Store): Promise<void> {
  await store.db.derived.deleteMany()
}

const bikeOfRow = {
  ...{ id: true, viewingNo: true, stockNo: true, stage: true },
  ...{ makeKey: true, modelKey: true, derived: true, plannedReady: true },
} as const

type KeptBike = Awaited<ReturnType<typeof readKept>>['bikes'][number]
/** What the rows of one reading share. */
type Batch = {
  shop: ShopFacts
  noted: ReturnType<typeof notedByBike>
  now: Date
  hashes: (bike: HashedBike) => string
}

async function readKept(store: Store, now: Date, only: { id?: string }) {
  const { db } = store
  // First of all: what is read after it can only be newer, and is then worked out once more.
  const events = await lastEvents(db)
  const shop = await readShopFacts(db, now)
  const noted = notedByBike(await readNoted(db, null))
  const hashes = inputsHashes(events, { shop, noted })
  const bikes = await db.bike.findMany({ where: only, select: bikeOfRow, orderBy: { viewingNo: 'asc' } })
  const stale = bikes.filter(
    (bike) => bike.derived?.asOf !== shop.today || bike.derived.inputsHash !== hashes(bike),
  )
  const batch: Batch = { shop, noted, now, hashes }
  return { bikes, stale, shop, batch }
}

function keptRow({ derived }: Pick<KeptBike, 'derived'>): BoardRow | null {
  return derived && (JSON.parse(derived.body) as BoardRow)
}

function factsOf({ id, viewingNo, stockNo, stage }: BikeFacts): BikeFacts {
  return { id, viewingNo, stockNo, stage }
}

/** What stands in the place of figures that nobody has worked out yet. */
const withoutFigures = {
  price: null,
  marginMean: null,
  marginLow: null,
  marginHigh: null,
  chanceOfLoss: null,
  walkAway: null,
  gainFromGoingOn: null,
  leftAfterKeep: null,
  daysToReady: null,
  daysToSold: null,
  hoursMean: null,
  marginPerBenchHour: null,
  gainPerBenchHour: null,
  costMean: null,
  stops: 0,
  musts: 0,
  openChecks: 0,
  holdUp: '',
} satisfies Omit<RowShown, keyof BikeFacts | 'state'>

const sharedVerbs = ['limit:set', 'figures:change', 'shop:change', 'catalogue:change', 'shop:open']

type HashedBike = { id: string; makeKey: string; modelKey: string; plannedReady: object | null }

async function lastEvents(db: Db) {
  const [perBike, shared] = await Promise.all([
    db.event.groupBy({ by: ['bikeId'], _max: { seq: true }, where: { bikeId: { not: null } } }),
    db.event.aggregate({ _max: { seq: true }, where: { verb: { in: sharedVerbs } } }),
  ])
  return { ofBike: new Map(perBike.map((row) => [row.bikeId, row._max.seq])), shared: shared._max.seq }
}

function inputsHashes(
  events: Awaited<ReturnType<typeof lastEvents>>,
  { shop, noted }: Pick<Batch, 'shop' | 'noted'>,
): (bike: HashedBike) => string {
  return (bike) =>
    bodyHash({
      bikeId: bike.id,
      seq: events.ofBike.get(bike.id) ?? 0,
      sharedSeq: events.shared,
      figuresNo: shop.figuresNo,
      noted: noted(bike).map(({ id, version }) => `${id} ${version}`),
      planned: bike.plannedReady,
      coreVersion,
    })
}

/** Every row as it is now; nobody is answered before. */
async function allWorkedOut(
  store: Store,
  { bikes, stale, batch }: { bikes: KeptBike[]; stale: KeptBike[]; batch: Batch },
): Promise<(BoardRow & { state: 'now' })[]> {
  const rows: (BoardRow & { state: 'now' })[] = []
  for (const bike of bikes) {
    const row = stale.includes(bike) ? await workOutRow(store, batch, bike) : keptRow(bike)
    if (row) rows.push({ ...row, state: 'now' })
  }
  return rows
}

/** One bike's row, worked out and kept; null where the bike is gone. */
async function workOutRow(
  store: Store,
  { shop, noted, now, hashes }: Batch,
  { id }: HashedBike,
): Promise<BoardRow | null> {
  const { db } = store
  const [bike, ownLimits] = await Promise.all([
    db.bike.findUnique({ where: { id }, include: { ...bikeWithFacts, otherWays: true } }),
    db.limit.findMany({ where: { bikeId: id, scope: 'bike', withdrawnAt: null } }),
  ])
  if (!bike) return null
  const row = await reckonAside('board-row', {
    facts: factsOf(bike),
    bike: toWorkOut(bike, { shop, ownLimits, noted: noted(bike), now }),
    noted: otherWaysOf(bike.otherWays),
  })
  await keepRow(store, { row, inputsHash: hashes(bike), asOf: shop.today, now })
  // Another request gets its turn between two bikes, also where they are worked out in this thread.
  await new Promise((resolve) => setImmediate(resolve))
  return row
}

async function keepRow(
  store: Store,
  { row, inputsHash, asOf, now }: { row: BoardRow; inputsHash: string; asOf: string; now: Date },
): Promise<void> {
  const whole = (value: number | null) => (value === null ? null : Math.round(value))
  const kept = {
    inputsHash,
    asOf,
    body: JSON.stringify(row),
    marginMinor: whole(row.marginMean),
    perHourMinor: whole(row.marginPerBenchHour),
    chanceOfLoss: row.chanceOfLoss,
    at: now,
  }
  await store.db.derived.upsert({
    where: { bikeId: row.id },
    create: { bikeId: row.id, ...kept },
    update: kept,
  })
}

// What is being worked out beside the pages, so that a page which asks again and again has it done once. Next loads
// this module several times in one process, hence globalThis.

type UnderWay = {
  /** By bike and inputs' hash. */
  begun: Set<string>
  failed: Map<string, unknown>
  /** Ends with the last that was begun. */
  until: Promise<void>
}

const underWayKey = Symbol.for('stand-ledger.rows-under-way')

function underWay(store: Store): UnderWay {
  const shared = globalThis as { [underWayKey]?: WeakMap<Store, UnderWay> }
  shared[underWayKey] ??= new WeakMap()
  const known = shared[underWayKey].get(store)
  if (known) return known
  const none: UnderWay = { begun: new Set(), failed: new Map(), until: Promise.resolve() }
  shared[underWayKey].set(store, none)
  return none
}

function keyOf(bike: HashedBike, { shop, hashes }: Batch): string {
  return `${bike.id} ${shop.today} ${hashes(bike)}`
}

/** Begins what is neither begun nor failed; a bike that failed is tried again when something about it changed. */
function workOutAhead(store: Store, batch: Batch, bikes: readonly HashedBike[]): void {
  const state = underWay(store)
  const todo = bikes.filter((bike) => {
    const key = keyOf(bike, batch)
    return !state.begun.has(key) && !state.failed.has(key)
  })
  if (todo.length === 0) return
  for (const bike of todo) state.begun.add(keyOf(bike, batch))
  const each = async () => {
    for (const bike of todo) {
      const key = keyOf(bike, batch)
      try {
        // The server that closes takes its thread away: nothing is begun any more.
        if (isAsideThere()) await workOutRow(store, batch, bike)
      } catch (error) {
        if (isAsideThere()) {
          state.failed.set(key, error)
          console.error(error)
        }
      } finally {
        state.begun.delete(key)
      }
    }
  }
  state.until = Promise.all([state.until, each()]).then(() => {})
}

/** Resolves when no row is being worked out beside the pages any more. */
export async function rowsWorkedOut(store: Store): Promise<void> {
  let until: Promise<void>
  do {
    until = underWay(store).until
    await until
  } while (until !== underWay(store).until)
}
