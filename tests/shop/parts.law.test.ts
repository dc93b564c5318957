import fc from 'fast-check'
import { uuidv7 } from 'uuidv7'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { workOut } from '../../lib/core/board/bike-result'
import { checkChain } from '../../lib/data/events'
import { askPart, takeOffList } from '../../lib/shop/ask-part'
import { decide } from '../../lib/shop/decide'
import { readToWorkOut } from '../../lib/shop/facts'
import { orderParts } from '../../lib/shop/order-parts'
import { partArrived, partNever, partWrong, settleWrong } from '../../lib/shop/part-comes'
import { readPartsNeeded } from '../../lib/shop/parts-needed'
import { backOnShelf, fitFromShelf, putOnShelf } from '../../lib/shop/shelf'
import { onTheBench } from '../support/on-the-bench'
import { done, type OpenShop, openTestShop } from '../support/open-shop'
import { asking, shelving, supplierOf } from '../support/parts'

/*
 * Any sequence of deeds about the parts of one job against a model that keeps three numbers and a list of what each
 * line is worth. Nothing is read from the program but what it tells.
 */

const needed = 6
const job = 'own-levers'
const ofJob = { job, part: 'Lever' }
const listPrice = 2500

let shop: OpenShop
beforeAll(async () => {
  shop = await openTestShop()
})
afterAll(() => shop.dispose())

type Deed =
  | { do: 'ask'; qty: number; price: number | null }
  | { do: 'order'; carriage: number }
  | { do: 'arrive'; pick: number; short: boolean }
  | { do: 'wrong' | 'never' | 'off' | 'back'; pick: number }
  | { do: 'settle'; pick: number; kept: boolean }
  | { do: 'shelf'; qty: number }

const pick = fc.nat(20)
const deeds: fc.Arbitrary<Deed[]> = fc.array(
  fc.oneof(
    fc.record({
      do: fc.constant('ask' as const),
      qty: fc.integer({ min: 1, max: 8 }),
      price: fc.option(fc.integer({ min: 1, max: 9000 })),
    }),
    fc.record({ do: fc.constant('order' as const), carriage: fc.constantFrom(0, 590, 1001) }),
    fc.record({ do: fc.constant('arrive' as const), pick, short: fc.boolean() }),
    fc.record({
      do: fc.constantFrom('wrong' as const, 'never' as const, 'off' as const, 'back' as const),
      pick,
    }),
    fc.record({ do: fc.constant('settle' as const), pick, kept: fc.boolean() }),
    fc.record({ do: fc.constant('shelf' as const), qty: fc.integer({ min: 1, max: 3 }) }),
  ),
  { minLength: 4, maxLength: 14 },
)

type Line = { id: string; qty: number; price: number | null; carriage: number; state: string; shelf: boolean }

it('keeps what is needed = ordered + in the box + from the shelf + still to order, and counts no price twice', async () => {
  await fc.assert(
    fc.asyncProperty(deeds, async (sequence) => {
      const { bike } = await onTheBench(shop)
      const { db } = shop.store
      const supplier = await supplierOf(shop, { name: `Supplier ${uuidv7()}` })
      const own = { title: 'Levers', hours: 1, parts: [{ name: 'Lever', qty: needed, unitCost: listPrice }] }
      const decision = { id: uuidv7(), kind: 'add-job', key: job, reason: 'Bent', own }
      done(await decide({ bike, decision }, shop.dealer))
      const shelf = shelving(bike, { what: 'Lever', qty: '100' })
      done(await putOnShelf(shelf, shop.technician))
      const lines: Line[] = []
      let spent = 0
      const worth = ({ qty, price, carriage }: Line) => (price === null ? 0 : qty * price + carriage)
      const version = async (id: string) => (await db.partLine.findUniqueOrThrow({ where: { id } })).version
      const chosen = (states: readonly string[], at: number, where = (_: Line) => true) => {
        const some = lines.filter((line) => states.includes(line.state) && where(line))
        return some.length === 0 ? null : some[at % some.length]!
      }
      for (const deed of sequence) await act(deed)

      async function act(deed: Deed): Promise<void> {
        if (deed.do === 'ask') {
          const asked = asking({ bike, supplier }, { ...ofJob, qty: `${deed.qty}`, price: deed.price })
          done(await askPart(asked, shop.dealer))
          const line = { id: asked.id, qty: deed.qty, price: deed.price, carriage: 0, state: 'to order' }
          lines.push({ ...line, shelf: false })
        } else if (deed.do === 'order') {
          const listed = lines.filter(({ state }) => state === 'to order')
          if (listed.length === 0) return
          const seen = await Promise.all(listed.map(async ({ id }) => `${id} ${await version(id)}`))
          const sent = { id: uuidv7(), supplier, lines: seen, day: '2026-11-25', reference: '' }
          done(await orderParts({ ...sent, carriage: deed.carriage }, shop.dealer))
          const rows = await db.partLine.findMany({ where: { id: { in: listed.map(({ id }) => id) } } })
          const shares = rows.map(({ carriageMinor }) => carriageMinor ?? 0)
          expect(shares.reduce((sum, one) => sum + one, 0)).toBe(deed.carriage)
          for (const line of listed) {
            line.state = 'ordered'
            line.carriage = rows.find(({ id }) => id === line.id)!.carriageMinor!
          }
        } else if (deed.do === 'arrive') {
          const line = chosen(['ordered'], deed.pick)
          if (!line) return
          const came = deed.short && line.qty > 1 ? 1 : line.qty
          const said = { line: line.id, version: await version(line.id), qty: `${came}` }
          done(await partArrived(said, shop.technician))
          if (came < line.qty) {
            const known = lines.map(({ id }) => id)
            const rest = await db.partLine.findFirstOrThrow({
              where: { bikeId: bike, state: 'ordered', id: { notIn: known } },
            })
            lines.push({ ...line, id: rest.id, qty: line.qty - came, carriage: 0 })
          }
          Object.assign(line, { state: 'arrived', qty: came })
          spent += worth(line)
        } else if (deed.do === 'wrong') {
          const line = chosen(['ordered', 'arrived'], deed.pick, ({ shelf: off }) => !off)
          if (!line) return
          const said = { line: line.id, version: await version(line.id), note: 'Another' }
          done(await partWrong(said, shop.technician))
          if (line.state === 'arrived') spent -= worth(line)
          line.state = 'wrong'
        } else if (deed.do === 'settle') {
          const line = chosen(['wrong'], deed.pick)
          if (!line) return
          const outcome = deed.kept ? 'kept' : 'sent back'
          const said = { line: line.id, version: await version(line.id), outcome, note: '' }
          done(await settleWrong(said, shop.dealer))
          if (deed.kept) spent += worth(line)
          line.state = outcome
        } else if (deed.do === 'never') {
          const line = chosen(['to order', 'ordered'], deed.pick)
          if (!line) return
          const said = { line: line.id, version: await version(line.id), note: 'No longer made' }
          done(await partNever(said, shop.dealer))
          line.state = 'never'
        } else if (deed.do === 'off') {
          const line = chosen(['to order', 'ordered'], deed.pick)
          if (!line) return
          const said = { line: line.id, version: await version(line.id), reason: 'Not wanted' }
          done(await takeOffList(said, shop.dealer))
          line.state = 'taken off'
        } else if (deed.do === 'shelf') {
          const use = { id: uuidv7(), shelf: shelf.id, bike, ...ofJob, qty: `${deed.qty}` }
          done(await fitFromShelf(use, shop.technician))
          const line = { id: use.id, qty: deed.qty, price: null, carriage: 0, state: 'arrived' }
          lines.push({ ...line, shelf: true })
        } else {
          const line = chosen(['arrived'], deed.pick, ({ shelf: off }) => off)
          if (!line) return
          done(await backOnShelf({ line: line.id, version: await version(line.id) }, shop.technician))
          line.state = 'taken off'
        }
      }

      const sum = (of: (line: Line) => boolean) => lines.filter(of).reduce((total, { qty }) => total + qty, 0)
      const ordered = sum(({ state }) => state === 'ordered')
      const arrived = sum(({ state, shelf: off }) => state === 'arrived' && !off)
      const fromShelf = sum(({ state, shelf: off }) => state === 'arrived' && off)
      const lacking = needed - ordered - arrived - fromShelf
      const { bikes } = await readPartsNeeded(db, { now: shop.dealer.now, bikeIds: [bike] })
      const [told] = bikes[0]!.jobs.find((one) => one.job === job)!.parts
      expect(told).toMatchObject({
        ...{ qty: needed, ordered, arrived, fromShelf },
        ...{ toOrder: Math.max(0, lacking), over: Math.max(0, -lacking) },
      })

      const { input } = await readToWorkOut(db, { bikeId: bike, now: shop.dealer.now })
      expect(input.spentMinor).toBe(spent)
      // Of the price still to come: what is asked for or on its way with a price, and the list's for what nobody asked.
      const isPriced = ({ state, price }: Line) =>
        (state === 'to order' || state === 'ordered') && price !== null
      const asked = lines.filter(isPriced).reduce((total, line) => total + worth(line), 0)
      const isCovered = (line: Line) =>
        isPriced(line) || (line.state === 'arrived' && (line.shelf || line.price !== null))
      const rest = Math.max(0, needed - sum(isCovered)) * listPrice
      const parts = workOut(input).estimateInput.jobs.find(({ key }) => key === job)!.parts
      expect(parts.reduce((total, { qty, unitCost }) => total + qty * (unitCost as number), 0)).toBe(
        asked + rest,
      )
      expect(await checkChain(db)).toMatchObject({ ok: true })
    }),
    { numRuns: 12, endOnFailure: true },
  )
})
