import { workOutForBoard } from '../core/board/bike-result'
import { type BikeFacts, type BoardRow, boardRow } from '../core/board/row'
import { coreVersion } from '../core/board/version'
import { bodyHash } from '../data/hash'
import type { Db, Store } from '../data/store'
import { bikeWithFacts, readShopFacts, type ShopFacts, toWorkOut } from './facts'
import { notedByBike, readNoted } from './noted-prices'

/**
 * Board rows of all bikes. A row is kept with the hash of what it was worked out from and worked out again when
 * that differs: every change to a bike writes an event, so the number of its last event stands for all of it,
 * the number of the last change to limits, figures or catalogue for all they share, and the versions of the noted
 * prices that count for it. The day stands beside the hash, because tyres and notes grow older by themselves.
 */
export async function readBoardRows(
  store: Store,
  now: Date,
  only: { id?: string } = {},
): Promise<{ rows: BoardRow[]; shop: ShopFacts }> {
  const { db } = store
  const shop = await readShopFacts(db, now)
  const bikes = await db.bike.findMany({
    where: only,
    select: { id: true, makeKey: true, modelKey: true, derived: true },
    orderBy: { viewingNo: 'asc' },
  })
  const noted = notedByBike(await readNoted(db, null))
  const hashes = await inputsHashes(db, { shop, noted })
  const isFresh = (bike: (typeof bikes)[number]) =>
    bike.derived?.asOf === shop.today && bike.derived.inputsHash === hashes(bike)

  const stale = bikes.filter((bike) => !isFresh(bike)).map((bike) => bike.id)
  const anew = await workOutRows(store, { ids: stale, shop, noted, now, hashes })
  const rows = bikes.flatMap((bike) => {
    const row = anew.get(bike.id) ?? (bike.derived && (JSON.parse(bike.derived.body) as BoardRow))
    return row ? [row] : []
  })
  return { rows, shop }
}

const sharedVerbs = ['limit:set', 'figures:change', 'shop:change', 'catalogue:change', 'shop:open']

type HashedBike = { id: string; makeKey: string; modelKey: string }
type Noted = ReturnType<typeof notedByBike>

async function inputsHashes(
  db: Db,
  { shop, noted }: { shop: ShopFacts; noted: Noted },
): Promise<(bike: HashedBike) => string> {
  const [perBike, shared] = await Promise.all([
    db.event.groupBy({ by: ['bikeId'], _max: { seq: true }, where: { bikeId: { not: null } } }),
    db.event.aggregate({ _max: { seq: true }, where: { verb: { in: sharedVerbs } } }),
  ])
  const last = new Map(perBike.map((row) => [row.bikeId, row._max.seq]))
  const sharedSeq = shared._max.seq
  return (bike) =>
    bodyHash({
      bikeId: bike.id,
      seq: last.get(bike.id) ?? 0,
      sharedSeq,
      figuresNo: shop.figuresNo,
      noted: noted(bike).map(({ id, version }) => `${id} ${version}`),
      coreVersion,
    })
}

type Batch = {
  ids: readonly string[]
  shop: ShopFacts
  noted: Noted
  now: Date
  hashes: (bike: HashedBike) => string
}

async function workOutRows(
  store: Store,
  { ids, shop, noted, now, hashes }: Batch,
): Promise<Map<string, BoardRow>> {
  const rows = new Map<string, BoardRow>()
  if (ids.length === 0) return rows
  const { db } = store
  const [bikes, ownLimits] = await Promise.all([
    db.bike.findMany({ where: { id: { in: [...ids] } }, include: bikeWithFacts }),
    db.limit.findMany({ where: { bikeId: { in: [...ids] }, scope: 'bike', withdrawnAt: null } }),
  ])
  for (const bike of bikes) {
    const limits = ownLimits.filter((limit) => limit.bikeId === bike.id)
    const { id, viewingNo, stockNo, stage } = bike
    const facts: BikeFacts = { id, viewingNo, stockNo, stage }
    const row = boardRow(
      workOutForBoard(toWorkOut(bike, { shop, ownLimits: limits, noted: noted(bike), now })),
      facts,
    )
    rows.set(bike.id, row)
    await keepRow(store, { row, inputsHash: hashes(bike), asOf: shop.today, now })
    // Another request gets its turn between two bikes: one that nobody has looked at takes some tenths of a second.
    await new Promise((resolve) => setImmediate(resolve))
  }
  return rows
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

/** Forgets every kept row: done at start, since a new build may calculate differently. */
export async function forgetDerived(store: Store): Promise<void> {
  await store.db.derived.deleteMany()
}
