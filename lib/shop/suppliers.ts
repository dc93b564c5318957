import { z } from 'zod'
import { typedMoney } from '../core/quantity/typed-money'
import type { Tx } from '../data/store'
import { deed, requireFresh } from './deed'
import { idOf, lineOf, lineOrNull, moneyOrNull, most, searchKey, versionOf } from './fields'
import { refuse, refuseField } from './refusal'

/* Whom the shop orders parts from, and on what terms. */

const facts = {
  name: lineOf(most.name, 'Say who it is.').refine(
    (name) => searchKey(name) !== '',
    'Give a name in letters.',
  ),
  /** How they are reached. */
  contact: lineOrNull(most.line),
  /** What one delivery costs. */
  carriage: moneyOrNull,
  /** The least worth of goods that is delivered. */
  minimum: moneyOrNull,
}

export const addSupplierInput = z.strictObject({ id: idOf, ...facts })

export const addSupplier = deed('part:order', addSupplierInput, async ({ id, ...typed }, inside) => {
  const { tx, now, who } = inside
  if (await tx.supplier.findUnique({ where: { id } })) refuse('rule', 'This is written down already.')
  const columns = await columnsOf(tx, { typed, but: id })
  await tx.supplier.create({ data: { id, ...columns, personId: who.personId, at: now } })
  return { answer: { supplier: id }, event: { bikeId: null, body: { did: 'supplier', ...columns } } }
})

export const changeSupplierInput = z.strictObject({ supplier: idOf, version: versionOf, ...facts })

export const changeSupplier = deed('part:order', changeSupplierInput, async (input, { tx }) => {
  const { supplier: id, version, ...typed } = input
  const before = await supplierAsked(tx, id)
  const columns = await columnsOf(tx, { typed, but: id })
  const { count } = await tx.supplier.updateMany({
    where: { id, version },
    data: { ...columns, version: { increment: 1 } },
  })
  requireFresh(count, {
    version: String(before.version),
    name: before.name,
    contact: before.contact,
    carriage: typedMoney(before.carriageMinor),
    minimum: typedMoney(before.minimumMinor),
  })
  return { answer: { supplier: id }, event: { bikeId: null, body: { did: 'supplier changed', ...columns } } }
})

/** The supplier by its id; refused where there is none. */
export async function supplierAsked(tx: Tx, id: string) {
  return (
    (await tx.supplier.findUnique({ where: { id } })) ?? refuse('not-found', 'That supplier is not there.')
  )
}

type Typed = Omit<z.output<typeof addSupplierInput>, 'id'>

async function columnsOf(tx: Tx, { typed, but }: { typed: Typed; but: string }) {
  const { name, contact, carriage, minimum } = typed
  const nameKey = searchKey(name)
  const same = await tx.supplier.findUnique({ where: { nameKey } })
  if (same && same.id !== but) refuseField('name', 'There is one of that name. Choose it from the list.')
  return { name, nameKey, contact: contact ?? '', carriageMinor: carriage, minimumMinor: minimum }
}
