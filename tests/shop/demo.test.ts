import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type BikeToWorkOut, workOut } from '../../lib/core/board/bike-result'
import { judge } from '../../lib/core/checks/judge'
import { checkChain } from '../../lib/data/events'
import { makeDemo } from '../../lib/desk/demo/make-demo'
import type { Context } from '../../lib/shop/deed'
import { readBike, readShopAndLimits, toWorkOut } from '../../lib/shop/facts'
import { boardAsked, readBoard } from '../../lib/shop/read-board'
import { readDemoPeople } from '../../lib/shop/read-sign-in'
import { recordReading } from '../../lib/shop/record-reading'
import type { Role } from '../../lib/shop/who-may'
import { done, testNow } from '../support/open-shop'
import { look } from '../support/readings'
import { type FreshFolder, freshFolder } from '../support/shop-folder'

/*
 * The invented shop, told once for all of these. Its prices, shares and hours are invented; what is tried is
 * that each story still shows what it was made to show.
 */

let fresh: FreshFolder
beforeAll(async () => {
  fresh = await freshFolder()
  await makeDemo(fresh.store, testNow, () => {})
}, 180_000)
afterAll(() => fresh.dispose())

async function askedOf(name: string): Promise<BikeToWorkOut & { bike: string }> {
  const { store } = fresh
  const named = (await store.db.bike.findMany()).filter(({ make, model }) => `${make} ${model}` === name)
  expect(named, name).toHaveLength(1)
  const bike = await readBike(store.db, named[0]!.viewingNo)
  const { shop, ownLimits } = await readShopAndLimits(store.db, { bikeId: bike.id, now: testNow })
  return { ...toWorkOut(bike, { shop, ownLimits, now: testNow }), bike: bike.id }
}

const judgementOf = (result: ReturnType<typeof workOut>, check: string) =>
  result.judgements.find((one) => one.check === check)!
const faultOf = (result: ReturnType<typeof workOut>, key: string) =>
  result.faults.find(({ fault }) => fault === key)!

/** One check judged by some of its readings only. */
function judgedBy(asked: BikeToWorkOut, given: { check: string; readings: BikeToWorkOut['readings'] }) {
  const { catalogue, limits, kind, asOf, figures } = asked
  const check = catalogue.checks.find(({ key }) => key === given.check)!
  return judge({ check, readings: given.readings, limits, kind, asOf, ages: figures.tyreAges })
}

async function technician(): Promise<Context> {
  const { store } = fresh
  const person = await store.db.person.findFirstOrThrow({ where: { name: 'Wyn' } })
  const who = {
    personId: person.id,
    name: person.name,
    roles: ['technician'] as readonly Role[],
    deviceId: null,
  }
  return { store, now: testNow, who, deviceId: null }
}

describe('the invented shop', () => {
  test('has six bikes, three people who can sign in, and an unbroken chain of events', async () => {
    const { store } = fresh
    expect(await store.db.bike.count()).toBe(6)
    expect((await readDemoPeople(store))?.map(({ name }) => name)).toEqual(['Maren', 'Idris', 'Wyn'])
    expect(await checkChain(store.db)).toMatchObject({ ok: true })
  })

  test('happened before the day it was made, and no value was taken after it was received', async () => {
    const { store } = fresh
    const readings = await store.db.reading.findMany({ select: { takenAt: true, receivedAt: true } })
    expect(readings.length).toBeGreaterThan(100)
    expect(readings.filter(({ takenAt, receivedAt }) => takenAt > receivedAt)).toEqual([])
    const last = await store.db.event.findFirstOrThrow({ orderBy: { at: 'desc' } })
    expect(last.at.getTime()).toBeLessThanOrEqual(testNow.getTime())
  })

  test('has its dearly bought bike last by margin, and no row without one', async () => {
    const { lines } = await readBoard(fresh.store, testNow, boardAsked.parse({}))
    expect(lines).toHaveLength(6)
    expect(lines.every(({ marginMean }) => marginMean !== null)).toBe(true)
    expect(lines.at(-1)).toMatchObject({ make: 'Calder', model: '900', stage: 'on the bench' })
    expect(lines.at(-1)!.marginMean).toBeLessThan(0)
  }, 60_000)
})

describe('the story of', () => {
  test('the rusty tank: it comes off once for jobs that would each take it off, and that saves over an hour', async () => {
    const result = workOut(await askedOf('Calder 600 four'))
    const certain = result.estimate.lines.filter(({ chance }) => chance === 1).map(({ key }) => key)
    const needed = ['intake-boots', 'carburettor-clean', 'tank-reseal', 'valve-clearances']
    expect(certain).toEqual(expect.arrayContaining(needed))
    const tank = result.savings.find(({ operation }) => operation === 'tank-off')!
    const titles = result.jobs.filter(({ key }) => needed.includes(key)).map(({ title }) => title)
    expect(tank.jobs).toEqual(expect.arrayContaining(titles))
    expect(tank.hoursSavedMean).toBeGreaterThan(1)
    expect(tank.costSavedMeanMinor).toBeCloseTo(tank.hoursSavedMean * 5200, 6)
    const carburettors = result.savings.find(({ operation }) => operation === 'carbs-off')!
    expect(carburettors.hoursSavedMean).toBeGreaterThan(0)
  })

  test('the worn discs: the calliper leaves the left one too close to call, the micrometer finds it within', async () => {
    const asked = await askedOf('Ostrel 750')
    const left = asked.readings.filter(({ check }) => check === 'disc-front-left')
    const byCalliper = left.filter(({ supersedes }) => supersedes === null)
    expect(judgedBy(asked, { check: 'disc-front-left', readings: byCalliper }).verdict).toBe('too-close')
    const result = workOut(asked)
    expect(judgementOf(result, 'disc-front-left')).toMatchObject({ verdict: 'within', belowSaleLine: true })
  })

  test('the worn discs: the right one looks well at one place of four, and is outside by all four', async () => {
    const asked = await askedOf('Ostrel 750')
    const [first] = asked.readings.filter(({ check }) => check === 'disc-front-right')
    const one = judgedBy(asked, { check: 'disc-front-right', readings: [first!] })
    expect(one).toMatchObject({ verdict: 'not-judged', why: 'too-few' })
    expect(one.says).toContain('1 of 4')
    const result = workOut(asked)
    expect(judgementOf(result, 'disc-front-right')).toMatchObject({ verdict: 'outside' })
    expect(faultOf(result, 'front-discs-thin')).toMatchObject({ state: 'found', call: 'stop' })
  })

  test('the old tyre: over nineteen years, deep tread or not, so it must be renewed', async () => {
    const result = workOut(await askedOf('Mirefield 500 twin'))
    const age = judgementOf(result, 'tyre-date-rear')
    expect(age).toMatchObject({
      verdict: 'outside',
      found: { sort: 'code', tyre: { certain: true, week: 22, year: 2007 } },
    })
    if (age.verdict !== 'outside' || age.found.sort !== 'code') throw new Error('no age was found')
    expect(age.found.ageYears).toBeGreaterThan(19)
    expect(age.found.ageYears).toBeLessThan(20)
    expect(judgementOf(result, 'tread-rear').verdict).toBe('within')
    expect(faultOf(result, 'rear-tyre-too-old')).toMatchObject({ state: 'found', call: 'must' })
    expect(result.jobs.find(({ key }) => key === 'rear-tyre')).toMatchObject({ state: 'in', chance: 1 })
  })

  test('the flat battery: one of three causes, and a look at the connector leaves one', async () => {
    const before = workOut(await askedOf('Vantry 650'))
    const shares = faultOf(before, 'no-charge').causes.map(({ job, share }) => [job, share])
    expect(faultOf(before, 'no-charge')).toMatchObject({ state: 'found', call: 'must' })
    expect(shares).toEqual([
      ['charging-connector', expect.closeTo(0.4, 9)],
      ['regulator', expect.closeTo(0.4, 9)],
      ['stator', expect.closeTo(0.2, 9)],
    ])
    const { bike } = await askedOf('Vantry 650')
    done(await recordReading(look(bike, ['charging-connector', 'browned']), await technician()))
    const after = workOut(await askedOf('Vantry 650'))
    expect(faultOf(after, 'no-charge').causes).toEqual([{ job: 'charging-connector', share: 1 }])
    const chances = after.estimate.lines.filter(({ key }) => shares.some(([job]) => job === key))
    expect(chances.filter(({ chance }) => chance > 0)).toMatchObject([
      { key: 'charging-connector', chance: 1 },
    ])
    expect(after.estimate.cost.mean).toBeLessThan(before.estimate.cost.mean)
  })

  test('two jobs nobody needs: the repaint is a loss either way, the seat cover pays on an idle bench', async () => {
    const asked = await askedOf('Kestwick 750')
    const doing = (labourCostMinor: number) => {
      const { left } = workOut({ ...asked, figures: { ...asked.figures, labourCostMinor } })
      return Object.fromEntries(left.flatMap(({ doing }) => (doing ? [[doing.job, doing]] : [])))
    }
    expect(asked.figures.labourCostMinor).toBe(5200)
    expect(doing(5200)).toMatchObject({ 'tank-repaint': { pays: false }, 'seat-cover': { pays: false } })
    expect(doing(0)).toMatchObject({ 'tank-repaint': { pays: false }, 'seat-cover': { pays: true } })
  })
})
