import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { fitsKind } from '../../lib/core/checks/bike-kind'
import type { GatedRound } from '../../lib/core/checks/catalogue'
import { checkChain } from '../../lib/data/events'
import { bikeKindInput } from '../../lib/shop/bike-fields'
import type { Context } from '../../lib/shop/deed'
import {
  correctMinutes,
  declareOpen,
  finishJob,
  giveUpJob,
  goOnWithJob,
  pauseJob,
  putBack,
  startJob,
} from '../../lib/shop/job-runs'
import { recordReading } from '../../lib/shop/record-reading'
import { begin, onTheBench, started } from '../support/on-the-bench'
import { chainDriven, done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { look, takenIn } from '../support/readings'
import { workOutBike } from '../support/work-out'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await onTheBench(shop))
})
afterEach(() => shop.dispose())

const at = (instant: string, who = shop.technician) => shop.at(who, instant)
const stored = async (run: string) => {
  const row = await shop.store.db.jobRun.findUniqueOrThrow({
    where: { id: run },
    include: { spells: { orderBy: { startedAt: 'asc' } } },
  })
  return { ...row, minutes: row.spells.map(({ minutes }) => minutes) }
}
const openNow = () => shop.store.db.openState.findMany({ where: { bikeId: bike, putBackAt: null } })
/** What keeps a round shut at the instant of `who`. */
const lockOf = async (round: string, { now }: Context = shop.technician) => {
  const { result } = await workOutBike(shop.store.db, { bikeId: bike, now })
  return result.locks.find((one) => one.round === round)!
}
const kind = bikeKindInput.parse(chainDriven)
/** Looks at everything that a round is gated by, or at what is named, and finds it good. */
async function lookGood(round: GatedRound, { only, takenAt = '2026-11-25T11:58:00Z' }: LookedAt = {}) {
  for (const check of startingCatalogue.checks) {
    if (!check.gate?.opens.includes(round) || !fitsKind(kind, check.appliesTo)) continue
    if (only && !only.includes(check.key)) continue
    const good = check.sort === 'look' && check.answers.find(({ tone }) => tone === 'good')
    if (!good) throw new Error(`${check.key} is no look that can be good`)
    const said = { takenAt, conditions: check.conditions ?? [] }
    done(await recordReading(look(bike, [check.key, good.key], said), at('2026-11-25T13:00:00Z')))
  }
}
type LookedAt = { only?: readonly string[]; takenAt?: string }

const lastEvent = async () => {
  const { body, ...event } = await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
  return { ...event, body: JSON.parse(body) as Record<string, unknown> }
}

describe('work that is started', () => {
  test('runs the clock of who started it, keeps its budget and what it leaves open, and tells the history', async () => {
    const run = await begin(shop, {
      bike,
      budgetHours: '1,5',
      stopOn: 'a seized piston',
      opens: ['brake-open'],
    })
    expect(await stored(run)).toMatchObject({
      title: expect.stringContaining('ads'),
      state: 'started',
      budgetHours: 1.5,
      stopOn: 'a seized piston',
      minutes: [null],
    })
    expect(await openNow()).toMatchObject([
      { kind: 'brake-open', runId: run, personId: shop.technician.who!.personId },
    ])
    expect(await lastEvent()).toMatchObject({
      verb: 'work:do',
      bikeId: bike,
      body: { did: 'started', opens: ['brake-open'] },
    })
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test('is not started twice, by the same press or by a colleague', async () => {
    const twice = started(bike)
    done(await startJob(twice, shop.technician))
    expect(refused(await startJob(twice, shop.technician)).kind).toBe('rule')
    expect(refused(await startJob(started(bike), shop.dealer)).message).toContain('begun already')
    expect(await shop.store.db.jobRun.count()).toBe(1)
    expect(await shop.store.db.jobSpell.count()).toBe(1)
  })

  test('of two at once one is begun', async () => {
    const both = await Promise.all([
      startJob(started(bike), shop.technician),
      startJob(started(bike), shop.dealer),
    ])
    expect(both.filter(({ ok }) => ok)).toHaveLength(1)
    expect(await shop.store.db.jobRun.count()).toBe(1)
  })

  test('leaves one clock to a person: the other is paused first', async () => {
    const first = await begin(shop, { bike })
    const other = await onTheBench(shop)
    const refusal = refused(await startJob(started(other.bike, { job: 'rear-pads' }), shop.technician))
    expect(refusal).toMatchObject({ kind: 'rule', message: expect.stringContaining(`viewing ${viewingNo}`) })
    done(await pauseJob({ run: first, version: 1 }, shop.technician))
    done(await startJob(started(other.bike, { job: 'rear-pads' }), shop.technician))
    expect(refused(await goOnWithJob({ run: first, version: 2 }, shop.technician)).kind).toBe('rule')
  })

  test.each([
    ['a bike that is only viewed', 'viewing'],
    ['a bike that is bought and not on the bench', 'bought'],
    ['a bike that waits for a decision', 'waiting for a decision'],
    ['a bike that is ready', 'ready'],
  ])('is refused on %s', async (_what, stage) => {
    await shop.store.db.bike.update({ where: { id: bike }, data: { stage } })
    expect(refused(await startJob(started(bike), shop.technician)).kind).toBe('rule')
    expect(await shop.store.db.jobRun.count()).toBe(0)
  })

  test.each([
    ['a job that is none', { job: 'polish-everything' }, 'job'],
    ['a budget in words', { budgetHours: 'some' }, 'budgetHours'],
    ['an open state that is none', { opens: ['roof-open'] }, 'opens.0'],
  ])('says at the field: %s', async (_what, over, field) => {
    expect(Object.keys(refused(await startJob(started(bike, over), shop.technician)).fields)).toEqual([field])
    expect(await shop.store.db.jobRun.count()).toBe(0)
  })

  test('is nobody’s who is not signed in, and of no bike that is not there', async () => {
    expect(refused(await startJob(started(bike), shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await startJob(started(uuidv7()), shop.technician)).kind).toBe('not-found')
  })
})

describe('two at one job', () => {
  test('pause each for themselves: it is paused when nobody is left', async () => {
    const run = await begin(shop, { bike })
    done(await goOnWithJob({ run, version: 1 }, at('2026-11-25T12:10:00Z', shop.dealer)))
    done(await pauseJob({ run, version: 2 }, at('2026-11-25T12:30:00Z')))
    expect(await stored(run)).toMatchObject({ state: 'started', minutes: [30, null] })
    expect((await lastEvent()).body).toMatchObject({ did: 'left', minutes: 50 })
    done(await pauseJob({ run, version: 3 }, at('2026-11-25T12:40:00Z', shop.dealer)))
    expect(await stored(run)).toMatchObject({ state: 'paused', minutes: [30, 30] })
    expect(refused(await pauseJob({ run, version: 4 }, shop.technician)).kind).toBe('rule')
  })

  test('nobody pauses for another by mistake; stopping everybody’s clock is said as such', async () => {
    const run = await begin(shop, { bike })
    expect(refused(await pauseJob({ run, version: 1 }, shop.dealer)).message).toContain('not at this')
    done(await pauseJob({ run, version: 1, everybody: 'yes' }, at('2026-11-25T12:20:00Z', shop.dealer)))
    expect(await stored(run)).toMatchObject({ state: 'paused', minutes: [20] })
  })

  test('nobody joins twice', async () => {
    const run = await begin(shop, { bike })
    expect(refused(await goOnWithJob({ run, version: 1 }, shop.technician)).message).toContain('already')
    expect(await shop.store.db.jobSpell.count()).toBe(1)
  })

  test('finishing ends the clock of both', async () => {
    const run = await begin(shop, { bike })
    done(await goOnWithJob({ run, version: 1 }, shop.dealer))
    done(await finishJob({ run, version: 2, minutes: '', note: '' }, at('2026-11-25T13:00:00Z')))
    expect(await stored(run)).toMatchObject({ state: 'done', minutes: [60, 60] })
  })
})

describe('minutes', () => {
  test('count across midnight and across the hour that summer time takes', async () => {
    const run = await begin(shop, { bike, who: at('2026-11-25T23:40:00Z') })
    done(await finishJob({ run, version: 1 }, at('2026-11-26T00:25:00Z')))
    expect((await stored(run)).minutes).toEqual([45])
    const spring = await begin(shop, { bike, job: 'rear-pads', who: at('2027-03-28T00:30:00Z') })
    done(await finishJob({ run: spring, version: 1 }, at('2027-03-28T01:30:00Z')))
    expect((await stored(spring)).minutes).toEqual([60])
  })

  test('of a clock that was put back are none, never fewer than none', async () => {
    const run = await begin(shop, { bike })
    done(await finishJob({ run, version: 1 }, at('2026-11-25T11:00:00Z')))
    expect((await stored(run)).minutes).toEqual([0])
  })

  test.each([
    ['more than the clock: to the longest spell', '100', [10, 90]],
    ['fewer: from the longest spell', '25', [10, 15]],
    ['fewer than the longest alone leaves: from the next too', '4', [4, 0]],
  ])('set right when finishing, %s', async (_what, minutes, expected) => {
    const run = await begin(shop, { bike })
    done(await pauseJob({ run, version: 1 }, at('2026-11-25T12:10:00Z')))
    done(await goOnWithJob({ run, version: 2 }, at('2026-11-25T12:20:00Z')))
    done(await finishJob({ run, version: 3, minutes }, at('2026-11-25T12:50:00Z')))
    expect((await stored(run)).minutes).toEqual(expected)
  })

  test('are set right later with a reason, which the history keeps', async () => {
    const run = await begin(shop, { bike })
    expect(
      refused(await correctMinutes({ run, version: 1, minutes: '5', note: 'x' }, shop.technician)).kind,
    ).toBe('rule')
    done(await finishJob({ run, version: 1 }, at('2026-11-26T08:00:00Z')))
    const right = { run, version: 2, minutes: '70', note: 'Went home without stopping the clock' }
    expect(refused(await correctMinutes({ ...right, note: ' ' }, shop.technician)).fields).toHaveProperty(
      'note',
    )
    expect(refused(await correctMinutes({ ...right, minutes: '' }, shop.technician)).fields).toHaveProperty(
      'minutes',
    )
    expect(refused(await correctMinutes({ ...right, version: 1 }, shop.technician)).kind).toBe('stale')
    done(await correctMinutes(right, shop.technician))
    expect((await stored(run)).minutes).toEqual([70])
    expect((await lastEvent()).body).toMatchObject({ did: 'minutes corrected', from: 1200, minutes: 70 })
  })

  test.each(['1.5', '-3', '0', 'ten'])('are whole: %s is refused at the field', async (minutes) => {
    const run = await begin(shop, { bike })
    expect(refused(await finishJob({ run, version: 1, minutes }, shop.technician)).fields).toHaveProperty(
      'minutes',
    )
    expect((await stored(run)).state).toBe('started')
  })
})

describe('a version that is no longer stored', () => {
  test.each([
    ['pausing', (run: string) => pauseJob({ run, version: 7 }, shop.technician)],
    ['joining', (run: string) => goOnWithJob({ run, version: 7 }, shop.dealer)],
    ['finishing', (run: string) => finishJob({ run, version: 7 }, shop.technician)],
    ['giving up', (run: string) => giveUpJob({ run, version: 7, note: 'x' }, shop.technician)],
  ])('refuses %s, tells the stored one, and leaves the clock running', async (_what, deed) => {
    const run = await begin(shop, { bike })
    expect(refused(await deed(run))).toMatchObject({ kind: 'stale', theirs: { version: '1' } })
    expect(await stored(run)).toMatchObject({ state: 'started', version: 1, minutes: [null] })
  })
})

describe('work that is ended', () => {
  test('is not ended again, paused or gone on with', async () => {
    const run = await begin(shop, { bike })
    done(await finishJob({ run, version: 1 }, shop.technician))
    for (const again of [finishJob, pauseJob, goOnWithJob])
      expect(refused(await again({ run, version: 2 }, shop.technician)).kind).toBe('rule')
    expect(refused(await giveUpJob({ run, version: 2, note: 'x' }, shop.technician)).kind).toBe('rule')
  })

  test('may leave something open, is told so, and it stays locked until it is put back', async () => {
    const run = await begin(shop, { bike, opens: ['brake-open'] })
    expect(done(await finishJob({ run, version: 1 }, shop.technician))).toEqual({
      run,
      leftOpen: ['brake-open'],
    })
    expect((await lastEvent()).body).toMatchObject({ did: 'finished', leftOpen: ['brake-open'] })
    expect((await lockOf('road')).open).toBe(false)
    expect(await openNow()).toHaveLength(1)
  })

  test('is given up with a reason only', async () => {
    const run = await begin(shop, { bike })
    expect(refused(await giveUpJob({ run, version: 1, note: '' }, shop.technician)).fields).toHaveProperty(
      'note',
    )
    done(await giveUpJob({ run, version: 1, note: 'Wrong pads came' }, at('2026-11-25T12:15:00Z')))
    expect(await stored(run)).toMatchObject({ state: 'given up', note: 'Wrong pads came', minutes: [15] })
  })
})

describe('what is open', () => {
  test('is put back once, with the tick that it is in order', async () => {
    await begin(shop, { bike, opens: ['oil-drained'] })
    const [state] = await openNow()
    const back = { state: state!.id, version: 1, inOrder: 'yes' }
    expect(refused(await putBack({ state: state!.id, version: 1 }, shop.technician)).fields).toHaveProperty(
      'inOrder',
    )
    expect(await openNow()).toHaveLength(1)
    done(await putBack(back, shop.technician))
    expect(refused(await putBack(back, shop.dealer)).message).toContain('already')
    expect(refused(await putBack({ ...back, version: 2 }, shop.dealer)).message).toContain('already')
    expect(await openNow()).toEqual([])
    expect(refused(await putBack({ ...back, state: uuidv7() }, shop.dealer)).kind).toBe('not-found')
  })

  test('of two jobs is put back twice: one does not free the other', async () => {
    await begin(shop, { bike, opens: ['brake-open'] })
    await begin(shop, { bike, job: 'rear-pads', opens: ['brake-open'], who: shop.dealer })
    const states = await openNow()
    expect(states).toHaveLength(2)
    done(await putBack({ state: states[0]!.id, version: 1, inOrder: 'yes' }, shop.technician))
    expect(await openNow()).toMatchObject([{ kind: 'brake-open', runId: states[1]!.runId }])
  })

  test('is declared without a job, at any stage, once', async () => {
    const { bike: viewed } = await takenIn(shop)
    const said = { id: uuidv7(), bike: viewed, kind: 'fuel-off', note: 'Seller had the hose off' }
    done(await declareOpen(said, shop.dealer))
    expect(refused(await declareOpen(said, shop.dealer)).kind).toBe('rule')
    expect(refused(await declareOpen({ ...said, id: uuidv7() }, shop.dealer)).kind).toBe('rule')
    expect(refused(await declareOpen({ ...said, kind: 'roof' }, shop.dealer)).fields).toHaveProperty('kind')
    expect(refused(await declareOpen({ ...said, bike: uuidv7() }, shop.dealer)).kind).toBe('not-found')
    expect(refused(await declareOpen(said, shop.nobody)).kind).toBe('not-signed-in')
    expect(await shop.store.db.openState.count()).toBe(1)
  })

  test('shuts the running round for a colleague who would start it, says why, and frees it when put back', async () => {
    await lookGood('running')
    expect(await lockOf('running', shop.dealer)).toMatchObject({ open: true, needs: [], states: [] })
    done(await declareOpen({ id: uuidv7(), bike, kind: 'oil-drained' }, shop.technician))
    expect(await lockOf('running', shop.dealer)).toMatchObject({
      open: false,
      states: [{ kind: 'oil-drained' }],
    })
    const [state] = await openNow()
    done(await putBack({ state: state!.id, version: 1, inOrder: 'yes' }, shop.technician))
    expect(await lockOf('running', shop.dealer)).toMatchObject({ open: true, needs: [], states: [] })
  })

  test('by a job shuts it too, and the oil is looked at anew when the job is done', async () => {
    await lookGood('running')
    const run = await begin(shop, { bike, job: 'petrol-out-of-oil', opens: ['oil-drained'] })
    expect((await lockOf('running', shop.dealer)).states).toMatchObject([{ kind: 'oil-drained' }])
    const [state] = await openNow()
    done(await putBack({ state: state!.id, version: 1, inOrder: 'yes' }, at('2026-11-25T12:30:00Z')))
    done(await finishJob({ run, version: 1 }, at('2026-11-25T12:40:00Z')))
    const later = at('2026-11-25T13:00:00Z', shop.dealer)
    const shut = await lockOf('running', later)
    expect(shut).toMatchObject({ open: false, states: [] })
    expect(shut.needs.map(({ lacks }) => lacks)).toContain('worked-on')
    const only = shut.needs.map(({ check }) => check)
    await lookGood('running', { only, takenAt: '2026-11-25T12:50:00Z' })
    expect((await lockOf('running', later)).open).toBe(true)
  })

  test('given up after the part was opened, the part is looked at anew', async () => {
    await lookGood('running')
    const run = await begin(shop, { bike, job: 'petrol-out-of-oil' })
    done(await giveUpJob({ run, version: 1, note: 'No oil in the shop' }, at('2026-11-25T12:10:00Z')))
    const shut = await lockOf('running', at('2026-11-25T12:20:00Z', shop.dealer))
    expect(shut.open).toBe(false)
    expect(new Set(shut.needs.map(({ lacks }) => lacks))).toEqual(new Set(['worked-on']))
  })
})
