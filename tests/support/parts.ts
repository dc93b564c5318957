import { uuidv7 } from 'uuidv7'
import { askPart } from '../../lib/shop/ask-part'
import { orderParts } from '../../lib/shop/order-parts'
import { partWrong } from '../../lib/shop/part-comes'
import { sendOut } from '../../lib/shop/sent-out'
import { putOnShelf } from '../../lib/shop/shelf'
import { addSupplier } from '../../lib/shop/suppliers'
import { onTheBench } from './on-the-bench'
import { done, type OpenShop, testDay } from './open-shop'

/* Parts as the forms send them: text by the name of its field. Suppliers and prices are invented. */

export async function supplierOf(shop: OpenShop, over: Record<string, string> = {}): Promise<string> {
  const terms = { name: 'Harle Spares', contact: '', carriage: '6.50', minimum: '40', ...over }
  return done(await addSupplier({ id: uuidv7(), ...terms }, shop.dealer)).supplier
}

/** What the form for a part sends: four intake boots for a bike on the bench. */
export function asking(of: { bike: string; supplier: string }, over: Record<string, unknown> = {}) {
  return {
    ...{ id: uuidv7(), job: 'intake-boots', part: 'Intake boot', qty: '4', ...of },
    ...{ source: 'pattern', number: 'HS-4410', price: '12.40', leadDays: '5', neverShare: '', ...over },
  }
}

/** A bike on the bench with four boots on a supplier's list. */
export async function asked(shop: OpenShop, over: Record<string, unknown> = {}) {
  const { bike, viewingNo } = await onTheBench(shop)
  const supplier = await supplierOf(shop)
  const { line } = done(await askPart(asking({ bike, supplier }, over), shop.dealer))
  return { bike, viewingNo, supplier, line }
}

/** What the form of an order sends, for lines as they were first put on the list. */
export function ordering(supplier: string, lines: readonly string[]) {
  return {
    ...{ id: uuidv7(), supplier, lines: lines.map((line) => `${line} 1`), day: testDay },
    ...{ carriage: '6.50', reference: 'by telephone' },
  }
}

export async function ordered(shop: OpenShop, over: Record<string, unknown> = {}) {
  const one = await asked(shop, over)
  done(await orderParts(ordering(one.supplier, [one.line]), shop.dealer))
  return one
}

export async function cameWrong(shop: OpenShop) {
  const one = await ordered(shop)
  done(await partWrong({ line: one.line, version: 2, note: 'For the 900' }, shop.technician))
  return one
}

/** What the form for work that goes out sends. */
export function sending(bike: string, over: Record<string, string> = {}) {
  return {
    ...{ id: uuidv7(), bike, job: 'fork-tubes', what: 'Both fork tubes', whoHas: 'Sallow Plating' },
    ...{ sentOn: testDay, dueOn: '2026-12-09', note: '', ...over },
  }
}

export async function isOut(shop: OpenShop, over: Record<string, string> = {}) {
  const { bike, viewingNo } = await onTheBench(shop)
  const { sent } = done(await sendOut(sending(bike, over), shop.technician))
  return { bike, viewingNo, sent }
}

/** What the form for the shelf sends: four boots off a bike. */
export function shelving(bike: string, over: Record<string, string> = {}) {
  return {
    ...{ id: uuidv7(), bike, what: 'Intake boot', number: '', qty: '4', condition: 'used' },
    ...{ fitsMake: 'Calder', fitsModel: '600 four', place: 'Box 12' },
    ...{ story: 'Off a Calder 600 with a bent frame; soft, no cracks', ...over },
  }
}

export async function shelved(shop: OpenShop, over: Record<string, string> = {}) {
  const { bike, viewingNo } = await onTheBench(shop)
  const { shelf } = done(await putOnShelf(shelving(bike, over), shop.technician))
  return { bike, viewingNo, shelf }
}
