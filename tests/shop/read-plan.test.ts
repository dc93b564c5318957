import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { shareAside } from '../../lib/shop/aside'
import { noteTimeOff, setPersonWork } from '../../lib/shop/bench-people'
import { decide } from '../../lib/shop/decide'
import { readBike, readToWorkOut } from '../../lib/shop/facts'
import { finishJob } from '../../lib/shop/job-runs'
import { pinTask, promiseDay, unpinTask } from '../../lib/shop/plan-pins'
import { readPlanPage, readTodayPage } from '../../lib/shop/read-plan'
import { begin, onTheBench } from '../support/on-the-bench'
import { done, type OpenShop, openTestShop, refused, testNow } from '../support/open-shop'
import { findSound } from '../support/sound-bike'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

const page = (now = testNow) => readPlanPage(shop.store, now)
const technician = () => shop.technician.who!.personId

/** A bike on the bench of which everything was looked at and found good, with jobs that a person added. */
async function withJobs(...jobs: string[]) {
  const { bike } = await onTheBench(shop)
  await findSound(shop.technician, { bike })
  for (const key of jobs)
    done(
      await decide(
        { bike, decision: { id: uuidv7(), kind: 'add-job', key, reason: 'For the plan' } },
        shop.dealer,
      ),
    )
  return bike
}
const taskOf = async (bike: string, task: string, now = testNow) =>
  (await page(now)).bikes.find(({ id }) => id === bike)?.tasks.find((one) => one.task === task)

describe('the bench plan of a shop', () => {
  it('has the work of every bike on the bench, by who is there, with what it costs that they stand', async () => {
    const bike = await withJobs('seat-cover')
    const plan = await page()
    expect(plan.people).toMatchObject([{ id: technician() }])
    expect(plan.bikes).toMatchObject([{ id: bike, why: { on: 'parts', job: 'seat-cover' } }])
    expect(plan.bikes[0]?.dayPriceMinor).toBeGreaterThan(150)
    expect(plan.standsMinor).toBeCloseTo(plan.bikes[0]!.standsMinor, 9)
    // Its cover is not ordered: four days until it comes, as the shop has it.
    expect(await taskOf(bike, 'job:seat-cover')).toMatchObject({ who: 'Tove', from: { day: '2026-11-30' } })
  })

  it('says that it could not be made anew, shows the last one, and tries again only after the next change', async () => {
    const bike = await withJobs('seat-cover')
    await page()
    const asked: string[] = []
    shareAside({
      reckon: async (name) => {
        asked.push(name)
        throw new Error('ended on purpose')
      },
    })
    const logged = vi.spyOn(console, 'error').mockImplementation(() => {})
    try {
      done(await promiseDay({ bike, version: '0', day: '2026-12-10' }, shop.manager))
      expect((await page()).state).toBe('again')
      await vi.waitFor(async () => expect((await page()).state).toBe('failed'))
      const tried = asked.length
      expect((await page()).bikes).toMatchObject([{ id: bike }])
      expect(asked.length).toBe(tried)
      expect(logged).toHaveBeenCalledTimes(tried)
      done(await promiseDay({ bike, version: '1', day: '2026-12-11' }, shop.manager))
      expect((await page()).state).toBe('again')
    } finally {
      shareAside(null)
      await vi.waitFor(() => expect(logged.mock.calls.length).toBe(asked.length))
      logged.mockRestore()
    }
  })

  it('is kept, and made anew when anything it rests on changes', async () => {
    const bike = await withJobs('battery-charge')
    await page()
    await page()
    expect(await shop.store.db.benchPlan.count()).toBe(1)
    done(await promiseDay({ bike, version: 0, day: '2026-12-04', note: '' }, shop.manager))
    const after = await page()
    expect(after.stoodBeforeMinor).not.toBeNull()
    expect(await shop.store.db.benchPlan.count()).toBe(2)
    done(await promiseDay({ bike, version: 1, day: '', note: '' }, shop.manager))
    await page()
    expect(await shop.store.db.benchPlan.count()).toBe(2)
  })

  it('lets a battery charge by the clock while its person is elsewhere', async () => {
    const bike = await withJobs('battery-charge')
    const wait = await taskOf(bike, 'wait:battery-charge')
    expect(wait).toMatchObject({ who: null, kind: 'wait' })
    expect(wait!.end - wait!.start).toBe(16 * 4)
  })

  it('works around a day on which nobody is there', async () => {
    const bike = await withJobs('battery-charge')
    const off = { id: uuidv7(), person: '', what: 'Stocktaking', from: '', to: '' }
    done(await noteTimeOff({ ...off, fromDay: '2026-11-25', toDay: '2026-11-26' }, shop.manager))
    expect(await taskOf(bike, 'job:battery-charge')).toMatchObject({ from: { day: '2026-11-27' } })
  })

  it('says so where nobody is at the bench', async () => {
    await withJobs('battery-charge')
    const nobody = { version: 0, skills: [], pace: '', from: '', to: '' }
    done(await setPersonWork({ person: technician(), ...nobody }, shop.manager))
    expect(await page()).toMatchObject({ people: [], bikes: [] })
  })

  it('is made around what is settled, tells what that costs, and lets it move again', async () => {
    const bike = await withJobs('battery-charge')
    const pin = { id: uuidv7(), bike, task: 'job:battery-charge', day: '2026-12-01', at: '10:00', doer: '' }
    done(await pinTask(pin, shop.manager))
    const settled = await page()
    expect(await taskOf(bike, pin.task)).toMatchObject({
      isPinned: true,
      from: { day: '2026-12-01', minute: 600 },
    })
    expect(settled.pins).toMatchObject([{ bike, title: 'Battery charged and tested' }])
    expect(settled.pinsCostMinor).toBeGreaterThan(500)
    done(await unpinTask({ bike, task: pin.task }, shop.manager))
    expect((await page()).pinsCostMinor).toBeNull()
    expect(await taskOf(bike, pin.task)).toMatchObject({ isPinned: false, from: { day: '2026-11-25' } })
  })

  it('is made without what cannot stand, and says why', async () => {
    const bike = await withJobs('battery-charge')
    const pin = { id: uuidv7(), bike, task: 'job:battery-charge', day: '2026-11-29', at: '10:00', doer: '' }
    done(await pinTask(pin, shop.manager))
    const plan = await page()
    expect(plan.pinProblem).toMatch(/./)
    expect(await taskOf(bike, pin.task)).toMatchObject({ isPinned: false })
  })

  it('is not held by a time of today that has gone by', async () => {
    const bike = await withJobs('battery-charge')
    const pin = { id: uuidv7(), bike, task: 'job:battery-charge', day: '2026-11-25', at: '10:00', doer: '' }
    done(await pinTask(pin, shop.manager))
    expect(await page()).toMatchObject({ pinProblem: null, pinsCostMinor: null })
    expect(await taskOf(bike, pin.task)).toMatchObject({ isPinned: false })
  })

  it('refuses a task that is none', async () => {
    const bike = await withJobs()
    const pin = { id: uuidv7(), bike, task: 'job:magic', day: '2026-12-01', at: '10:00', doer: '' }
    expect(refused(await pinTask(pin, shop.manager)).fields).toHaveProperty('task')
  })

  it('follows the work: what is begun goes on with whom is at it, what is done is gone', async () => {
    const bike = await withJobs('battery-charge', 'horn')
    const run = await begin(shop, { bike, job: 'horn' })
    expect(await taskOf(bike, 'job:horn')).toMatchObject({
      who: 'Tove',
      from: { day: '2026-11-25', minute: 720 },
    })
    // A person's own decision is known by its id to be of the true day of this run.
    const later = '2099-01-05T13:00:00Z'
    done(await finishJob({ run, version: 1 }, shop.at(shop.technician, later)))
    expect(await taskOf(bike, 'job:horn', new Date(later))).toBeUndefined()
  })

  it('gives its dates to the deal of the bike', async () => {
    const bike = await withJobs('seat-cover')
    const { viewingNo } = await shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })
    expect((await readBike(shop.store.db, viewingNo)).plannedReady).toBeNull()
    await page()
    const { plannedReady } = await readBike(shop.store.db, viewingNo)
    expect(plannedReady).toMatchObject({ bikeId: bike, startsOn: '2026-11-25' })
    expect(plannedReady!.middle).toBeGreaterThan(4)
    const days = async () =>
      (await readToWorkOut(shop.store.db, { bikeId: bike, now: testNow })).input.plannedDays
    expect(await days()).toMatchObject({ likely: plannedReady!.middle })
    // What is ready waits for no bench, whatever a plan of before says.
    await shop.store.db.bike.update({ where: { id: bike }, data: { stage: 'ready' } })
    expect(await days()).toBeUndefined()
  })

  it('leaves bikes that wait for an answer out, and names them', async () => {
    const bike = await withJobs('horn')
    await shop.store.db.bike.update({ where: { id: bike }, data: { stage: 'waiting for a decision' } })
    expect(await page()).toMatchObject({ bikes: [], waiting: [{ make: 'Calder' }] })
  })
})

describe('today at the bench', () => {
  it('has one’s own tasks first, and no money', async () => {
    await withJobs('battery-charge')
    const today = await readTodayPage(shop.store, testNow, technician())
    expect(today.mine).toMatchObject([{ title: 'Battery charged and tested' }, { kind: 'more' }])
    expect(today.byTheClock).toMatchObject([{ kind: 'wait' }])
    expect(today.others).toEqual([])
    expect(JSON.stringify(today)).not.toMatch(/minor|price|stands/i)
    const other = await readTodayPage(shop.store, testNow, shop.dealer.who!.personId)
    expect(other).toMatchObject({ mine: [], others: [{ who: 'Tove' }, { who: 'Tove' }] })
  })
})
