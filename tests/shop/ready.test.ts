import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { noteRegister } from '../../lib/shop/identity'
import { declareOpen, finishJob, giveUpJob, putBack, startJob } from '../../lib/shop/job-runs'
import { readBench } from '../../lib/shop/read-bench'
import { makeReady, readReady, readReadyLacks, sayReady } from '../../lib/shop/ready'
import { recordReading } from '../../lib/shop/record-reading'
import { backOnBench } from '../../lib/shop/stages'
import { onTheBench, started } from '../support/on-the-bench'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { look } from '../support/readings'
import { findSound } from '../support/sound-bike'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await onTheBench(shop))
})
afterEach(() => shop.dispose())

const at = (instant: string, who = shop.dealer) => shop.at(who, instant)
const evening = '2026-11-25T18:00:00Z'
const lacks = async (instant = evening) =>
  (await readReadyLacks(shop.store.db, { bikeId: bike, now: new Date(instant) })).map(({ about }) => about)
const stage = async () => (await shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })).stage
const secondLook = (who = shop.dealer, instant = '2026-11-25T17:00:00Z') =>
  sayReady({ id: uuidv7(), bike, point: 'second-person', note: '' }, at(instant, who))

async function finalRide(inAt = '2026-11-25T16:30:00Z') {
  const papers = { rider: 'Dele', licence: 'seen', cover: 'trade policy', plates: 'trade plates' }
  await shop.store.db.ride.create({
    data: {
      ...papers,
      id: uuidv7(),
      bikeId: bike,
      purpose: 'final',
      unit: 'mi',
      distanceOut: 31200,
      outAt: new Date('2026-11-25T16:10:00Z'),
      distanceIn: 31206,
      inAt: new Date(inAt),
      personId: shop.dealer.who!.personId,
    },
  })
}

/** Pads done by the technician, everything read since, ridden, and looked at by the dealer. */
async function allDone() {
  const run = uuidv7()
  done(await startJob(started(bike, { run }), shop.technician))
  done(await finishJob({ run, version: 1 }, at('2026-11-25T14:00:00Z', shop.technician)))
  await findSound(at('2026-11-25T16:00:00Z', shop.technician), { bike, takenAt: '2026-11-25T15:00:00Z' })
  await finalRide()
  done(await secondLook())
}

describe('a bike with everything done', () => {
  test('is made ready by a dealer, once, and the history tells', async () => {
    await allDone()
    expect(await lacks()).toEqual([])
    done(await makeReady({ bike, version: 1 }, at(evening)))
    expect(await stage()).toBe('ready')
    expect(await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })).toMatchObject({
      verb: 'bike:make-ready',
      bikeId: bike,
    })
    expect(refused(await makeReady({ bike, version: 2 }, at(evening))).kind).toBe('rule')
  })

  test.each([
    [
      'stolen, by a register asked since',
      () =>
        noteRegister(
          {
            ...{ id: uuidv7(), bike, register: 'stolen', askedOf: 'by telephone', day: '2026-11-25' },
            ...{ answer: 'recorded', note: 'Taken in May' },
          },
          shop.dealer,
        ),
    ],
    [
      'of an altered number, though the check was answered well since',
      async () => {
        const seen = (value: string, minute: number) =>
          recordReading(
            look(bike, ['frame-number-same', value], { takenAt: `2026-11-25T11:${minute}:00Z` }),
            shop.technician,
          )
        done(await seen('altered', 10))
        return seen('same', 40)
      },
    ],
  ])('is never made ready once it is known to be %s', async (_what, note) => {
    await allDone()
    done(await note())
    expect(await lacks()).toEqual(['identity'])
    const { kind, message } = refused(await makeReady({ bike, version: 1 }, at(evening)))
    expect(kind).toBe('rule')
    expect(message).toContain('may not be sold')
    expect(await stage()).toBe('on the bench')
  })

  test('is not made ready by a technician, by nobody, or from an older version', async () => {
    await allDone()
    expect(refused(await makeReady({ bike, version: 1 }, at(evening, shop.technician))).kind).toBe(
      'not-allowed',
    )
    expect(refused(await makeReady({ bike, version: 1 }, at(evening, shop.nobody))).kind).toBe(
      'not-signed-in',
    )
    expect(refused(await makeReady({ bike, version: 9 }, at(evening)))).toMatchObject({
      kind: 'stale',
      theirs: { version: '1' },
    })
    expect(refused(await makeReady({ bike: uuidv7(), version: 1 }, at(evening))).kind).toBe('not-found')
    expect(await stage()).toBe('on the bench')
  })

  type Lack = [string, (instant: typeof at) => Promise<unknown>, string]
  test.each<Lack>([
    [
      'a stop that is found',
      async (then) =>
        recordReading(
          look(bike, ['fuel-leaks', 'wet'], { takenAt: '2026-11-25T17:10:00Z' }),
          then('2026-11-25T17:10:00Z'),
        ),
      'fault',
    ],
    [
      'work that is begun',
      (then) => startJob(started(bike, { job: 'battery' }), then('2026-11-25T17:10:00Z')),
      'work',
    ],
    [
      'something left open',
      (then) =>
        declareOpen(
          { id: uuidv7(), bike, kind: 'axle-loose' },
          then('2026-11-25T17:10:00Z', shop.technician),
        ),
      'open-state',
    ],
    ['no final ride', () => shop.store.db.ride.deleteMany(), 'ride'],
    [
      'a ride that is not back',
      () => shop.store.db.ride.updateMany({ data: { inAt: null, distanceIn: null } }),
      'ride',
    ],
    ['nobody who looked a second time', () => shop.store.db.readyNote.deleteMany(), 'second-person'],
    [
      'only the one who worked looked again',
      () => shop.store.db.readyNote.updateMany({ data: { personId: shop.technician.who!.personId } }),
      'second-person',
    ],
    [
      'no certificate where the shop wants one',
      () => shop.store.db.shop.updateMany({ data: { certificateWanted: true } }),
      'certificate',
    ],
    [
      'a torque that nobody noted',
      () => shop.store.db.reading.deleteMany({ where: { check: 'torque-front-axle' } }),
      'torque',
    ],
    [
      'a brake that nobody looked at',
      () => shop.store.db.reading.deleteMany({ where: { check: 'front-brake-lever' } }),
      'check',
    ],
  ])('is refused for %s, which it names', async (_what, spoil, about) => {
    await allDone()
    await spoil(at)
    expect(await lacks()).toContain(about)
    const refusal = refused(await makeReady({ bike, version: 1 }, at(evening)))
    expect(refusal).toMatchObject({ kind: 'rule', message: expect.stringMatching(/^Not ready yet\. ./) })
    expect(await stage()).toBe('on the bench')
  })

  test('is not ready any more when a job on it was given up since: the part was opened', async () => {
    await allDone()
    const run = uuidv7()
    done(await startJob(started(bike, { run }), at('2026-11-25T17:10:00Z')))
    done(await giveUpJob({ run, version: 1, note: 'Wrong pads' }, at('2026-11-25T17:20:00Z')))
    expect(await lacks()).toEqual(expect.arrayContaining(['check', 'ride', 'second-person']))
  })
})

describe('a bike taken back from ready to the bench', () => {
  const night = '2026-11-25T19:00:00Z'
  const reason = 'Buyer feels the front brake drag'
  const takenBack = async () => {
    await allDone()
    done(await makeReady({ bike, version: 1 }, at(evening)))
    done(await backOnBench({ bike, version: 2, reason }, at('2026-11-25T18:10:00Z', shop.manager)))
  }
  /** Of what is lacked, each sort once. */
  const lacksAtNight = async () => [...new Set(await lacks(night))].sort()

  test('is made ready again by what was proven before, where nothing was worked on', async () => {
    await takenBack()
    expect(await stage()).toBe('on the bench')
    expect(await lacksAtNight()).toEqual([])
    done(await makeReady({ bike, version: 3 }, at(night)))
    expect(await stage()).toBe('ready')
  })

  test('is proven anew where it was worked on: the part, the ride, the second look', async () => {
    await takenBack()
    const run = uuidv7()
    done(await startJob(started(bike, { run }), at('2026-11-25T18:20:00Z', shop.technician)))
    done(await finishJob({ run, version: 1 }, at('2026-11-25T18:40:00Z', shop.technician)))
    expect(await lacksAtNight()).toEqual(['check', 'ride', 'second-person', 'torque'])
    expect(refused(await makeReady({ bike, version: 3 }, at(night))).kind).toBe('rule')
    await findSound(at('2026-11-25T18:50:00Z', shop.technician), { bike, takenAt: '2026-11-25T18:45:00Z' })
    await finalRide('2026-11-25T18:52:00Z')
    expect(await lacksAtNight()).toEqual(['second-person'])
    done(await secondLook(shop.dealer, '2026-11-25T18:55:00Z'))
    done(await makeReady({ bike, version: 3 }, at(night)))
  })

  test('is ridden and looked at anew where something was open without a job', async () => {
    await takenBack()
    const id = uuidv7()
    done(await declareOpen({ id, bike, kind: 'brake-open' }, at('2026-11-25T18:20:00Z', shop.technician)))
    const inOrder = { state: id, version: 1, inOrder: 'yes' }
    done(await putBack(inOrder, at('2026-11-25T18:30:00Z', shop.technician)))
    expect(await lacksAtNight()).toEqual(['ride', 'second-person'])
  })

  test('tells the bench why, until it is ready again', async () => {
    await takenBack()
    const read = () => readBench({ ...shop.technician, who: shop.technician.who! }, String(viewingNo))
    expect((await read()).back).toEqual({ reason, who: 'Mara', at: '2026-11-25T18:10:00.000Z' })
    done(await makeReady({ bike, version: 3 }, at(night)))
    expect((await read()).back).toBeNull()
  })

  test('goes on being shown what it lacks while it is ready', async () => {
    await allDone()
    done(await makeReady({ bike, version: 1 }, at(evening)))
    const then = at('2026-11-25T18:30:00Z')
    expect(await readReady(then, bike)).toMatchObject({ isReady: true, lacks: [] })
    const wet = look(bike, ['fuel-leaks', 'wet'], { takenAt: '2026-11-25T18:20:00Z' })
    done(await recordReading(wet, then))
    const about = (await readReady(then, bike))?.lacks.map((lack) => lack.about)
    expect(about).toEqual(expect.arrayContaining(['fault', 'check']))
    const begun = refused(await startJob(started(bike), then))
    expect(begun.message).toBe(
      'This bike is ready. A manager takes it back to the bench first, on its own page.',
    )
  })
})

describe('a second look', () => {
  test('in a shop of one counts on a later day', async () => {
    await shop.store.db.person.updateMany({
      where: { id: { not: shop.technician.who!.personId } },
      data: { leftAt: new Date('2026-11-01T09:00:00Z') },
    })
    await allDone()
    await shop.store.db.readyNote.deleteMany()
    done(await secondLook(shop.technician))
    expect(await lacks()).toEqual(['second-person'])
    done(await secondLook(shop.technician, '2026-11-26T08:00:00Z'))
    expect(await lacks('2026-11-26T09:00:00Z')).toEqual([])
  })

  test('before the last work was done does not count', async () => {
    await allDone()
    await shop.store.db.readyNote.updateMany({ data: { at: new Date('2026-11-25T13:00:00Z') } })
    expect(await lacks()).toEqual(['second-person'])
  })

  test('by whoever put something back is no second look', async () => {
    await allDone()
    await shop.store.db.openState.create({
      data: {
        id: uuidv7(),
        bikeId: bike,
        kind: 'oil-drained',
        personId: shop.technician.who!.personId,
        at: new Date('2026-11-25T12:00:00Z'),
        putBackAt: new Date('2026-11-25T13:00:00Z'),
        putBackBy: shop.dealer.who!.personId,
      },
    })
    expect(await lacks()).toEqual(['second-person'])
  })
})

describe('what a person says before a bike is ready', () => {
  test('is written once, by anybody signed in, about a bike that is there', async () => {
    const said = { id: uuidv7(), bike, point: 'second-person', note: 'Brakes firm' }
    done(await sayReady(said, shop.technician))
    expect(refused(await sayReady(said, shop.technician)).kind).toBe('rule')
    expect(refused(await sayReady({ ...said, id: uuidv7() }, shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await sayReady({ ...said, id: uuidv7(), bike: uuidv7() }, shop.dealer)).kind).toBe(
      'not-found',
    )
    expect(
      refused(await sayReady({ ...said, id: uuidv7(), point: 'blessing' }, shop.dealer)).fields,
    ).toHaveProperty('point')
    expect(await shop.store.db.readyNote.count()).toBe(1)
  })

  test('of a certificate has its number', async () => {
    const said = { id: uuidv7(), bike, point: 'certificate', note: ' ' }
    expect(refused(await sayReady(said, shop.dealer)).fields).toHaveProperty('note')
    done(await sayReady({ ...said, note: '8841 2207, until 24 Nov 2027' }, shop.dealer))
  })
})

test('reading it names everything missing, without money, and nothing for a bike that is only viewed', async () => {
  const ready = await readReady(shop.technician, bike)
  expect(ready).toMatchObject({ bike, version: 1, certificateWanted: false, said: [] })
  expect(new Set(ready?.lacks.map(({ about }) => about))).toEqual(
    new Set(['check', 'torque', 'ride', 'second-person']),
  )
  expect(JSON.stringify(ready)).not.toMatch(/minor|margin|price/i)
  await shop.store.db.bike.update({ where: { id: bike }, data: { stage: 'viewing' } })
  expect(await readReady(shop.technician, bike)).toBeNull()
})
