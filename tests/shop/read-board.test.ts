import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { type BoardAsked, boardAsked, readBoard, readQueue, rowsAPage } from '../../lib/shop/read-board'
import { buyBike, passUp, putOnBench } from '../../lib/shop/stages'
import { cleared, done, type OpenShop, openTestShop, testNow } from '../support/open-shop'
import { answer, takenIn } from '../support/readings'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

const board = (asked: Partial<BoardAsked> = {}) =>
  readBoard(shop.store, testNow, { ...boardAsked.parse({}), ...asked })
const modelsOf = async (asked: Partial<BoardAsked> = {}) =>
  (await board(asked)).lines.map(({ model }) => model)
const buy = async (bike: string, price = '1000') => {
  await cleared(shop, bike)
  return done(await buyBike({ bike, version: 1, price, day: '2026-11-20' }, shop.dealer))
}

describe('the board', () => {
  test('of a shop without a bike is empty', async () => {
    expect(await board()).toMatchObject({ lines: [], total: 0, fitting: 0, pages: 1, best: null })
  })

  test('ranks by margin and puts what has no price to sell at last', async () => {
    await takenIn(shop, { model: 'dear', asking: '1900' })
    await takenIn(shop, { model: 'unpriced', saleLow: '', saleLikely: '', saleHigh: '' })
    await takenIn(shop, { model: 'cheap', asking: '500' })
    const { lines, best } = await board()
    expect(lines.map(({ place, model }) => [place, model])).toEqual([
      [1, 'cheap'],
      [2, 'dear'],
      [3, 'unpriced'],
    ])
    expect(best?.model).toBe('cheap')
    expect(lines[2]).toMatchObject({ marginMean: null, walkAway: null, holdUp: 'No sale price yet.' })
  })

  test('ranks by margin per bench hour and by chance of loss', async () => {
    const long = await takenIn(shop, { model: 'long', asking: '300' })
    await takenIn(shop, { model: 'short', asking: '500' })
    await answer(shop.technician, {
      bike: long.bike,
      answers: [
        ['tank-inside', 'flakes'],
        ['intake-boots', 'cracked'],
      ],
    })
    await takenIn(shop, { model: 'lossy', asking: '2300' })
    for (const by of ['margin-per-bench-hour', 'chance-of-loss'] as const) {
      const { lines } = await board({ by })
      const values = lines.map((line) =>
        by === 'chance-of-loss' ? line.chanceOfLoss : line.marginPerBenchHour,
      )
      const inOrder = [...values].sort((a, b) => (by === 'chance-of-loss' ? a! - b! : b! - a!))
      expect(values).toEqual(inOrder)
      expect(lines.at(-1)?.model).toBe('lossy')
    }
  })

  test('leaves out what is passed up unless it is asked for', async () => {
    const gone = await takenIn(shop, { model: 'gone' })
    const ours = await takenIn(shop, { model: 'ours' })
    await takenIn(shop, { model: 'seen' })
    done(await passUp({ bike: gone.bike, version: 1, reason: 'Rotten' }, shop.dealer))
    await buy(ours.bike)
    expect((await modelsOf()).sort()).toEqual(['ours', 'seen'])
    expect((await modelsOf({ stage: 'all' })).sort()).toEqual(['gone', 'ours', 'seen'])
    expect(await modelsOf({ stage: 'passed up' })).toEqual(['gone'])
    expect(await modelsOf({ stage: 'bought' })).toEqual(['ours'])
  })

  test.each([
    ['the viewing number', '2', ['b']],
    ['the stock number', '1', ['a', 'b']],
    ['a plate, however it is spaced', 'zz 97-t', ['a']],
    ['a part of the make', 'mire', ['b']],
    ['make and model together', 'Mirefield B', ['b']],
    ['nothing that is here', 'qqq', []],
    ['nothing at all', '  ', ['a', 'b']],
  ])('finds by %s', async (_what, search, models) => {
    await takenIn(shop, { model: 'a', registration: 'ZZ97 TST' })
    const b = await takenIn(shop, { make: 'Mirefield', model: 'b' })
    await buy(b.bike)
    expect((await modelsOf({ search })).sort()).toEqual(models)
  })

  test('keeps the place a bike has among all, also where a search leaves it alone', async () => {
    await takenIn(shop, { model: 'first', asking: '100' })
    await takenIn(shop, { model: 'second', asking: '900' })
    expect((await board({ search: 'second' })).lines[0]?.place).toBe(2)
  })

  test('is cut into pages, with one scale for the spreads of all of them', async () => {
    for (let more = 0; more < rowsAPage + 2; more += 1) await takenIn(shop, { asking: String(100 + more) })
    const [first, second] = [await board(), await board({ page: 2 })]
    expect([first.lines.length, second.lines.length, first.pages]).toEqual([rowsAPage, 2, 2])
    expect(second.lines[0]?.place).toBe(rowsAPage + 1)
    expect(second.domain).toEqual(first.domain)
    const ends = [...first.lines, ...second.lines].flatMap((line) => [line.marginLow!, line.marginHigh!])
    expect(first.domain[0]).toBeLessThan(Math.min(...ends))
    expect(first.domain[1]).toBeGreaterThan(Math.max(...ends))
    expect((await board({ page: 9 })).lines).toEqual([])
  })

  test('falls back to the plain board where its address asks for what is not there', () => {
    const plain = { by: 'margin', stage: 'open', search: '', page: 1 }
    expect(boardAsked.parse({ by: 'luck', stage: 'lost', page: '-3', search: ['a', 'b'] })).toEqual(plain)
    expect(boardAsked.parse({ page: 'two' })).toEqual(plain)
    expect(boardAsked.parse({ search: 'x'.repeat(81) })).toEqual(plain)
  })

  test('asks the database the same few questions however many bikes there are', async () => {
    const asked = async () => {
      await board()
      const before = shop.store.statementCount()
      await board()
      return shop.store.statementCount() - before
    }
    await takenIn(shop)
    const few = await asked()
    for (let more = 0; more < 5; more += 1) await takenIn(shop)
    expect(await asked()).toBe(few)
    expect(few).toBeLessThanOrEqual(10)
  })
})

describe('the queue', () => {
  test('holds the bikes the shop owns and has still to put right, by what a bench hour on each brings', async () => {
    const slow = await takenIn(shop, { model: 'slow' })
    const quick = await takenIn(shop, { model: 'quick' })
    await takenIn(shop, { model: 'seen only' })
    await answer(shop.technician, {
      bike: slow.bike,
      answers: [
        ['tank-inside', 'flakes'],
        ['intake-boots', 'cracked'],
      ],
    })
    await buy(slow.bike)
    await buy(quick.bike)
    done(await putOnBench({ bike: slow.bike, version: 2 }, shop.manager))
    const { lines, hours } = await readQueue(shop.store, testNow)
    expect(lines.map(({ place, model, stage }) => [place, model, stage])).toEqual([
      [1, 'quick', 'bought'],
      [2, 'slow', 'on the bench'],
    ])
    expect(lines[0]).toMatchObject({ paidMinor: 100000, boughtOn: '2026-11-20', daysOwned: 5 })
    expect(hours).toBeCloseTo(lines[0]!.hoursMean! + lines[1]!.hoursMean!, 9)
  })

  test('is empty while nothing is bought', async () => {
    await takenIn(shop)
    expect(await readQueue(shop.store, testNow)).toMatchObject({ lines: [], hours: 0 })
  })
})
