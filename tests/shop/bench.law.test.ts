import fc from 'fast-check'
import { uuidv7 } from 'uuidv7'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { fitsKind, usualKind } from '../../lib/core/checks/bike-kind'
import type { Check } from '../../lib/core/checks/catalogue'
import { judgeBike } from '../../lib/core/checks/judge-bike'
import { type OpenStateKind, openStateKinds } from '../../lib/core/checks/open-states'
import { setBikeLimit } from '../../lib/shop/bike-limit'
import { clearLock } from '../../lib/shop/clear-lock'
import { decide } from '../../lib/shop/decide'
import type { Context, DeedResult } from '../../lib/shop/deed'
import { readToWorkOut } from '../../lib/shop/facts'
import { declareOpen, finishJob, giveUpJob, pauseJob, putBack, startJob } from '../../lib/shop/job-runs'
import { answerQuestion, askManager } from '../../lib/shop/questions'
import { makeReady, sayReady } from '../../lib/shop/ready'
import { recordReading } from '../../lib/shop/record-reading'
import { rideIn, rideOut } from '../../lib/shop/rides'
import { takeInBike } from '../../lib/shop/take-in-bike'
import { chainDriven, done, type OpenShop, openTestShop, viewing } from '../support/open-shop'

/*
 * Any sequence of deeds at one bike against a model that knows far less than the program: the last answer of a few
 * checks, what is open and what was worked on. It cannot say when a round opens; it can say when it must not.
 */

const kind = { ...usualKind, ...chainDriven }

/** Checks that the sequences answer, with a good answer, bad ones, and jobs that work on what they look at. */
const watched = {
  'fuel-leaks': { good: 'dry', bad: ['damp', 'wet'], jobs: ['fuel-lines', 'fuel-tap'] },
  'oil-smell': { good: 'oil', bad: ['petrol'], jobs: ['petrol-out-of-oil'] },
  'front-brake-lever': { good: 'firm', bad: ['spongy', 'none'], jobs: ['front-brake-fluid'] },
  'brake-lamp': { good: 'works', bad: ['one-switch', 'dead'], jobs: [] },
  // Gates nothing, and must be right before the bike is ready.
  'intake-boots': { good: 'whole', bad: ['cracked'], jobs: ['intake-boots'] },
} as const
type Watched = keyof typeof watched
const watchedKeys = Object.keys(watched) as Watched[]
const jobs = watchedKeys.flatMap((key) => [...watched[key].jobs])
const stateKinds = Object.keys(openStateKinds) as OpenStateKind[]

const dayMs = 24 * 3_600_000

type Model = {
  last: Map<Watched, { value: string; at: number }>
  /** When work on what a check looks at was last begun, paused or finished. */
  touched: Map<Watched, number>
  underWay: Set<string>
  /** Faults that only the job clears, by when they were found; gone from here once such a job was finished. */
  stuck: Map<string, number>
  /** A manager took the faults of it back, with a reason. */
  dropped: Set<Watched>
  open: Set<OpenStateKind>
  readings: number
}

type Real = {
  shop: OpenShop
  bike: string
  now: number
  seen: Record<'running' | 'road' | 'ready' | 'refused' | 'started' | 'finished', number>
}

let shop: OpenShop
beforeAll(async () => {
  shop = await openTestShop()
})
afterAll(() => shop.dispose())

const at = (real: Real, who: Context): Context => ({ ...who, now: new Date(real.now) })
const accepted = (result: DeedResult<unknown>) => result.ok
const good = (model: Model, key: Watched) => model.last.get(key)?.value === watched[key].good
const isFresh = (model: Model, real: Real, key: Watched) => {
  const { at: taken } = model.last.get(key) ?? { at: Number.NEGATIVE_INFINITY }
  return real.now - taken <= dayMs && taken > (model.touched.get(key) ?? Number.NEGATIVE_INFINITY)
}

type Step = { says: string; run: (model: Model, real: Real) => Promise<void> }

/** One deed, a minute after the one before, then everything that must hold whatever came before. */
class Deed implements fc.AsyncCommand<Model, Real> {
  constructor(private readonly step: Step) {}
  check = () => true
  toString = () => this.step.says
  async run(model: Model, real: Real): Promise<void> {
    real.now += 60_000
    await this.step.run(model, real)
    await mustHold(model, real)
  }
}

async function mustHold(model: Model, real: Real): Promise<void> {
  const { db } = real.shop.store
  const { input, bike, shop: facts } = await readToWorkOut(db, { bikeId: real.bike, now: new Date(real.now) })
  const { faults, locks } = judgeBike({ ...input, ages: facts.figures.tyreAges })
  const isOpen = (round: string) => locks.find((lock) => lock.round === round)?.open === true

  if (isOpen('running')) {
    real.seen.running += 1
    for (const key of ['fuel-leaks', 'oil-smell'] as const) {
      expect(good(model, key), `${key} is good while the engine may run`).toBe(true)
      expect(isFresh(model, real, key), `${key} is fresh while the engine may run`).toBe(true)
    }
    const engine = [...model.open].filter((one) => openStateKinds[one].locks.some((lock) => lock !== 'road'))
    expect(engine, 'nothing is open that an engine needs').toEqual([])
  }
  if (isOpen('road')) {
    real.seen.road += 1
    for (const key of ['fuel-leaks', 'front-brake-lever'] as const) {
      expect(good(model, key), `${key} is good while the road is open`).toBe(true)
      expect(isFresh(model, real, key), `${key} is fresh while the road is open`).toBe(true)
    }
    expect([...model.open], 'nothing is open on the road').toEqual([])
    expect([...model.underWay], 'no work is begun on the road').toEqual([])
  }
  for (const key of watchedKeys) {
    const answer = model.last.get(key)?.value
    if (answer === undefined || answer === watched[key].good) continue
    for (const fault of raisedBy(key, answer)) {
      const state = faults.find((one) => one.fault === fault)?.state
      expect(['found', 'dropped'], `${fault} stays until its recheck is good`).toContain(state)
    }
  }
  for (const fault of model.stuck.keys()) {
    const state = faults.find((one) => one.fault === fault)?.state
    expect(['found', 'dropped'], `${fault} stays until its job is done`).toContain(state)
  }
  const kept = await db.reading.count({ where: { bikeId: real.bike } })
  expect(kept, 'no reading is lost').toBe(model.readings)
  if (bike.stage === 'ready') real.seen.ready += 1
}

const jobOnly = new Set(
  startingCatalogue.faults.filter(({ clearedBy }) => clearedBy === 'job').map(({ key }) => key),
)

function curedBy(job: string): string[] {
  return startingCatalogue.faults.filter(({ jobs }) => jobs.includes(job)).map(({ key }) => key)
}

function raisedBy(key: Watched, answer: string): string[] {
  const check = startingCatalogue.checks.find((one) => one.key === key)!
  return check.raises.flatMap((raise) =>
    'fault' in raise && raise.when.on === 'answer' && raise.when.answer === answer ? [raise.fault] : [],
  )
}

const record = (key: Watched, value: string): Step => ({
  says: `record ${key} ${value}`,
  run: async (model, real) => {
    const body = { id: uuidv7(), bike: real.bike, check: key, kind: 'answer', value, takenAt: iso(real) }
    const conditions = startingCatalogue.checks.find((one) => one.key === key)?.conditions ?? []
    // Whatever is shut, recording is not.
    done(await recordReading({ ...body, conditions: [...conditions] }, at(real, real.shop.technician)))
    model.readings += 1
    model.last.set(key, { value, at: real.now })
    for (const fault of raisedBy(key, value)) if (jobOnly.has(fault)) model.stuck.set(fault, real.now)
  },
})

/** A person has one clock: whatever it runs for is paused first. */
async function pauseOwn(real: Real): Promise<void> {
  const { db } = real.shop.store
  const personId = real.shop.technician.who!.personId
  const mine = await db.jobSpell.findFirst({ where: { personId, endedAt: null }, include: { run: true } })
  if (!mine) return
  const { id: run, version } = mine.run
  done(await pauseJob({ run, version }, at(real, real.shop.technician)))
}

const start = (job: string, opens: OpenStateKind[]): Step => ({
  says: `start ${job} ${opens.join(' ')}`,
  run: async (model, real) => {
    await pauseOwn(real)
    const result = await startJob(
      { run: uuidv7(), bike: real.bike, job, opens },
      at(real, real.shop.technician),
    )
    if (!accepted(result)) return
    real.seen.started += 1
    model.underWay.add(job)
    for (const state of opens) model.open.add(state)
    touch(model, real, job)
  },
})

const endOf = (deed: 'finish' | 'give up' | 'pause', job: string): Step => ({
  says: `${deed} ${job}`,
  run: async (model, real) => {
    const run = await real.shop.store.db.jobRun.findFirst({
      where: { bikeId: real.bike, job },
      orderBy: { startedAt: 'desc' },
    })
    if (!run) return
    const ofRun = { run: run.id, version: run.version }
    const context = at(real, real.shop.technician)
    const result = await {
      finish: () => finishJob(ofRun, context),
      'give up': () => giveUpJob({ ...ofRun, note: 'not today' }, context),
      pause: () => pauseJob(ofRun, context),
    }[deed]()
    if (!accepted(result) || deed === 'pause') return
    real.seen.finished += 1
    if (deed === 'finish') for (const fault of curedBy(job)) model.stuck.delete(fault)
    model.underWay.delete(job)
    touch(model, real, job)
  },
})

function touch(model: Model, real: Real, job: string): void {
  for (const key of watchedKeys) {
    if ((watched[key].jobs as readonly string[]).includes(job)) model.touched.set(key, real.now)
  }
}

const declare = (state: OpenStateKind): Step => ({
  says: `open ${state}`,
  run: async (model, real) => {
    // Said twice it is refused, and open all the same.
    await declareOpen({ id: uuidv7(), bike: real.bike, kind: state }, at(real, real.shop.technician))
    model.open.add(state)
  },
})

const close = (state: OpenStateKind): Step => ({
  says: `put back ${state}`,
  run: async (model, real) => {
    const rows = await real.shop.store.db.openState.findMany({
      where: { bikeId: real.bike, kind: state, putBackAt: null },
    })
    for (const { id, version } of rows)
      done(await putBack({ state: id, version, inOrder: 'yes' }, at(real, real.shop.technician)))
    model.open.delete(state)
  },
})

/** Begun and finished in one go, as most work is. */
const repair = (job: string): Step => ({
  says: `repair ${job}`,
  run: async (model, real) => {
    await start(job, []).run(model, real)
    real.now += 60_000
    await endOf('finish', job).run(model, real)
  },
})

/** A manager tries to talk every lock open. */
const clearAll: Step = {
  says: 'clear every lock',
  run: async (_model, real) => {
    const named = [
      ...watchedKeys.map((key) => `check:${key}`),
      ...watchedKeys.flatMap((key) => watched[key].bad.flatMap((answer) => raisedBy(key, answer))),
    ]
    for (const fault of named)
      await clearLock({ bike: real.bike, fault, reason: 'it will be all right' }, at(real, real.shop.manager))
  },
}

const drop = (key: Watched): Step => ({
  says: `drop the faults of ${key}`,
  run: async (model, real) => {
    model.dropped.add(key)
    for (const fault of watched[key].bad.flatMap((answer) => raisedBy(key, answer))) {
      const decision = { id: uuidv7(), kind: 'drop-fault', key: fault, reason: 'I do not believe it' }
      await decide({ bike: real.bike, decision }, at(real, real.shop.manager))
    }
  },
})

const ask: Step = {
  says: 'ask, and be answered',
  run: async (_model, real) => {
    const question = uuidv7()
    const body = { question, bike: real.bike, asks: 'cams scored', moreHours: '3' }
    if (!accepted(await askManager(body, at(real, real.shop.technician)))) return
    done(
      await answerQuestion(
        { question, version: 1, answer: 'go on', budgetHours: '4', note: '' },
        at(real, real.shop.manager),
      ),
    )
  },
}

const ride: Step = {
  says: 'ride out and in, look again, call it ready',
  run: async (model, real) => {
    const id = uuidv7()
    const papers = { rider: 'Tove', licence: 'seen', cover: 'trade cover', plates: 'trade plates' }
    const out = { ride: id, bike: real.bike, purpose: 'final', ...papers, unit: 'mi', distanceOut: '31300' }
    const isOut = accepted(await rideOut(out, at(real, real.shop.dealer)))
    if (isOut) {
      expect([...model.open, ...model.underWay], 'nothing rides with work open').toEqual([])
      real.now += 60_000
      done(await rideIn({ ride: id, version: 1, distanceIn: '31304' }, at(real, real.shop.dealer)))
    }
    real.now += 60_000
    done(
      await sayReady({ id: uuidv7(), bike: real.bike, point: 'second-person' }, at(real, real.shop.dealer)),
    )
    const { version } = await real.shop.store.db.bike.findUniqueOrThrow({ where: { id: real.bike } })
    const result = await makeReady({ bike: real.bike, version }, at(real, real.shop.manager))
    if (!result.ok) {
      real.seen.refused += 1
      return
    }
    for (const key of watchedKeys) {
      // What gates the road is answered by no reason, only by a good answer.
      const mayBeBad = key === 'intake-boots' && model.dropped.has(key)
      expect(mayBeBad || good(model, key), `${key} is good on a bike that is ready`).toBe(true)
    }
    expect([...model.open, ...model.underWay], 'nothing is open on a bike that is ready').toEqual([])
  },
}

const wait = (hours: number): Step => ({
  says: `wait ${hours} h`,
  run: async (_model, real) => {
    real.now += hours * 3_600_000
  },
})

const steps: fc.Arbitrary<Step> = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom(...watchedKeys).map((key) => record(key, watched[key].good)) },
  {
    weight: 4,
    arbitrary: fc
      .constantFrom(...watchedKeys)
      .chain((key) => fc.constantFrom(...watched[key].bad).map((value) => record(key, value))),
  },
  {
    weight: 2,
    arbitrary: fc
      .tuple(fc.constantFrom(...jobs), fc.subarray(stateKinds, { maxLength: 1 }))
      .map(([job, opens]) => start(job, opens)),
  },
  {
    weight: 4,
    arbitrary: fc
      .tuple(
        fc.constantFrom('finish' as const, 'give up' as const, 'pause' as const),
        fc.constantFrom(...jobs),
      )
      .map(([deed, job]) => endOf(deed, job)),
  },
  { weight: 4, arbitrary: fc.constantFrom(...jobs).map(repair) },
  { weight: 1, arbitrary: fc.constantFrom(...stateKinds).map(declare) },
  { weight: 3, arbitrary: fc.constantFrom(...stateKinds).map(close) },
  { weight: 2, arbitrary: fc.constantFrom(clearAll, ask) },
  { weight: 1, arbitrary: fc.constantFrom(...watchedKeys).map(drop) },
  { weight: 5, arbitrary: fc.constant(ride) },
  { weight: 1, arbitrary: fc.constantFrom(2, 23, 60).map(wait) },
)

/** A bike on the bench that was looked at all round this morning and found good. */
async function soundBike(): Promise<Pick<Real, 'bike' | 'now'> & { readings: number }> {
  const taken = viewing()
  done(await takeInBike(taken, shop.dealer))
  const { db } = shop.store
  await db.bike.update({ where: { id: taken.id }, data: { stage: 'on the bench' } })
  const now = shop.manager.now.getTime()
  let readings = 0
  for (const check of startingCatalogue.checks) {
    const needed = check.gate || (check.sort === 'measured' && check.fastener) || check.key in watched
    if (!needed || !fitsKind(kind, check.appliesTo)) continue
    readings += await answerWell(check, taken.id)
  }
  return { bike: taken.id, now, readings }
}

async function answerWell(check: Check, bike: string): Promise<number> {
  const common = {
    bike,
    check: check.key,
    conditions: [...(check.conditions ?? [])],
    takenAt: shop.manager.now.toISOString(),
  }
  const put = async (rest: object) =>
    done(await recordReading({ ...common, id: uuidv7(), ...rest }, shop.technician))
  if (check.sort === 'look') {
    const answer = check.answers.find(({ tone }) => tone === 'good')!
    await put({ kind: 'answer', value: answer.key })
    return 1
  }
  if (check.sort !== 'measured') throw new Error(`${check.key} gates by a ${check.sort}`)
  const { min, max } = check.plausible
  const limit = { min: String(min), max: String(max), unit: check.unit }
  const input = { id: uuidv7(), bike, check: check.key, source: 'maker', ...limit }
  if (!check.limit && !check.law) done(await setBikeLimit(input, shop.technician))
  const between = { from: check.limit?.min ?? min, to: check.limit?.max ?? max }
  const value = String(Math.round(((between.from + between.to) / 2) * 100) / 100)
  const places = check.positions.length > 0 ? check.positions.map(({ key }) => key) : [null]
  const { needsEngineSpeed } = check
  for (const position of places)
    await put({
      kind: 'measured',
      position,
      value,
      unit: check.unit,
      ...(needsEngineSpeed && { engineSpeed: 5000 }),
    })
  return places.length
}

const iso = (real: Real) => new Date(real.now).toISOString()

describe('any sequence of deeds at a bike', () => {
  it('opens no locked round, closes no fault without its recheck, makes nothing ready with a must open, loses no reading', async () => {
    const seen = { running: 0, road: 0, ready: 0, refused: 0, started: 0, finished: 0 }
    await fc.assert(
      fc.asyncProperty(
        fc.commands([steps.map((step) => new Deed(step))], { maxCommands: 14, size: '+1' }),
        async (commands) => {
          const { readings, ...real } = await soundBike()
          const model = (): Model => ({
            last: new Map(watchedKeys.map((key) => [key, { value: watched[key].good, at: real.now }])),
            touched: new Map(),
            underWay: new Set(),
            dropped: new Set(),
            stuck: new Map(),
            open: new Set(),
            readings,
          })
          await fc.asyncModelRun(() => ({ model: model(), real: { ...real, shop, seen } }), commands)
        },
      ),
      { seed: 20261125, numRuns: 40, endOnFailure: true },
    )
    // Without these the sequences would have proved nothing.
    for (const [what, times] of Object.entries(seen)) expect(times, what).toBeGreaterThan(0)
  }, 300_000)
})
