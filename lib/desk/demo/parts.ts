import { uuidv7 } from 'uuidv7'
import { addDays } from '../../core/quantity/days'
import type { PartState } from '../../core/work/parts'
import { askPart } from '../../shop/ask-part'
import type { Context } from '../../shop/deed'
import { orderParts } from '../../shop/order-parts'
import { partArrived, partWrong } from '../../shop/part-comes'
import { askOutside, sendOut } from '../../shop/sent-out'
import { putOnShelf } from '../../shop/shelf'
import { addSupplier } from '../../shop/suppliers'
import { must } from './must'
import type { Happening } from './story'

/** Invented, with what a delivery costs and the least they deliver for. */
const suppliers = [
  { name: 'Harle Spares', contact: 'By telephone until five', carriage: '5.90', minimum: '60' },
  { name: 'Oxtarn Parts', contact: 'Orders by their web form', carriage: '7.40', minimum: '80' },
  { name: 'Wexcombe Salvage', contact: 'Call first, closed on Mondays', carriage: '12', minimum: '' },
] as const
export type SupplierName = (typeof suppliers)[number]['name']

/** Whom the invented shop orders from. */
export async function knowSuppliers(context: Context): Promise<void> {
  for (const supplier of suppliers) must(await addSupplier({ id: uuidv7(), ...supplier }, context))
}

type Told = { bike: string; context: Context; today: string }

/** Parts asked for, ordered and come; what goes out and what lies on the shelf. */
export async function tellParts(
  happening: Extract<
    Happening,
    { did: 'ask for part' | 'order parts' | 'part came' | 'part wrong' | 'send out' | 'shelve' }
  >,
  { bike, context, today }: Told,
): Promise<void> {
  const { db } = context.store
  const supplierId = async (name: SupplierName) =>
    (await db.supplier.findFirstOrThrow({ where: { name } })).id
  const linesOf = (where: { supplierId?: string; part?: string }, state: PartState) =>
    db.partLine.findMany({ where: { bikeId: bike, state, ...where }, orderBy: { at: 'asc' } })
  switch (happening.did) {
    case 'ask for part': {
      const { did: _, daysAgo: __, who: ___, of, ...asked } = happening
      must(await askPart({ id: uuidv7(), bike, supplier: await supplierId(of), ...asked }, context))
      return
    }
    case 'order parts': {
      const supplier = await supplierId(happening.of)
      const lines = await linesOf({ supplierId: supplier }, 'to order')
      const seen = lines.map(({ id, version }) => `${id} ${version}`)
      const { carriage, reference = '' } = happening
      const order = { id: uuidv7(), supplier, lines: seen, day: today, carriage, reference }
      must(await orderParts(order, context))
      return
    }
    case 'part came': {
      const [line] = await linesOf({ part: happening.part }, 'ordered')
      must(await partArrived({ line: line?.id, version: line?.version }, context))
      return
    }
    case 'part wrong': {
      const [line] = await linesOf({ part: happening.part }, 'ordered')
      must(await partWrong({ line: line?.id, version: line?.version, note: happening.note }, context))
      return
    }
    case 'send out': {
      const { did: _, daysAgo: __, who: ___, dueIn, amount, ...out } = happening
      const id = uuidv7()
      const dueOn = dueIn === undefined ? '' : addDays(today, dueIn)
      must(await sendOut({ id, bike, sentOn: today, dueOn, ...out }, context))
      if (amount) must(await askOutside({ sent: id, version: 1, amount }, context))
      return
    }
    case 'shelve': {
      const { did: _, daysAgo: __, who: ___, own = true, ...part } = happening
      must(await putOnShelf({ id: uuidv7(), bike: own ? bike : '', ...part }, context))
    }
  }
}
