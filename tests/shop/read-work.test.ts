import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { setBikeLimit } from '../../lib/shop/bike-limit'
import { changeJob } from '../../lib/shop/change-job'
import { decide } from '../../lib/shop/decide'
import { readWork } from '../../lib/shop/read-work'
import { recordReading } from '../../lib/shop/record-reading'
import { done, type OpenShop, openTestShop } from '../support/open-shop'
import { answer, look, measured, takenIn } from '../support/readings'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

const read = (viewingNo: number) => readWork(shop.dealer, String(viewingNo))

/** Rust in the tank, cracked boots, a leaking tap: work that wants the tank off. */
async function rustyTank() {
  const taken = await takenIn(shop)
  await answer(shop.technician, {
    bike: taken.bike,
    answers: [
      ['tank-inside', 'flakes'],
      ['intake-boots', 'cracked'],
    ],
  })
  const added = { id: uuidv7(), kind: 'add-fault', key: 'fuel-tap-leak', reason: 'drips on to the case' }
  done(await decide({ bike: taken.bike, decision: added }, shop.dealer))
  return taken
}

describe('the work of a bike with rust in its tank', () => {
  test('takes the tank off once for several jobs, those certain to be done named first', async () => {
    const { viewingNo } = await rustyTank()
    const { savings, jobs } = await read(viewingNo)
    const tank = savings.find(({ title }) => title === 'Tank off')
    expect(tank?.certain).toEqual(['Fuel tap rebuilt', 'Intake boots renewed', 'Tank derusted and resealed'])
    // 0.3 h likely, stuck fasteners included: two of the three jobs are spared it, perhaps some more.
    expect(tank?.hours).toBeGreaterThan(2 * 0.3)
    expect(tank?.costMinor).toBeCloseTo((tank?.hours ?? 0) * 5200, 6)
    const titles = new Set(jobs.filter(({ certain }) => certain).map(({ title }) => title))
    for (const { certain, perhaps } of savings) {
      expect(certain.every((title) => titles.has(title))).toBe(true)
      expect(perhaps.some((title) => titles.has(title))).toBe(false)
    }
  })

  test('tells only savings that are worth a line, largest first', async () => {
    const { viewingNo } = await rustyTank()
    const hours = (await read(viewingNo)).savings.map((saving) => saving.hours)
    expect(hours.length).toBeGreaterThan(1)
    expect(Math.min(...hours)).toBeGreaterThanOrEqual(0.05)
    expect(hours).toEqual([...hours].sort((a, b) => b - a))
  })

  test('has lines that add up to its mean, with low, middle and high around it', async () => {
    const { viewingNo } = await rustyTank()
    const { jobs, cost, hours } = await read(viewingNo)
    const sum = (of: 'costMean' | 'hoursMean') => jobs.reduce((all, { adds }) => all + (adds?.[of] ?? 0), 0)
    expect(sum('costMean')).toBeCloseTo(cost.mean, 4)
    expect(sum('hoursMean')).toBeCloseTo(hours.mean, 6)
    for (const amount of [cost, hours]) {
      expect(amount.low).toBeLessThan(amount.middle)
      expect(amount.middle).toBeLessThan(amount.high)
      expect(amount.shape?.length).toBeGreaterThan(10)
    }
  })

  test('names faults severest first, each with what says so', async () => {
    const { viewingNo } = await rustyTank()
    const { faults } = await read(viewingNo)
    expect(faults.map(({ key, call }) => [key, call])).toEqual([
      ['fuel-tap-leak', 'stop'],
      ['intake-boots-cracked', 'must'],
      ['tank-rust', 'must'],
    ])
    expect(faults[0]?.decisions).toMatchObject([
      { kind: 'add-fault', reason: 'drips on to the case', who: 'Dele', version: 1 },
    ])
    expect(faults[2]?.why).toMatchObject([
      {
        check: 'tank-inside',
        round: 'cold',
        verdict: 'outside',
        readings: [{ value: 'Rust flakes', unit: null, who: 'Tove', takenAt: '2026-11-25T11:58:00.000Z' }],
        sources: [{ kind: 'common practice' }],
      },
    ])
    expect(faults[2]?.rechecks).toEqual(['Tank inside'])
  })

  test('expects of the faults nobody has seen what their jobs and they themselves add', async () => {
    const { viewingNo } = await rustyTank()
    const { unseen, jobs } = await read(viewingNo)
    expect(unseen.length).toBeGreaterThan(5)
    expect(unseen.every(({ chance }) => chance > 0 && chance < 1)).toBe(true)
    expect(unseen.map(({ key }) => key)).not.toContain('tank-rust')
    // Whatever only unseen faults ask for is shared out among them, and nothing beside it but what is left.
    const perhaps = jobs.filter(({ certain }) => !certain)
    const ofJobs = perhaps.reduce((sum, { adds }) => sum + (adds?.costMean ?? 0), 0)
    const all = unseen.reduce((sum, { expectedMinor }) => sum + expectedMinor, 0)
    expect(all).toBeGreaterThanOrEqual(ofJobs - 1e-6)
  })
})

describe('what a line opens to', () => {
  test('is the reading with its unit, place, person and instrument, and the limit with its source', async () => {
    const { bike, viewingNo } = await takenIn(shop)
    const limit = { id: uuidv7(), bike, check: 'disc-front-left', source: 'stamped', min: '4.5', max: '' }
    done(await setBikeLimit({ ...limit, asNew: '5', unit: 'mm' }, shop.technician))
    for (const position of ['a', 'b', 'c', 'd']) {
      const reading = { check: 'disc-front-left', position, instrument: 'micrometer' }
      done(await recordReading(measured(bike, '4.31', reading), shop.technician))
    }
    const [thin] = (await read(viewingNo)).faults
    expect(thin?.key).toBe('front-discs-thin')
    const [why] = thin?.why ?? []
    expect(why?.readings).toHaveLength(4)
    expect(why?.readings[0]).toMatchObject({
      value: '4.31',
      unit: 'mm',
      position: 'In line with the valve',
      who: 'Tove',
      instrument: expect.stringContaining('icrometer'),
    })
    expect(why?.limits).toMatchObject([{ at: [], words: 'at least 4.5 mm' }])
    expect(why?.sources).toMatchObject([{ kind: 'stamped', says: 'stamped on the part' }])
  })
})

describe('what is left', () => {
  test('says what it takes off, what doing it costs, and what that gains', async () => {
    const { bike, viewingNo } = await takenIn(shop)
    await answer(shop.technician, { bike, answers: [['intake-boots', 'hairline']] })
    const [left] = (await read(viewingNo)).left
    expect(left).toMatchObject({ key: 'intake-boots-hard', call: 'pays' })
    // 40 taken off where it is left; by a small chance the boots are cracked as well and renewed anyway.
    expect(left?.saleOffMinor).toBeLessThanOrEqual(4000)
    expect(left?.saleOffMinor).toBeGreaterThan(3800)
    expect(left?.doing).toMatchObject({ job: 'intake-boots', title: 'Intake boots renewed', pays: false })
    expect(left?.doing?.costMeanMinor).toBeGreaterThan(4000)
    expect(left?.doing?.gainMinor).toBeLessThan(0)
  })

  test('knows no gain without a sale price', async () => {
    const { bike, viewingNo } = await takenIn(shop, { saleLow: '', saleLikely: '', saleHigh: '' })
    await answer(shop.technician, { bike, answers: [['intake-boots', 'hairline']] })
    const { left, cost } = await read(viewingNo)
    expect(left[0]?.doing).toMatchObject({ gainMinor: null, pays: null })
    expect(cost.shape?.length).toBeGreaterThan(10)
  })
})

describe('hours and prices', () => {
  test('rest on starting values until the shop sets its own', async () => {
    const { viewingNo } = await rustyTank()
    const resting = async () => (await read(viewingNo)).jobs.find(({ key }) => key === 'tank-reseal')?.resting
    expect(await resting()).toBe(true)
    const zero = { low: '', likely: '0', high: '' }
    const figures = { hours: { ...zero, likely: '2' }, outsideWork: zero, parts: {} }
    done(await changeJob({ key: 'tank-reseal', version: 0, ...figures }, shop.manager))
    expect(await resting()).toBe(false)
  })
})

describe('the next step', () => {
  test('is the cold round while it is not done', async () => {
    const { bike, viewingNo } = await takenIn(shop)
    expect((await read(viewingNo)).coldRound).toEqual({ started: false })
    done(await recordReading(look(bike, ['tank-inside', 'clean']), shop.technician))
    expect((await read(viewingNo)).coldRound).toEqual({ started: true })
  })
})

describe('reading it', () => {
  test('asks the database twenty questions: the bike and its thirteen tables, the shop and its two, prices noted, suppliers, the people', async () => {
    const { viewingNo } = await rustyTank()
    await read(viewingNo)
    const before = shop.store.statementCount()
    await read(viewingNo)
    expect(shop.store.statementCount() - before).toBe(20)
  })

  test.each(['999', '0', '-1', 'one', '1e3', ''])('is refused for %s, which is no bike', async (number) => {
    await expect(readWork(shop.dealer, number)).rejects.toMatchObject({ plain: { kind: 'not-found' } })
  })

  test('offers for adding only what is not there, and jobs that fit the kind of bike', async () => {
    const { viewingNo } = await rustyTank()
    const { addable } = await read(viewingNo)
    const faults = addable.faults.map(({ key }) => key)
    expect(faults).not.toContain('tank-rust')
    expect(faults).toContain('no-charge')
    expect(faults).not.toContain('belt-worn')
    const jobs = addable.jobs.map(({ key }) => key)
    expect(jobs).not.toContain('tank-reseal')
    expect(jobs).toContain('valve-clearances')
    expect(addable.allJobs.map(({ key }) => key)).toContain('tank-reseal')
  })
})
