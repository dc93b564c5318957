import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { shareAside } from '../../lib/shop/aside'
import { refreshBoardRows, rowsWorkedOut } from '../../lib/shop/derived'
import { makeOffer } from '../../lib/shop/make-offer'
import { readBikeForMoney } from '../../lib/shop/read-bike'
import { boardAsked, readBoard, readQueue } from '../../lib/shop/read-board'
import { type InputOf, type OutputOf, type ReckoningName, reckonings } from '../../lib/shop/reckonings'
import { buyBike } from '../../lib/shop/stages'
import { cleared, done, type OpenShop, openTestShop, testNow } from '../support/open-shop'
import { answer, takenIn } from '../support/readings'

/** Works out what is asked, but only when it is told to go on: so that a test can look at the board meanwhile. */
function heldAside() {
  const asked: string[] = []
  let held: (() => void)[] = []
  let isHeld = true
  let breaks = false
  const goOn = () => {
    isHeld = false
    for (const go of held) go()
    held = []
  }
  return {
    asked,
    goOn,
    hold: () => {
      isHeld = true
    },
    breakDown: (now: boolean) => {
      breaks = now
    },
    async reckon<Name extends ReckoningName>(name: Name, input: InputOf<Name>): Promise<OutputOf<Name>> {
      asked.push((input as InputOf<'board-row'>).facts.id)
      if (isHeld) await new Promise<void>((go) => held.push(go))
      if (breaks) throw new Error('ended on purpose')
      const reckon = reckonings[name] as (of: InputOf<Name>) => OutputOf<Name>
      return reckon(structuredClone(input))
    },
  }
}

let shop: OpenShop
let aside: ReturnType<typeof heldAside>
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  aside = heldAside()
  shareAside(aside)
  bike = (await takenIn(shop, { model: 'first' })).bike
})
afterEach(async () => {
  aside.goOn()
  await rowsWorkedOut(shop.store)
  shareAside(null)
  await shop.dispose()
})

const board = (stage: 'open' | 'bought' = 'open') =>
  readBoard(shop.store, testNow, { ...boardAsked.parse({}), stage })
const lineOf = async (id = bike) => (await board()).lines.find((line) => line.id === id)!
const settled = async () => {
  aside.goOn()
  await rowsWorkedOut(shop.store)
}

describe('a board with somebody who reckons beside it', () => {
  test('shows a bike nobody worked out yet by its name, and its figures once they are there', async () => {
    const before = await board()
    expect(before.comingCount).toBe(1)
    expect(before.lines[0]).toMatchObject({
      model: 'first',
      state: 'first',
      marginMean: null,
      hoursMean: null,
    })
    await settled()
    const after = await board()
    expect(after).toMatchObject({ comingCount: 0, lines: [{ state: 'now' }] })
    expect(after.lines[0]!.marginMean).not.toBeNull()
  })

  test('shows what was kept, marked, until a change is reckoned with', async () => {
    await board()
    await settled()
    const before = await lineOf()
    aside.hold()
    await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
    const meanwhile = await lineOf()
    expect(meanwhile).toEqual({ ...before, state: 'again' })
    await settled()
    const after = await lineOf()
    expect(after.state).toBe('now')
    expect(after.costMean).toBeGreaterThan(before.costMean!)
  })

  test('never shows an old stage or number with the old figures', async () => {
    await board()
    await settled()
    aside.hold()
    await cleared(shop, bike)
    done(await buyBike({ bike, version: 1, price: '1000', day: '2026-11-20' }, shop.dealer))
    expect((await board('bought')).lines).toMatchObject([{ stage: 'bought', stockNo: 1, state: 'again' }])
    expect(await readQueue(shop.store, testNow)).toMatchObject({
      comingCount: 1,
      lines: [{ state: 'again', paidMinor: 100_000 }],
    })
  })

  test('has each bike worked out once, however often it is asked meanwhile', async () => {
    await takenIn(shop, { model: 'second' })
    await Promise.all([board(), board(), refreshBoardRows(shop.store, testNow)])
    await board()
    await settled()
    expect(aside.asked).toHaveLength(2)
    expect(new Set(aside.asked).size).toBe(2)
    await board()
    expect(aside.asked).toHaveLength(2)
  })

  test('says that it failed, does not try for ever, and tries again when something changed', async () => {
    const logged = vi.spyOn(console, 'error').mockImplementation(() => {})
    aside.breakDown(true)
    await board()
    await settled()
    expect(await board()).toMatchObject({ comingCount: 0, lines: [{ state: 'failed', marginMean: null }] })
    expect(logged).toHaveBeenCalledWith(expect.objectContaining({ message: 'ended on purpose' }))
    logged.mockRestore()
    expect(aside.asked).toHaveLength(1)
    aside.breakDown(false)
    await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
    await board()
    await settled()
    expect(await lineOf()).toMatchObject({ state: 'now' })
  })

  test('leaves the bike’s own page to wait for its figures', async () => {
    aside.goOn()
    const { row } = await readBikeForMoney(shop.dealer, '1')
    expect(row.marginMean).not.toBeNull()
    expect(await board()).toMatchObject({ comingCount: 0 })
  })

  test('gives an offer no figure that is kept', async () => {
    await board()
    await settled()
    aside.hold()
    const kept = (await lineOf()).walkAway!
    await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
    expect(await lineOf()).toMatchObject({ state: 'again', walkAway: kept })
    done(await makeOffer({ bike, version: 1, price: '700', validUntil: '2026-12-01' }, shop.dealer))
    const { output } = await shop.store.db.offer.findFirstOrThrow()
    const { walkAway } = JSON.parse(output) as { walkAway: number }
    expect(walkAway).toBeLessThan(kept)
  })
})
