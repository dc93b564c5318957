import type { Db } from '../data/store'
import { type BikeHead, bikeHead } from './bike-head'
import type { Context } from './deed'
import { refuse } from './refusal'

/* What parts cost, for dealers and managers: read beside what everybody sees. */

export type SupplierShown = {
  id: string
  version: number
  name: string
  contact: string
  carriageMinor: number | null
  minimumMinor: number | null
}

/** What stands on a supplier's list, and how far it is from what is delivered. */
export type ListShown = {
  supplier: SupplierShown
  lines: number
  bikes: number
  /** Of the lines that have a price. */
  goodsMinor: number
  unpriced: number
  /** What is lacking to the least that is delivered; 0 where it is reached or there is none. */
  lackingMinor: number
}

export type PartsMoney = {
  currency: string
  /** Of one, by the id of its line; null where nobody asked. */
  unitMinor: ReadonlyMap<string, number | null>
  /** What those who have work sent out ask for it, by its id. */
  askedOutside: ReadonlyMap<string, number | null>
  suppliers: readonly SupplierShown[]
  /** Those with something on them. */
  lists: readonly ListShown[]
}

export async function readPartsMoney({ store }: Pick<Context, 'store'>): Promise<PartsMoney> {
  const { db } = store
  const [shop, lines, sent, suppliers] = await Promise.all([
    db.shop.findFirstOrThrow({ select: { currency: true } }),
    db.partLine.findMany({ where: { source: { not: 'shelf' } }, select: { id: true, unitMinor: true } }),
    db.sentOut.findMany({ where: { backAt: null }, select: { id: true, amountMinor: true } }),
    readSuppliers(db),
  ])
  const lists = await Promise.all(
    suppliers.map(async (supplier) => listOf(supplier, await linesOf(db, supplier.id))),
  )
  return {
    currency: shop.currency,
    unitMinor: new Map(lines.map(({ id, unitMinor }) => [id, unitMinor])),
    askedOutside: new Map(sent.map(({ id, amountMinor }) => [id, amountMinor])),
    suppliers,
    lists: lists.filter((list) => list.lines > 0),
  }
}

export type OrderLine = {
  id: string
  version: number
  bike: BikeHead
  jobTitle: string
  part: string
  number: string
  source: string
  qty: number
  leadDays: number | null
  neverChance: number | null
  unitMinor: number | null
  /** Of the line; null without a price. */
  sumMinor: number | null
}

export type SupplierList = ListShown & {
  shopName: string
  currency: string
  zone: string
  order: readonly OrderLine[]
  /** The latest first. */
  before: readonly { id: string; day: string; reference: string; parts: number; onTheWay: number }[]
}

/** The list of one supplier across all bikes, as it is sent; refused where there is no such supplier. */
export async function readSupplierList({ store }: Pick<Context, 'store'>, id: string): Promise<SupplierList> {
  const { db } = store
  const [shop, supplier, order, before] = await Promise.all([
    db.shop.findFirstOrThrow({ select: { name: true, currency: true, zone: true } }),
    db.supplier.findUnique({ where: { id } }),
    linesOf(db, id),
    db.partOrder.findMany({
      where: { supplierId: id },
      include: { lines: { select: { state: true } } },
      orderBy: [{ day: 'desc' }, { at: 'desc' }],
      take: 10,
    }),
  ])
  if (!supplier) return refuse('not-found', 'There is no such supplier.')
  return {
    ...listOf(supplier, order),
    shopName: shop.name,
    currency: shop.currency,
    zone: shop.zone,
    order,
    before: before.map(({ id: orderId, day, reference, lines }) => ({
      ...{ id: orderId, day, reference, parts: lines.length },
      onTheWay: lines.filter(({ state }) => state === 'ordered').length,
    })),
  }
}

async function readSuppliers(db: Db): Promise<SupplierShown[]> {
  return db.supplier.findMany({
    select: { id: true, version: true, name: true, contact: true, carriageMinor: true, minimumMinor: true },
    orderBy: { nameKey: 'asc' },
  })
}

async function linesOf(db: Db, supplierId: string): Promise<OrderLine[]> {
  const rows = await db.partLine.findMany({
    where: { supplierId, state: 'to order' },
    include: { bike: { select: bikeHead } },
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
  })
  return rows.map((row) => {
    const { id, version, bike, jobTitle, part, number, source, qty, leadDays, neverChance, unitMinor } = row
    const sumMinor = unitMinor === null ? null : Math.round(qty * unitMinor)
    return {
      ...{ id, version, bike, jobTitle, part, number, source, qty, leadDays, neverChance },
      ...{ unitMinor, sumMinor },
    }
  })
}

function listOf(supplier: SupplierShown, lines: readonly OrderLine[]): ListShown {
  const goodsMinor = lines.reduce((sum, { sumMinor }) => sum + (sumMinor ?? 0), 0)
  const { id, version, name, contact, carriageMinor, minimumMinor } = supplier
  return {
    supplier: { id, version, name, contact, carriageMinor, minimumMinor },
    lines: lines.length,
    bikes: new Set(lines.map(({ bike }) => bike.id)).size,
    goodsMinor,
    unpriced: lines.filter(({ unitMinor }) => unitMinor === null).length,
    lackingMinor: Math.max(0, (minimumMinor ?? 0) - goodsMinor),
  }
}
