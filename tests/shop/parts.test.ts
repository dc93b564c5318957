import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { workOut } from '../../lib/core/board/bike-result'
import { checkChain } from '../../lib/data/events'
import { askPart, changeAsked, takeOffList } from '../../lib/shop/ask-part'
import { decide } from '../../lib/shop/decide'
import { readBoardRow } from '../../lib/shop/derived'
import { readToWorkOut } from '../../lib/shop/facts'
import { finishJob } from '../../lib/shop/job-runs'
import { orderParts } from '../../lib/shop/order-parts'
import {
  notAtHand,
  partArrived,
  partAtHand,
  partNever,
  partWrong,
  settleWrong,
} from '../../lib/shop/part-comes'
import { partsAwaited } from '../../lib/shop/parts-awaited'
import { readStory } from '../../lib/shop/read-story'
import { askOutside, cameBack, sendOut } from '../../lib/shop/sent-out'
import { backOnShelf, fitFromShelf, putOnShelf, takeOffShelf } from '../../lib/shop/shelf'
import { priceSpend, takeBackSpend } from '../../lib/shop/spends'
import { stages } from '../../lib/shop/stage-names'
import { begin, onTheBench } from '../support/on-the-bench'
import { done, type OpenShop, openTestShop, refused, testDay } from '../support/open-shop'
import { asking, ordering, sending, shelving, supplierOf } from '../support/parts'

let shop: OpenShop
let bike: string
let viewingNo: number
let supplier: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await onTheBench(shop))
  supplier = await supplierOf(shop)
  await take('intake-boots')
})
afterEach(() => shop.dispose())

const take = async (key: string, of = bike) => {
  const decision = { id: uuidv7(), kind: 'add-job', key, reason: 'It needs it' }
  done(await decide({ bike: of, decision }, shop.dealer))
}
/** A job that a person described, so that no chance asks for it once it is done. */
const levers = 'own-levers'
/** An id made at an instant, as a tablet makes it: whether a decision came before the work is told by it. */
const idMadeAt = (at: Date) => {
  const time = at.getTime().toString(16).padStart(12, '0')
  return `${time.slice(0, 8)}-${time.slice(8)}${uuidv7().slice(13)}`
}
const takeLevers = async (context = shop.dealer) => {
  const part = { name: 'Lever', qty: 2, unitCost: 2500 }
  const own = { title: 'Levers renewed', hours: 0.5, parts: [part] }
  const decision = { id: idMadeAt(context.now), kind: 'add-job', key: levers, reason: 'Bent', own }
  done(await decide({ bike, decision }, context))
}
const ofLevers = { job: levers, part: 'Lever', qty: '2', number: '' }
const ask = async (over: Record<string, unknown> = {}) =>
  done(await askPart(asking({ bike, supplier }, over), shop.dealer)).line
const order = async (...lines: string[]) => done(await orderParts(ordering(supplier, lines), shop.dealer))
const row = (id: string) => shop.store.db.partLine.findUniqueOrThrow({ where: { id } })
const spends = () => shop.store.db.spend.findMany({ orderBy: { at: 'asc' } })
const awaited = async () => {
  const all = await partsAwaited(shop.store.db, [bike], shop.dealer.now)
  return all.get(bike)!
}
const boots = async () => (await awaited()).parts.get('intake-boots')![0]!
const input = async () => (await readToWorkOut(shop.store.db, { bikeId: bike, now: shop.dealer.now })).input
const priced = async (key = 'intake-boots') => {
  const { estimateInput } = workOut(await input())
  return estimateInput.jobs.find((job) => job.key === key)
}

describe('a part that a job needs', () => {
  test('is to order until it is ordered, then due after its lead time, then in the box', async () => {
    expect(await boots()).toEqual({
      ...{ part: 'Intake boot', qty: 4, state: 'to order', dueOn: null, leadDays: null, neverChance: null },
    })
    const line = await ask({ neverShare: '30' })
    expect(await boots()).toMatchObject({ state: 'to order', leadDays: 5, neverChance: 0.3 })
    await order(line)
    expect(await boots()).toMatchObject({ state: 'ordered', dueOn: '2026-11-30', leadDays: null })
    done(await partArrived({ line, version: 2 }, shop.technician))
    expect(await boots()).toMatchObject({ state: 'arrived', dueOn: null, neverChance: null })
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test('that comes in two deliveries is on its way until the second is there', async () => {
    const line = await ask()
    await order(line)
    done(await partArrived({ line, version: 2, qty: '3' }, shop.technician))
    expect(await boots()).toMatchObject({ state: 'ordered', dueOn: '2026-11-30' })
    const rest = await shop.store.db.partLine.findFirstOrThrow({ where: { state: 'ordered' } })
    expect(rest).toMatchObject({ qty: 1, carriageMinor: 0, spendId: null })
    done(await partArrived({ line: rest.id, version: 1 }, shop.technician))
    expect(await boots()).toMatchObject({ state: 'arrived' })
    expect((await spends()).map(({ amountMinor }) => amountMinor)).toEqual([3 * 1240 + 650, 1240])
    const more = refused(await partArrived({ line, version: 3, qty: '1' }, shop.technician))
    expect(more.message).toContain('not on its way')
  })

  test('that came wrong asks for a new order and is no longer spent', async () => {
    const line = await ask()
    await order(line)
    done(await partArrived({ line, version: 2 }, shop.technician))
    expect(await spends()).toMatchObject([{ withdrawnAt: null }])
    done(await partWrong({ line, version: 3, note: 'For the 900' }, shop.technician))
    expect(await boots()).toMatchObject({ state: 'wrong' })
    expect((await spends())[0]!.withdrawnAt).not.toBeNull()
    const anew = await ask()
    expect(await boots()).toMatchObject({ state: 'to order', leadDays: 5 })
    await order(anew)
    expect(await boots()).toMatchObject({ state: 'ordered' })
    done(await settleWrong({ line, version: 4, outcome: 'kept', note: '' }, shop.dealer))
    expect((await spends()).filter(({ withdrawnAt }) => withdrawnAt === null)).toMatchObject([
      { amountMinor: 4 * 1240 + 650 },
    ])
  })

  test('that the shop always has is in the box without an order, and its cost stays in the estimate', async () => {
    const had = { id: uuidv7(), bike, job: 'intake-boots', part: 'Intake boot', qty: '4' }
    done(await partAtHand(had, shop.technician))
    expect(await boots()).toMatchObject({ state: 'arrived' })
    expect((await priced())!.parts).toMatchObject([{ qty: 4, unitCost: { likely: 1400 } }])
    expect(await spends()).toEqual([])
    const wrong = { line: had.id, version: 1, note: 'Perished' }
    expect(refused(await partWrong(wrong, shop.technician)).kind).toBe('rule')
    done(await notAtHand({ line: had.id, version: 1 }, shop.technician))
    expect(await boots()).toMatchObject({ state: 'to order' })
  })

  test('that will not come is looked for elsewhere', async () => {
    const line = await ask()
    await order(line)
    done(await partNever({ line, version: 2, note: 'No longer made' }, shop.dealer))
    expect(await boots()).toMatchObject({ state: 'never', dueOn: null })
    await shop.store.db.partLine.update({
      where: { id: line },
      data: { at: new Date('2026-11-24T12:00:00Z') },
    })
    await ask({ source: 'used' })
    expect(await boots()).toMatchObject({ state: 'to order' })
  })

  test('is needed again where its job is, once the job was done', async () => {
    await takeLevers()
    const line = await ask(ofLevers)
    await order(line)
    done(await partArrived({ line, version: 2 }, shop.technician))
    const run = await begin(shop, { bike, job: levers })
    done(await finishJob({ run, version: 1 }, shop.at(shop.technician, '2026-11-25T14:00:00Z')))
    expect((await awaited()).parts.get(levers)).toBeUndefined()
    await takeLevers(shop.at(shop.dealer, '2026-11-25T15:00:00Z'))
    expect((await awaited()).parts.get(levers)).toMatchObject([{ part: 'Lever', state: 'to order' }])
  })

  test.each(['Tyre', 'Pad set', 'Shoe set', 'Hose and clips'])('is never got used: %s', async (part) => {
    const said = refused(await askPart(asking({ bike, supplier }, { part, source: 'used' }), shop.dealer))
    expect(said.fields.source).toMatch(/new one/)
    done(await askPart(asking({ bike, supplier }, { part, source: 'pattern' }), shop.dealer))
  })

  test.each(stages)('is got only for a bike that is bought and not ready: %s', async (stage) => {
    await shop.store.db.bike.update({ where: { id: bike }, data: { stage } })
    const may = ['bought', 'on the bench', 'waiting for a decision'].includes(stage)
    expect((await askPart(asking({ bike, supplier }), shop.dealer)).ok).toBe(may)
    expect((await partsAwaited(shop.store.db, [bike], shop.dealer.now)).size).toBe(may ? 1 : 0)
  })

  test('is set right on its list and taken off it, and an order is called off', async () => {
    const line = await ask()
    const { id: _, bike: __, job: ___, part: ____, ...typed } = asking({ bike, supplier })
    done(await changeAsked({ ...typed, line, version: 1, price: '11.90' }, shop.dealer))
    const late = refused(await changeAsked({ ...typed, line, version: 1, price: '10' }, shop.dealer))
    expect(late).toMatchObject({ kind: 'stale', theirs: { version: '2', price: '11.90' } })
    done(await takeOffList({ line, version: 2, reason: 'Found some' }, shop.dealer))
    expect(await boots()).toMatchObject({ state: 'to order', leadDays: null })
    const other = await ask()
    await order(other)
    done(await takeOffList({ line: other, version: 2, reason: 'Too slow' }, shop.dealer))
    expect(await boots()).toMatchObject({ state: 'to order' })
    expect(refused(await partArrived({ line: other, version: 3 }, shop.technician)).kind).toBe('rule')
  })
})

describe('an order', () => {
  test('shares the carriage out by what its lines come to, to the penny, and is told on every bike', async () => {
    const other = await onTheBench(shop)
    const first = await ask()
    const second = done(
      await askPart(asking({ bike: other.bike, supplier }, { qty: '1', price: '9.10' }), shop.dealer),
    ).line
    await order(first, second)
    const shares = [(await row(first)).carriageMinor!, (await row(second)).carriageMinor!]
    expect(shares).toEqual([549, 101])
    const events = await shop.store.db.event.findMany({
      where: { verb: 'part:order' },
      orderBy: { seq: 'desc' },
    })
    expect(
      events
        .slice(0, 2)
        .map(({ bikeId }) => bikeId)
        .sort(),
    ).toEqual([bike, other.bike].sort())
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test('that does not know the list as it stands orders nothing', async () => {
    const line = await ask()
    const typed = {
      line,
      version: 1,
      supplier,
      source: 'maker',
      number: '',
      price: '15',
      leadDays: '',
      qty: '4',
    }
    done(await changeAsked({ ...typed, neverShare: '' }, shop.dealer))
    const said = refused(await orderParts(ordering(supplier, [line]), shop.manager))
    expect(said.kind).toBe('stale')
    expect(await row(line)).toMatchObject({ state: 'to order' })
    expect(await shop.store.db.partOrder.count()).toBe(0)
  })

  test('leaves on the list what was added since, and is not of tomorrow', async () => {
    const [seen, added] = [await ask(), await ask({ part: 'Clamp' })]
    const early = { ...ordering(supplier, [seen]), day: '2026-11-26' }
    expect(Object.keys(refused(await orderParts(early, shop.dealer)).fields)).toEqual(['day'])
    await order(seen)
    expect(await row(added)).toMatchObject({ state: 'to order' })
  })
})

describe('money', () => {
  test('what a supplier asks takes the place of the catalogue’s price, and what is there is spent once', async () => {
    const before = (await priced())!.parts
    expect(before).toMatchObject([{ name: 'Intake boot', qty: 4, unitCost: { likely: 1400 } }])
    const line = await ask({ qty: '3' })
    expect((await priced())!.parts).toEqual([
      { ...before[0], qty: 1 },
      { name: 'Intake boot', qty: 3, unitCost: 1240 },
    ])
    await order(line)
    expect((await priced())!.parts).toMatchObject([{ qty: 1 }, { qty: 3 }, { unitCost: 650 }])
    expect((await input()).spentMinor).toBe(0)
    done(await partArrived({ line, version: 2 }, shop.technician))
    expect((await priced())!.parts).toEqual([{ ...before[0], qty: 1 }])
    expect((await input()).spentMinor).toBe(3 * 1240 + 650)
  })

  test('is the same in all from the price asked to the work done', async () => {
    await takeLevers()
    const line = await ask({ ...ofLevers, price: '21.30' })
    const parts = async () =>
      ((await priced(levers))?.parts ?? []).reduce(
        (sum, part) => sum + part.qty * (part.unitCost as number),
        0,
      )
    const total = async () => (await parts()) + (await input()).spentMinor!
    expect(await total()).toBe(2 * 2130)
    await order(line)
    const sum = 2 * 2130 + 650
    expect(await total()).toBe(sum)
    done(await partArrived({ line, version: 2 }, shop.technician))
    expect(await total()).toBe(sum)
    const run = await begin(shop, { bike, job: levers })
    expect(await total()).toBe(sum)
    // A second at it: what hours cost is another matter.
    const after = shop.at(shop.technician, '2026-11-25T12:00:01Z')
    done(await finishJob({ run, version: 1 }, after))
    expect(await total()).toBe(sum)
  })

  test('of a part without a price asked waits to be priced, and stays in the estimate until then', async () => {
    const line = await ask({ price: '' })
    await order(line)
    done(await partArrived({ line, version: 2 }, shop.technician))
    const [spend] = await spends()
    expect(spend).toMatchObject({ amountMinor: null, what: 'Intake boot', qty: 4 })
    expect((await priced())!.parts).toMatchObject([{ qty: 4, unitCost: { likely: 1400 } }])
    done(await priceSpend({ spend: spend!.id, version: 1, amount: '52' }, shop.dealer))
    expect((await priced())!.parts).toEqual([])
    expect((await input()).spentMinor).toBe(5200)
    done(await takeBackSpend({ spend: spend!.id, version: 2, reason: 'Never billed' }, shop.dealer))
    expect((await priced())!.parts).toMatchObject([{ qty: 4, unitCost: { likely: 1400 } }])
  })

  test('moves the board’s line of every bike in an order', async () => {
    const costOf = async () => {
      const row = await readBoardRow(shop.store, { bikeId: bike, now: shop.dealer.now })
      return row.marginMean!
    }
    const before = await costOf()
    const line = await ask({ price: '500' })
    const asked = await costOf()
    expect(asked).toBeLessThan(before - 100_000)
    await order(line)
    expect(await costOf()).toBeLessThan(asked)
  })

  test('off the shelf costs the other bike nothing', async () => {
    const { bike: broken } = await onTheBench(shop)
    const { shelf } = done(await putOnShelf(shelving(broken), shop.technician))
    const use = { id: uuidv7(), shelf, bike, job: 'intake-boots', part: 'Intake boot', qty: '4' }
    done(await fitFromShelf(use, shop.technician))
    expect((await priced())!.parts).toEqual([])
    expect((await input()).spentMinor).toBe(0)
    expect(await spends()).toEqual([])
  })
})

describe('the shelf', () => {
  const filled = async (over: Record<string, string> = {}) =>
    done(await putOnShelf(shelving(bike, over), shop.technician)).shelf
  const using = (shelf: string, over: object = {}) => ({
    ...{ id: uuidv7(), shelf, bike, job: 'intake-boots', part: 'Intake boot', qty: '3', ...over },
  })

  test('gives no more than lies on it, and takes back what was not used', async () => {
    const shelf = await filled()
    const first = using(shelf)
    done(await fitFromShelf(first, shop.technician))
    expect(await boots()).toMatchObject({ state: 'to order' })
    const more = refused(await fitFromShelf(using(shelf, { qty: '2' }), shop.technician))
    expect(more.fields.qty).toBe('Only 1 are left on the shelf.')
    done(await fitFromShelf(using(shelf, { qty: '1' }), shop.technician))
    expect(await boots()).toMatchObject({ state: 'arrived' })
    done(await backOnShelf({ line: first.id, version: 1 }, shop.technician))
    expect(await boots()).toMatchObject({ state: 'to order' })
    done(await fitFromShelf(using(shelf), shop.technician))
  })

  test('holds no used tyre, pad, shoe or hose, and a new one it may', async () => {
    for (const what of ['Front tyre', 'Pad set', 'Shoes', 'Radiator hose']) {
      const said = refused(await putOnShelf(shelving(bike, { what }), shop.technician))
      expect(said.fields.what).toMatch(/new/)
    }
    const shelf = await filled({ what: 'Pad set', condition: 'new' })
    done(await fitFromShelf(using(shelf, { job: 'front-pads', part: 'Pad set', qty: '2' }), shop.technician))
    const used = await filled()
    const named = refused(await fitFromShelf(using(used, { part: 'Hose set' }), shop.technician))
    expect(named.fields.part).toMatch(/hose/)
  })

  test('lets a part go another way, with the reason', async () => {
    const shelf = await filled()
    done(await takeOffShelf({ shelf, version: 1, reason: 'Sold over the counter' }, shop.technician))
    expect(refused(await fitFromShelf(using(shelf), shop.technician)).message).toContain('off the shelf')
  })

  test('is fed from bikes of the shop’s own, or from elsewhere', async () => {
    await shop.store.db.bike.update({ where: { id: bike }, data: { stage: 'viewing' } })
    expect(refused(await putOnShelf(shelving(bike), shop.technician)).kind).toBe('rule')
    done(await putOnShelf(shelving('', { story: 'Bought in a box of odds' }), shop.technician))
  })
})

describe('work sent out', () => {
  const out = async (over: Record<string, string> = {}) =>
    done(await sendOut(sending(bike, over), shop.technician)).sent

  test('is with somebody until it is back, and its bill takes the place of the estimate', async () => {
    await take('fork-tubes')
    const sent = await out()
    expect((await awaited()).sentOut).toEqual([
      { job: 'fork-tubes', what: 'Both fork tubes', whoHas: 'Sallow Plating', dueOn: '2026-12-09' },
    ])
    expect((await priced('fork-tubes'))!.outsideWork).toMatchObject({ likely: 24000 })
    done(await askOutside({ sent, version: 1, amount: '195' }, shop.dealer))
    expect((await priced('fork-tubes'))!.outsideWork).toBe(19500)
    done(await cameBack({ sent, version: 2, note: '' }, shop.technician))
    expect((await awaited()).sentOut).toEqual([])
    expect((await priced('fork-tubes'))!.outsideWork).toBe(0)
    expect((await input()).spentMinor).toBe(19500)
  })

  test('that is back without a bill waits for its amount', async () => {
    await take('fork-tubes')
    const sent = await out()
    done(await cameBack({ sent, version: 1, note: '' }, shop.technician))
    expect(await spends()).toMatchObject([{ kind: 'outside', amountMinor: null }])
    expect((await priced('fork-tubes'))!.outsideWork).toMatchObject({ likely: 24000 })
  })

  test.each([
    ['due back before it went', { dueOn: '2026-11-20' }, 'dueOn'],
    ['gone tomorrow', { sentOn: '2026-11-26', dueOn: '' }, 'sentOn'],
    ['nobody has it', { whoHas: ' ' }, 'whoHas'],
    ['a job that is none', { job: 'tea' }, 'job'],
  ])('says at the field: %s', async (_what, over, field) => {
    expect(Object.keys(refused(await sendOut(sending(bike, over), shop.technician)).fields)).toEqual([field])
    expect(await shop.store.db.sentOut.count()).toBe(0)
  })
})

describe('the story', () => {
  const told = async (who = shop.dealer) => {
    const wanted = { kind: null, order: 'oldest', behind: null } as const
    const story = await readStory({ ...who, who: who.who! }, { viewingNo: String(viewingNo), asked: wanted })
    return story.entries.slice(2)
  }

  test('tells what was ordered and came, with its amounts to who may see money', async () => {
    const line = await ask()
    await order(line)
    done(await partArrived({ line, version: 2 }, shop.technician))
    done(await partWrong({ line, version: 3, note: 'For the 900' }, shop.technician))
    done(await settleWrong({ line, version: 4, outcome: 'sent back', note: 'Got 56.10 back' }, shop.dealer))
    expect((await told()).map(({ says, amounts }) => [says, amounts])).toEqual([
      [
        'To order of Harle Spares for "Intake boots renewed": Intake boot × 4, number HS-4410, 5 days.',
        [{ label: 'Each', minor: 1240 }],
      ],
      ['Ordered of Harle Spares: Intake boot × 4, due 2026-11-30.', [{ label: 'Carriage', minor: 650 }]],
      ['In the box for "Intake boots renewed": Intake boot × 4, number HS-4410.', []],
      ['Came wrong for "Intake boots renewed": Intake boot × 4, number HS-4410. For the 900.', []],
      ['Sent back: Intake boot × 4, number HS-4410. Got 56.10 back.', [{ label: 'Each', minor: 1240 }]],
    ])
    const heard = await told(shop.technician)
    expect(heard).toHaveLength(5)
    expect(JSON.stringify(heard)).not.toMatch(/1240|650|56\.10|minor"/i)
  })
})

test('nothing of what is awaited holds money', async () => {
  const line = await ask()
  await order(line)
  const seen = await awaited()
  expect(JSON.stringify([[...seen.parts], seen.sentOut])).not.toMatch(/1240|650|minor|price|amount/i)
  expect(testDay).toBe('2026-11-25')
})
