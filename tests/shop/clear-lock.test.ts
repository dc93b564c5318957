import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { neededCheck } from '../../lib/core/checks/locks'
import { checkChain } from '../../lib/data/events'
import { clearLock } from '../../lib/shop/clear-lock'
import { readSheet } from '../../lib/shop/read-sheet'
import { recordReading } from '../../lib/shop/record-reading'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { answer, look, takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await takenIn(shop))
})
afterEach(() => shop.dispose())

const reason = 'Oil is in, the window is blind'
const clearing = (over: object = {}) => ({ bike, fault: 'oil-absent', reason, ...over })

describe('clearing a lock', () => {
  test('opens for one day what a reason may open, and leaves the fault', async () => {
    await answer(shop.technician, { bike, answers: [['oil-level', 'none']] })
    expect(done(await clearLock(clearing(), shop.manager))).toEqual({ until: '2026-11-26T12:00:00.000Z' })
    const [row] = await shop.store.db.lockClearing.findMany()
    expect(row).toMatchObject({
      bikeId: bike,
      fault: 'oil-absent',
      reason,
      personId: shop.manager.who?.personId,
    })
    const last = await shop.store.db.event.findFirst({ orderBy: { seq: 'desc' } })
    expect(last).toMatchObject({ verb: 'lock:clear', bikeId: bike })
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test.each([
    ['wet fuel', ['fuel-leaks', 'wet'], 'fuel-leak'],
    ['petrol in the oil', ['oil-smell', 'petrol'], 'petrol-in-oil'],
    ['a sticking throttle', ['throttle-snaps-shut', 'sticks'], 'throttle-sticks'],
    ['no brake pressure', ['front-brake-lever', 'none'], 'front-brake-no-pressure'],
    ['a cracked disc', ['disc-cracks-front', 'cracked'], 'front-disc-cracked'],
    ['a cracked frame', ['frame-look', 'cracked'], 'frame-cracked'],
    ['cord', ['tyre-walls-front', 'cord'], 'front-tyre-cord'],
    ['a loose wheel', ['wheel-bearings-rear', 'loose'], 'rear-wheel-loose'],
    ['loose steering', ['steering-play', 'loose'], 'steering-loose'],
  ] as [string, [string, string], string][])('never opens %s', async (_what, said, fault) => {
    await answer(shop.technician, { bike, answers: [said] })
    const refusal = refused(await clearLock(clearing({ fault }), shop.manager))
    expect(refusal).toMatchObject({
      kind: 'rule',
      message: 'Only the repair and its recheck open this lock.',
    })
    expect(await shop.store.db.lockClearing.count()).toBe(0)
  })

  test('opens for one ride or one day, a day at the latest, and keeps which', async () => {
    await answer(shop.technician, { bike, answers: [['oil-level', 'none']] })
    for (const how of ['ride', 'day']) {
      expect(done(await clearLock(clearing({ for: how }), shop.manager)).until).toBe(
        '2026-11-26T12:00:00.000Z',
      )
    }
    const rows = await shop.store.db.lockClearing.findMany({ orderBy: { id: 'asc' } })
    expect(rows.map(({ oneRide }) => oneRide)).toEqual([true, false])
    expect(refused(await clearLock(clearing({ for: 'ever' }), shop.manager)).fields).toHaveProperty('for')
  })

  test('stands in for a check that was not done, but for one that guards against what no reason makes safe', async () => {
    done(await clearLock(clearing({ fault: neededCheck('gas-led-away') }), shop.manager))
    const refusal = refused(await clearLock(clearing({ fault: neededCheck('fuel-leaks') }), shop.manager))
    expect(refusal).toMatchObject({
      kind: 'rule',
      message: 'No reason stands in for "Fuel smell and leaks": only doing it opens this lock.',
    })
    expect(refused(await clearLock(clearing({ fault: neededCheck('tank-paint') }), shop.manager)).kind).toBe(
      'not-found',
    )
  })

  test('stands in for what was found rough, and not for what was found loose', async () => {
    const rough = ['wheel-bearings-front', 'rough'] as [string, string]
    const loose = ['wheel-bearings-front', 'loose'] as [string, string]
    const fault = neededCheck('wheel-bearings-front')
    const open = async () => {
      const { rounds } = await readSheet({ ...shop.technician, who: shop.technician.who! }, viewingNo)
      return rounds.flatMap(({ needs }) => needs).find(({ check }) => check === 'wheel-bearings-front')
    }
    await answer(shop.technician, { bike, answers: [rough] })
    done(await clearLock(clearing({ fault, for: 'ride' }), shop.manager))
    expect(await open()).toMatchObject({ byReason: true, cleared: { who: 'Mara' } })
    // Found worse later: the reason that was given before opens nothing.
    await answer(shop.technician, { bike, answers: [loose] })
    expect(await open()).toMatchObject({ byReason: false, cleared: null })
    expect(refused(await clearLock(clearing({ fault }), shop.manager)).kind).toBe('rule')
  })

  test('of a fault opens the check that found it, and is told once', async () => {
    const none = look(bike, ['oil-level', 'none'], { conditions: ['upright', 'level'] })
    done(await recordReading(none, shop.technician))
    done(await clearLock(clearing(), shop.manager))
    const { rounds } = await readSheet({ ...shop.technician, who: shop.technician.who! }, viewingNo)
    const running = rounds.find(({ round }) => round === 'running')!
    expect(running.locks).toMatchObject([{ fault: 'oil-absent', cleared: { reason } }])
    expect(running.needs.map(({ check }) => check)).not.toContain('oil-level')
  })

  test('is told on the sheet: who, until when, why, and for how long', async () => {
    done(await clearLock(clearing({ fault: neededCheck('gas-led-away'), for: 'ride' }), shop.manager))
    const { rounds } = await readSheet({ ...shop.technician, who: shop.technician.who! }, viewingNo)
    const need = rounds.flatMap(({ needs }) => needs).find(({ check }) => check === 'gas-led-away')
    expect(need?.cleared).toEqual({ who: 'Mara', until: '2026-11-26T12:00:00.000Z', reason, oneRide: true })
  })

  test('is for managers only', async () => {
    await answer(shop.technician, { bike, answers: [['oil-level', 'none']] })
    expect(refused(await clearLock(clearing(), shop.technician)).kind).toBe('not-allowed')
    expect(refused(await clearLock(clearing(), shop.dealer)).kind).toBe('not-allowed')
    expect(refused(await clearLock(clearing(), shop.nobody)).kind).toBe('not-signed-in')
    expect(await shop.store.db.lockClearing.count()).toBe(0)
  })

  test('needs a lock that is there, a bike that is there, and a reason', async () => {
    expect(refused(await clearLock(clearing(), shop.manager)).kind).toBe('not-found')
    expect(refused(await clearLock(clearing({ bike: uuidv7() }), shop.manager)).kind).toBe('not-found')
    await answer(shop.technician, { bike, answers: [['oil-level', 'none']] })
    expect(refused(await clearLock(clearing({ reason: ' ' }), shop.manager)).fields).toHaveProperty('reason')
  })
})
