import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { type Round, shortPlaces } from '../../lib/core/checks/catalogue'
import { addPhoto } from '../../lib/shop/add-photo'
import { setBikeLimit } from '../../lib/shop/bike-limit'
import { clearLock } from '../../lib/shop/clear-lock'
import type { Context } from '../../lib/shop/deed'
import { readBikeList } from '../../lib/shop/read-bike-list'
import { readSheet } from '../../lib/shop/read-sheet'
import { recordReading } from '../../lib/shop/record-reading'
import { shortRound } from '../../lib/shop/round-progress'
import { buyBike, passUp } from '../../lib/shop/stages'
import { chainDriven, cleared, done, type OpenShop, openTestShop } from '../support/open-shop'
import { answer, look, measured, ownTools, takenIn, tools } from '../support/readings'
import { goOut } from '../support/rides'
import { findSound } from '../support/sound-bike'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await takenIn(shop, { registration: 'ZZ97 TST', notes: 'Seller in a hurry' }))
})
afterEach(() => shop.dispose())

const sheetFor = (context: Context, number: string | number = viewingNo) =>
  readSheet({ ...context, who: context.who! }, number)
const sheet = () => sheetFor(shop.technician)

async function roundOf(round: Round, context: Context = shop.technician) {
  return (await sheetFor(context)).rounds.find((one) => one.round === round)!
}

async function checkOf(key: string) {
  const rows = (await sheet()).rounds.flatMap(({ checks }) => checks)
  return rows.find(({ check }) => check.key === key)!
}

describe('the sheet', () => {
  test('has the four rounds in the order that keeps people safe', async () => {
    expect((await sheet()).rounds.map(({ round }) => round)).toEqual(['cold', 'stand', 'running', 'road'])
  })

  test('is found by the viewing number, bought or not, and refused for a number that no bike has', async () => {
    expect((await sheetFor(shop.technician, String(viewingNo))).bike.id).toBe(bike)
    for (const number of ['0', '-1', '99', '1.5', 'seven', '', '99999999999']) {
      await expect(sheetFor(shop.technician, number)).rejects.toThrow('There is no bike with that number.')
    }
  })

  test('leaves out what this kind of bike does not have, and names it', async () => {
    const stand = await roundOf('stand')
    expect(stand.checks.map(({ check }) => check.key)).toContain('chain-slack')
    expect(stand.checks.map(({ check }) => check.key)).not.toContain('shaft-drive')
    expect(stand.notApplicable).toContain('Shaft and final drive')
    const driven = await takenIn(shop, { kind: { ...chainDriven, finalDrive: 'shaft' } })
    const other = (await sheetFor(shop.technician, driven.viewingNo)).rounds[1]!
    expect(other.checks.map(({ check }) => check.key)).toContain('shaft-drive')
  })

  test('counts what is done, left out with a reason, and still to do', async () => {
    const before = await roundOf('cold')
    expect(before.progress).toMatchObject({ done: 0, skipped: 0, open: before.checks.length })
    await answer(shop.technician, { bike, answers: [['fuel-leaks', 'dry']] })
    done(await recordReading(look(bike, ['tank-cap', 'No time'], { kind: 'skipped' }), shop.technician))
    const tread = { check: 'tread-front', position: 'left', instrument: 'tread-gauge' }
    done(await recordReading(measured(bike, '4', tread), shop.technician))
    const { progress } = await roundOf('cold')
    // One of three places of the front tread is read: that check still waits.
    expect(progress).toEqual({ ...before.progress, done: 1, skipped: 1, open: before.progress.open - 2 })
  })

  test('shows each reading with who took it, and a superseded one beside its correction', async () => {
    const slip = measured(bike, '5.4')
    done(await recordReading(slip, shop.technician))
    done(await recordReading(measured(bike, '4.5', { supersedes: slip.id, note: 'misread' }), shop.dealer))
    const row = await checkOf('pads-front-twin')
    expect(row.readings.map(({ value, who, supersedes, note }) => [value, who, supersedes, note])).toEqual([
      ['5.4', 'Tove', null, null],
      ['4.5', 'Dele', slip.id, 'misread'],
    ])
    expect(row.judgement.says).toContain('4.5 mm')
    expect(row.judgement).toMatchObject({ verdict: 'not-judged', why: 'too-few' })
  })

  test('gives the limit in words with its source, or says that it is set by model', async () => {
    const [tread] = (await checkOf('tread-front')).limits
    expect(tread?.words).toBe('at least 1 mm')
    expect(tread?.sources.map(({ kind }) => kind)).toEqual(['law'])
    expect(tread?.saleWords).toBe('at least 2.5 mm')
    expect((await checkOf('disc-front-left')).limits).toMatchObject([{ at: [], words: null, sources: [] }])
  })

  test('names the faults that a check has raised, with their call', async () => {
    await answer(shop.technician, { bike, answers: [['fuel-leaks', 'wet']] })
    expect((await checkOf('fuel-leaks')).faults).toMatchObject([
      { fault: 'fuel-leak', title: 'Petrol wet or dripping', call: 'stop' },
    ])
    expect((await checkOf('oil-smell')).faults).toEqual([])
  })

  test('carries the photos of a check', async () => {
    const bytes = await sharp({ create: { width: 8, height: 8, channels: 3, background: '#806040' } })
      .jpeg()
      .toBuffer()
    const photo = { id: uuidv7(), bike, check: 'fuel-leaks', takenAt: '2026-11-25T11:00:00Z', bytes }
    done(await addPhoto(photo, shop.technician))
    expect((await checkOf('fuel-leaks')).photos).toMatchObject([{ id: photo.id, who: 'Tove' }])
    expect((await checkOf('oil-smell')).photos).toEqual([])
  })
})

describe('what the shop measures with', () => {
  test('is on the sheet with its figures, without what was put away', async () => {
    expect((await sheet()).instruments).toEqual([])
    await ownTools(shop)
    expect((await sheet()).instruments).toEqual([
      {
        key: tools.undated,
        of: 'calliper',
        name: 'Long calliper',
        resolution: 0.05,
        unit: 'mm',
        standardUncertainty: 0.02,
      },
      {
        key: tools.overdue,
        of: 'micrometer',
        name: 'Micrometer 0 to 25',
        resolution: 0.01,
        unit: 'mm',
        standardUncertainty: 0.003,
        calibrationDue: '2026-11-01',
      },
    ])
  })

  test('marks a verdict that rests on an overdue one', async () => {
    await ownTools(shop)
    const disc = { check: 'disc-rear', position: 'a', instrument: tools.overdue }
    done(await recordReading(measured(bike, '4.52', disc), shop.technician))
    expect((await checkOf('disc-rear')).judgement.overdue).toEqual([
      { name: 'Micrometer 0 to 25', due: '2026-11-01' },
    ])
    done(await recordReading(measured(bike, '4.5'), shop.technician))
    expect((await checkOf('pads-front-twin')).judgement.overdue).toBeUndefined()
  })
})

describe('whose a reading is', () => {
  test('is told to whoever reads the sheet', async () => {
    done(await recordReading(measured(bike, '4.5'), shop.technician))
    done(await recordReading(measured(bike, '4.4'), shop.dealer))
    expect((await checkOf('pads-front-twin')).readings.map(({ who, mine }) => [who, mine])).toEqual([
      ['Tove', true],
      ['Dele', false],
    ])
  })
})

describe('an answer that gets old', () => {
  const volts = (takenAt: string) =>
    measured(bike, '12.7', {
      check: 'battery-rest-volts',
      position: 'posts',
      unit: 'V',
      instrument: 'multimeter',
      conditions: ['rested', 'off'],
      takenAt,
    })

  /** Days before the twenty-fifth of November, and how old it is said to be. */
  test.each([
    ['2026-11-25T08:00:00Z', null],
    ['2026-10-26T08:00:00Z', null],
    ['2026-10-25T08:00:00Z', 31],
    ['2026-08-25T08:00:00Z', 92],
  ])('taken at %s: %j', async (takenAt, days) => {
    done(await recordReading(volts(takenAt), shop.technician))
    const row = await checkOf('battery-rest-volts')
    expect(row.staleDays).toBe(days)
    // It still counts.
    expect(row.judgement).toMatchObject({ found: { value: 12.7 } })
  })

  test('is asked again in the short round, which leaves out what it has an answer to', async () => {
    const rows = async () => (await sheet()).rounds.flatMap(({ checks }) => checks)
    const fresh = shortRound(await rows())
    expect(fresh.asked).toEqual(fresh.rows)
    expect(fresh.rows.map(({ check }) => shortPlaces.indexOf(check.short!))).toEqual(
      fresh.rows.map(({ check }) => shortPlaces.indexOf(check.short!)).sort((a, b) => a - b),
    )
    await answer(shop.technician, { bike, answers: [['cylinders-cold', 'cold']] })
    const after = shortRound(await rows())
    expect(after.asked.map(({ check }) => check.key)).toEqual(
      fresh.rows.map(({ check }) => check.key).filter((key) => key !== 'cylinders-cold'),
    )
    expect(after.minutesLeft).toBeLessThanOrEqual(fresh.minutesLeft)
    const old = shortRound(
      after.rows.map((row) => (row.check.key === 'cylinders-cold' ? { ...row, staleDays: 91 } : row)),
    )
    expect(old.asked.map(({ check }) => check.key)).toEqual(fresh.rows.map(({ check }) => check.key))
  })
})

describe('a lock', () => {
  /** All that guards a start and a ride is done and good, so that only what is said then shuts a round. */
  beforeEach(async () => {
    await findSound(shop.technician, { bike })
    await goOut(shop.technician, { bike })
  })

  /** What was answered, and which rounds may then be gone on with. */
  const cases: [string, [string, string], Record<Round, boolean>][] = [
    ['nothing wrong', ['fuel-leaks', 'dry'], { cold: true, stand: true, running: true, road: true }],
    ['damp fuel', ['fuel-leaks', 'damp'], { cold: true, stand: true, running: false, road: false }],
    ['damp fork', ['fork-seals', 'damp'], { cold: true, stand: true, running: true, road: false }],
    ['a torn seat', ['seat', 'torn'], { cold: true, stand: true, running: true, road: true }],
    ['wet fuel', ['fuel-leaks', 'wet'], { cold: true, stand: true, running: false, road: false }],
    ['a wet hose', ['fuel-lines', 'wet'], { cold: true, stand: true, running: false, road: false }],
    ['petrol in the oil', ['oil-smell', 'petrol'], { cold: true, stand: true, running: false, road: false }],
    ['no oil', ['oil-level', 'none'], { cold: true, stand: true, running: false, road: false }],
    [
      'a sticking throttle',
      ['throttle-snaps-shut', 'sticks'],
      { cold: true, stand: true, running: false, road: false },
    ],
    ['no brake', ['front-brake-lever', 'none'], { cold: true, stand: true, running: true, road: false }],
    [
      'a cracked disc',
      ['disc-cracks-front', 'cracked'],
      { cold: true, stand: true, running: true, road: false },
    ],
    ['cord', ['tyre-walls-rear', 'cord'], { cold: true, stand: true, running: true, road: false }],
    ['loose steering', ['steering-play', 'loose'], { cold: true, stand: true, running: true, road: false }],
  ]
  test.each(cases)('%s shuts the rounds it must and no other', async (_what, said, open) => {
    await answer(shop.technician, { bike, answers: [said] })
    const { rounds } = await sheet()
    expect(Object.fromEntries(rounds.map((one) => [one.round, one.open]))).toEqual(open)
    for (const { open: isOpen, checks } of rounds) {
      // The instruction is held back for the whole round, and for no other.
      expect(checks.filter(({ check }) => (check.how === null) === isOpen)).toEqual([])
    }
  })

  test('says what it is held by, what cures that, and what proves the cure', async () => {
    await answer(shop.technician, { bike, answers: [['fuel-lines', 'wet']] })
    const { locks } = await roundOf('running')
    expect(locks).toMatchObject([
      {
        fault: 'fuel-hose-leak',
        title: 'Fuel line leaking',
        clearedBy: 'job',
        clearedUntil: null,
        rechecks: ['Fuel lines', 'Fuel smell and leaks'],
      },
    ])
    expect(locks[0]?.jobs).toHaveLength(1)
    expect(locks[0]?.means).toMatch(/\S/)
  })

  test('opens when the work is done and the recheck finds it good, and not before', async () => {
    const answers = (value: string) => answer(shop.technician, { bike, answers: [['fuel-lines', value]] })
    await answers('wet')
    await answers('supple')
    expect((await roundOf('running')).locks).toMatchObject([{ fault: 'fuel-hose-leak', clearedBy: 'job' }])
    const at = new Date('2026-11-25T11:59:00Z')
    const run = { id: uuidv7(), bikeId: bike, job: 'fuel-lines', title: 'Fuel lines', state: 'done' }
    const personId = shop.technician.who!.personId
    await shop.store.db.jobRun.create({
      data: { ...run, startedBy: personId, startedAt: at, endedBy: personId, endedAt: at },
    })
    expect((await roundOf('running')).open).toBe(false)
    const later = shop.at(shop.technician, '2026-11-25T12:30:00Z')
    for (const one of [['fuel-lines', 'supple'] as const, ['fuel-leaks', 'dry'] as const])
      done(await recordReading(look(bike, [...one], { takenAt: '2026-11-25T12:30:00Z' }), later))
    expect((await roundOf('running')).locks).toEqual([])
  })

  test('tells each check which rounds it can shut, so that a tablet can do so before it is sent', async () => {
    const { shuts } = await checkOf('fuel-leaks')
    expect(shuts.find(({ fault }) => fault === 'fuel-leak')?.rounds).toEqual(['running', 'road'])
    const brake = await checkOf('front-brake-lever')
    expect(brake.shuts.find(({ fault }) => fault === 'front-brake-no-pressure')?.rounds).toEqual(['road'])
    expect((await checkOf('tank-paint')).shuts).toEqual([])
  })

  test('that a manager has cleared shows until when, and gives the instruction back', async () => {
    await answer(shop.technician, { bike, answers: [['loom', 'bare']] })
    expect((await roundOf('running')).open).toBe(false)
    const reason = 'The bare wire is a dead one, cut at both ends'
    done(await clearLock({ bike, fault: 'loom-unsafe', reason }, shop.manager))
    const running = await roundOf('running')
    expect(running.open).toBe(true)
    expect(running.locks).toMatchObject([{ fault: 'loom-unsafe', clearedUntil: '2026-11-26T12:00:00.000Z' }])
    expect(running.checks.every(({ check }) => check.how !== null)).toBe(true)
    const dayLater = shop.at(shop.technician, '2026-11-26T12:00:01Z')
    expect((await roundOf('running', dayLater)).open).toBe(false)
  })

  test('may be cleared by a manager only, and the sheet says who that is', async () => {
    expect((await sheetFor(shop.technician)).person.mayClear).toBe(false)
    expect((await sheetFor(shop.dealer)).person.mayClear).toBe(false)
    expect((await sheetFor(shop.manager)).person.mayClear).toBe(true)
  })
})

describe('what everybody at the bench may read', () => {
  /** Amounts that nothing else on the sheet could be: each is findable in a raw answer. */
  const amounts = { asking: '7341.17', saleLow: '8123.31', saleLikely: '8457.43', saleHigh: '8911.59' }
  const paid = '6733.71'
  const secrets = ['7341', '8123', '8457', '8911', '6733', 'Mr Verrill', '07700', 'Seller in a hurry']

  async function boughtBike() {
    const fresh = await takenIn(shop, {
      ...amounts,
      sellerName: 'Mr Verrill',
      sellerContact: '07700 900 123',
      notes: 'Seller in a hurry',
    })
    await answer(shop.technician, {
      bike: fresh.bike,
      answers: [
        ['fuel-leaks', 'wet'],
        ['intake-boots', 'cracked'],
        ['tank-inside', 'peeling'],
      ],
    })
    await cleared(shop, fresh.bike)
    done(await buyBike({ bike: fresh.bike, version: 1, price: paid, day: '2026-11-24' }, shop.dealer))
    return fresh
  }

  test('holds no money of a bike and nothing of its seller, on the sheet', async () => {
    const fresh = await boughtBike()
    for (const person of [shop.technician, shop.dealer, shop.manager]) {
      const raw = JSON.stringify(await sheetFor(person, fresh.viewingNo))
      expect(secrets.filter((secret) => raw.includes(secret))).toEqual([])
      expect(moneyWords(raw)).toEqual([])
    }
  })

  test('holds no money of a bike and nothing of its seller, in the list', async () => {
    await boughtBike()
    const raw = JSON.stringify(await readBikeList(shop.technician))
    expect(secrets.filter((secret) => raw.includes(secret))).toEqual([])
    expect(moneyWords(raw)).toEqual([])
  })

  /** Keys of an answer that would be about money. The shop's sale line is a measure of a part, no price. */
  function moneyWords(raw: string): string[] {
    const keys = new Set([...raw.matchAll(/"([A-Za-z]+)":/g)].map(([, key]) => key ?? ''))
    return [...keys].filter((key) => /minor|price|cost|asking|margin|offer|purchase|paid|money/i.test(key))
  }
})

describe('the list of bikes', () => {
  const listed = async (asked = {}) =>
    (await readBikeList(shop.technician, asked)).bikes.map((row) => row.viewingNo)

  beforeEach(async () => {
    await takenIn(shop, { make: 'Østrel', model: 'Fjord 900', registration: 'QX51 ABC' })
    const third = await takenIn(shop, { make: 'Mirefield', model: 'Two', registration: '' })
    done(await passUp({ bike: third.bike, version: 1, reason: 'Too dear' }, shop.dealer))
  })

  test('has every bike, the latest first', async () => {
    expect(await listed()).toEqual([3, 2, 1])
  })

  test.each([
    [{ search: '2' }, [2]],
    [{ search: 'zz97tst' }, [1]],
    [{ search: ' ZZ97  tst ' }, [1]],
    [{ search: 'ostrel' }, []],
    [{ search: 'ØSTREL' }, [2]],
    [{ search: 'fjord' }, [2]],
    [{ search: 'mire' }, [3]],
    [{ search: 'nothing like it' }, []],
    [{ stage: 'viewing' }, [2, 1]],
    [{ stage: 'passed up' }, [3]],
    [{ stage: 'no such stage' }, [3, 2, 1]],
    [{ stage: 'viewing', search: 'mire' }, []],
  ])('narrowed to %j holds %j', async (asked, expected) => {
    expect(await listed(asked)).toEqual(expected)
  })

  test('says how far a bike has come, its stops, and one next step', async () => {
    const row = async (number: number) =>
      (await readBikeList(shop.technician)).bikes.find((one) => one.viewingNo === number)!
    expect((await row(1)).next).toMatchObject({ do: 'check', round: 'cold', started: false })
    expect((await row(3)).next).toEqual({ do: 'look' })
    await answer(shop.technician, { bike, answers: [['fuel-leaks', 'wet']] })
    const after = await row(1)
    expect(after.stops).toEqual(['Petrol wet or dripping'])
    expect(after.next).toMatchObject({ do: 'check', round: 'cold', started: true })
    expect(after.rounds.map(({ round, open }) => [round, open])).toEqual([
      ['cold', true],
      ['stand', true],
      ['running', false],
      ['road', false],
    ])
    expect(after.progress.done).toBe(1)
  })

  test('leads to the stop where nothing else is left to check', async () => {
    const { rounds } = await sheet()
    for (const { checks } of rounds.filter(({ round }) => round === 'cold' || round === 'stand')) {
      for (const { check } of checks.filter((one) => one.check.key !== 'fuel-leaks')) {
        const sent = look(bike, [check.key, 'No time'], { kind: 'skipped' })
        done(await recordReading(sent, shop.technician))
      }
    }
    await answer(shop.technician, { bike, answers: [['fuel-leaks', 'wet']] })
    const [row] = (await readBikeList(shop.technician, { search: 'zz97' })).bikes
    expect(row?.next).toEqual({ do: 'clear-stops', round: 'running' })
  })

  test('asks the database the same few questions however many bikes there are', async () => {
    const asked = async () => {
      const before = shop.store.statementCount()
      await readBikeList(shop.technician)
      return shop.store.statementCount() - before
    }
    await asked()
    const few = await asked()
    for (let more = 0; more < 5; more += 1) await takenIn(shop)
    expect(await asked()).toBe(few)
    expect(few).toBeLessThanOrEqual(12)
  })
})

test('a sheet takes few questions to the database', async () => {
  done(
    await setBikeLimit(
      { id: uuidv7(), bike, check: 'disc-rear', source: 'maker', min: '4', unit: 'mm' },
      shop.technician,
    ),
  )
  const before = shop.store.statementCount()
  await sheet()
  // Six for what holds for the whole shop, eight for the bike, one each for its own limits and for the names.
  expect(shop.store.statementCount() - before).toBeLessThanOrEqual(15)
})
