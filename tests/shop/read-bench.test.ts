import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { decide } from '../../lib/shop/decide'
import { declareOpen, finishJob, giveUpJob, pauseJob } from '../../lib/shop/job-runs'
import { readBench } from '../../lib/shop/read-bench'
import { recordReading } from '../../lib/shop/record-reading'
import { begin, onTheBench } from '../support/on-the-bench'
import { done, type OpenShop, openTestShop } from '../support/open-shop'
import { answer, look } from '../support/readings'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await onTheBench(shop))
  const answers: [string, string][] = [
    ['tank-inside', 'flakes'],
    ['intake-boots', 'cracked'],
  ]
  await answer(shop.technician, { bike, answers })
})
afterEach(() => shop.dispose())

const at = (instant: string, who = shop.technician) => shop.at(who, instant)
const read = (who = shop.technician) => readBench({ ...who, who: who.who! }, String(viewingNo))
const titles = (jobs: readonly { title: string }[]) => jobs.map(({ title }) => title)

describe('what is to do', () => {
  test('is what faults that are there ask for; what only a chance asks for stands apart', async () => {
    const { toDo, mayBeNeeded } = await read()
    expect(titles(toDo)).toEqual(['Intake boots renewed', 'Tank derusted and resealed'])
    expect(toDo.every(({ certain }) => certain)).toBe(true)
    expect(mayBeNeeded.length).toBeGreaterThan(3)
    expect(mayBeNeeded.some(({ certain }) => certain)).toBe(false)
  })

  test('has its hours with all its steps, the steps it shares, its parts and what it leaves open', async () => {
    const [boots, tank] = (await read()).toDo
    expect(tank?.faults).toEqual(['Tank rusting inside'])
    expect(tank?.steps.map(({ title }) => title)).toEqual(['Seat off', 'Tank off', 'Tank drained and filled'])
    expect(tank?.steps.find(({ title }) => title === 'Tank off')?.sharedWith).toContain(
      'Intake boots renewed',
    )
    expect(tank?.opens).toEqual(['fuel-off'])
    // Seat 0.05, tank 0.2, drained 0.1 h and its own at the low end; all of it more at the high end.
    expect(tank!.hours.low).toBeGreaterThan(0.35)
    expect(tank!.hours.high).toBeGreaterThan(tank!.hours.low)
    expect(boots?.parts.length).toBeGreaterThan(0)
    expect(tank?.cautions.length).toBeGreaterThan(0)
  })

  test('holds a job that a person described', async () => {
    const own = { title: 'Side stand welded', hours: { low: '1', likely: '2', high: '3' }, parts: [] }
    const decision = { id: uuidv7(), kind: 'add-job', key: `own-${uuidv7()}`, reason: 'hangs loose', own }
    done(await decide({ bike, decision }, shop.dealer))
    const job = (await read()).toDo.find(({ title }) => title === 'Side stand welded')
    expect(job).toMatchObject({ steps: [], opens: [] })
  })

  test('loses a job while that is under way', async () => {
    await begin(shop, { bike, job: 'tank-reseal', opens: ['fuel-off'] })
    const { toDo, underWay } = await read()
    expect(titles(toDo)).toEqual(['Intake boots renewed'])
    expect(titles(underWay)).toEqual(['Tank derusted and resealed'])
  })
})

describe('what is under way', () => {
  test('counts minutes until now, names who is at it and whether the reader is', async () => {
    const run = await begin(shop, { bike, job: 'tank-reseal', budgetHours: '0.5', stopOn: 'a hole' })
    const mine = (await read(at('2026-11-25T12:25:00Z'))).underWay[0]
    expect(mine).toMatchObject({
      id: run,
      minutes: 25,
      atIt: ['Tove'],
      mine: true,
      overBudget: false,
      stopOn: 'a hole',
    })
    const later = (await read(at('2026-11-25T12:31:00Z', shop.dealer))).underWay[0]
    expect(later).toMatchObject({ minutes: 31, mine: false, overBudget: true, runsSince: null })
    done(await pauseJob({ run, version: 1 }, at('2026-11-25T12:40:00Z')))
    const paused = (await read(at('2026-11-25T15:00:00Z'))).underWay[0]
    expect(paused).toMatchObject({ state: 'paused', minutes: 40, atIt: [], mine: false })
  })

  test('has its steps, parts and cautions, whether or not the fault it cures was found', async () => {
    await begin(shop, { bike, job: 'tank-reseal' })
    await begin(shop, { bike, job: 'front-pads', who: shop.dealer })
    const { underWay } = await read()
    const [tank, pads] = underWay
    expect(tank?.steps.map(({ title }) => title)).toEqual(['Seat off', 'Tank off', 'Tank drained and filled'])
    expect(tank?.cautions.map(({ title }) => title)).toContain('Petrol burns')
    expect(tank?.parts).toEqual([{ name: 'Cleaner and sealer kit', qty: 1 }])
    expect(pads?.parts.length).toBeGreaterThan(0)
    expect(pads?.cautions.map(({ title }) => title)).toContain('Brakes carry lives')
  })

  test('says that a clock runs since yesterday, by the day of the shop', async () => {
    await begin(shop, { bike, job: 'tank-reseal', who: at('2026-11-25T16:00:00Z') })
    expect((await read(at('2026-11-25T23:59:00Z'))).underWay[0]?.runsSince).toBeNull()
    expect((await read(at('2026-11-26T08:00:00Z'))).underWay[0]?.runsSince).toBe('2026-11-25T16:00:00.000Z')
  })
})

describe('what was done', () => {
  const finish = async () => {
    const run = await begin(shop, { bike, job: 'tank-reseal' })
    done(await finishJob({ run, version: 1, note: 'Two coats' }, at('2026-11-25T14:00:00Z')))
    return run
  }

  test('waits for the check that proves it, is proven by it, or is still there', async () => {
    await finish()
    const after = await read(at('2026-11-25T14:10:00Z'))
    expect(titles(after.toDo)).not.toContain('Tank derusted and resealed')
    expect(after.ended).toMatchObject([
      {
        minutes: 120,
        who: 'Tove',
        note: 'Two coats',
        outcome: { is: 'waits', rechecks: [{ check: 'tank-inside', title: 'Tank inside' }] },
      },
    ])
    const again = { takenAt: '2026-11-25T14:20:00Z' }
    const later = at('2026-11-25T14:30:00Z')
    done(await recordReading(look(bike, ['tank-inside', 'clean'], again), later))
    expect((await read(later)).ended[0]?.outcome).toEqual({ is: 'proven' })
    const worse = { takenAt: '2026-11-25T14:40:00Z' }
    const last = at('2026-11-25T14:50:00Z')
    done(await recordReading(look(bike, ['tank-inside', 'flakes'], worse), last))
    const { ended, toDo } = await read(last)
    expect(ended[0]?.outcome).toEqual({ is: 'still-there', faults: ['Tank rusting inside'] })
    expect(titles(toDo)).toContain('Tank derusted and resealed')
  })

  test('is told from what was given up, latest first', async () => {
    await finish()
    const run = await begin(shop, { bike, job: 'battery' })
    done(await giveUpJob({ run, version: 1, note: 'Not in stock' }, at('2026-11-25T14:30:00Z')))
    const { ended } = await read()
    expect(ended.map(({ outcome }) => outcome.is)).toEqual(['given-up', 'waits'])
  })

  test('that cures no fault found is simply done', async () => {
    const run = await begin(shop, { bike, job: 'battery' })
    done(await finishJob({ run, version: 1 }, at('2026-11-25T14:00:00Z')))
    expect((await read()).ended[0]?.outcome).toEqual({ is: 'done' })
  })
})

test('what is open stands with its tag, what putting it back means, who and for which job', async () => {
  await begin(shop, { bike, job: 'tank-reseal', opens: ['fuel-off'] })
  done(await declareOpen({ id: uuidv7(), bike, kind: 'axle-loose', note: 'Front' }, shop.dealer))
  expect((await read()).openStates).toMatchObject([
    {
      kind: 'fuel-off',
      job: 'Tank derusted and resealed',
      who: 'Tove',
      tag: expect.stringContaining('No ignition'),
    },
    { kind: 'axle-loose', job: null, who: 'Dele', note: 'Front' },
  ])
})

test('it holds no money and no seller, for whoever reads it', async () => {
  await begin(shop, { bike, job: 'tank-reseal', opens: ['fuel-off'] })
  for (const who of [shop.technician, shop.manager]) {
    const text = JSON.stringify(await read(who))
    expect(text).not.toMatch(/minor|margin|price|cost|seller|asking/i)
  }
})

test('it asks the database a fixed number of questions', async () => {
  await begin(shop, { bike, job: 'tank-reseal' })
  await read()
  const count = async () => {
    const before = shop.store.statementCount()
    await read()
    return shop.store.statementCount() - before
  }
  const once = await count()
  await begin(shop, { bike, job: 'intake-boots', who: shop.dealer })
  expect(await count()).toBe(once)
})

test.each(['999', '0', 'one', ''])('is refused for %s, which is no bike', async (number) => {
  const reading = readBench({ ...shop.technician, who: shop.technician.who! }, number)
  await expect(reading).rejects.toMatchObject({ plain: { kind: 'not-found' } })
})
