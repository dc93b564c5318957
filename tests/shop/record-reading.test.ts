import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { checkChain } from '../../lib/data/events'
import { readingHash } from '../../lib/data/hash'
import { recordReading } from '../../lib/shop/record-reading'
import { done, type OpenShop, openTestShop, refused, testNow } from '../support/open-shop'
import { look, measured, ownTools, takenIn, tools } from '../support/readings'

let shop: OpenShop
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  bike = (await takenIn(shop)).bike
})
afterEach(() => shop.dispose())

const rows = () => shop.store.db.reading.findMany({ orderBy: { seq: 'asc' } })

describe('recording a reading', () => {
  test('keeps the value as it was typed, with who, when, where and with what', async () => {
    const sent = measured(bike, '4,50', { note: 'lip worn' })
    const answer = done(await recordReading(sent, shop.technician))
    expect(answer).toEqual({ reading: sent.id, seq: 1 })
    const [row] = await rows()
    expect(row).toMatchObject({
      id: sent.id,
      bikeId: bike,
      check: 'pads-front-twin',
      position: 'left-inner',
      kind: 'measured',
      value: '4,50',
      unit: 'mm',
      note: 'lip worn',
      personId: shop.technician.who?.personId,
      deviceId: shop.deviceId,
      takenAt: new Date('2026-11-25T11:58:00Z'),
      receivedAt: testNow,
      supersedes: null,
    })
    // The instrument's figures as they were then, since a shop may change them later.
    expect(JSON.parse(row?.instrument ?? '')).toEqual({
      name: 'Calliper',
      resolution: 0.05,
      unit: 'mm',
      standardUncertainty: 0.02,
    })
  })

  test('seals the row with a hash that any later change breaks', async () => {
    done(await recordReading(measured(bike, '4.5'), shop.technician))
    const [row] = await rows()
    expect(row?.hash).toBe(readingHash(row!))
    expect(readingHash({ ...row!, value: '5.5' })).not.toBe(row?.hash)
  })

  test('writes one event, chained to all before it, and touches nothing else', async () => {
    const { db } = shop.store
    const before = { events: await db.event.count(), bike: await db.bike.findUnique({ where: { id: bike } }) }
    const sent = measured(bike, '4.5')
    done(await recordReading(sent, shop.technician))
    expect(await db.event.count()).toBe(before.events + 1)
    const last = await db.event.findFirst({ orderBy: { seq: 'desc' } })
    expect(last).toMatchObject({ verb: 'reading:add', bikeId: bike, personId: shop.technician.who?.personId })
    expect(JSON.parse(last?.body ?? '')).toMatchObject({
      reading: sent.id,
      check: 'pads-front-twin',
      value: '4.5',
    })
    expect(await checkChain(db)).toMatchObject({ ok: true })
    expect(await db.bike.findUnique({ where: { id: bike } })).toEqual(before.bike)
  })

  test('numbers readings one after the other', async () => {
    for (const value of ['4.5', '4.4', '4.6'])
      done(await recordReading(measured(bike, value), shop.technician))
    expect((await rows()).map(({ seq }) => seq)).toEqual([1, 2, 3])
  })

  test('is open to every role', async () => {
    for (const person of [shop.technician, shop.dealer, shop.manager]) {
      done(await recordReading(measured(bike, '4.5'), person))
    }
    expect(await rows()).toHaveLength(3)
  })

  test('is closed to somebody who is not signed in', async () => {
    expect(refused(await recordReading(measured(bike, '4.5'), shop.nobody)).kind).toBe('not-signed-in')
    expect(await rows()).toEqual([])
  })

  test('refuses a bike that is not there', async () => {
    expect(refused(await recordReading(measured(uuidv7(), '4.5'), shop.technician)).kind).toBe('not-found')
  })

  test('takes no reading as later than it was received, and keeps an earlier time as it is', async () => {
    done(await recordReading(measured(bike, '4.5', { takenAt: '2026-11-25T15:00:00Z' }), shop.technician))
    done(await recordReading(measured(bike, '4.5', { takenAt: '2026-11-24T09:00:00Z' }), shop.technician))
    expect((await rows()).map(({ takenAt }) => takenAt.toISOString())).toEqual([
      '2026-11-25T12:00:00.000Z',
      '2026-11-24T09:00:00.000Z',
    ])
  })

  test('keeps the id for one reading only', async () => {
    const sent = measured(bike, '4.5')
    done(await recordReading(sent, shop.technician))
    expect(refused(await recordReading({ ...sent, value: '3' }, shop.technician)).kind).toBe('rule')
    expect((await rows()).map(({ value }) => value)).toEqual(['4.5'])
  })
})

describe('what cannot be a reading', () => {
  const malformed: [string, object, string][] = [
    ['no value', { value: '' }, 'value'],
    ['a value of blanks', { value: '   ' }, 'value'],
    ['a value with a NUL in it', { value: '4\u00005' }, 'value'],
    ['words for a number', { value: 'thin' }, 'value'],
    ['two points', { value: '4.5.1' }, 'value'],
    ['more than a pad can have', { value: '15.1' }, 'value'],
    ['less than nothing', { value: '-0.1' }, 'value'],
    ['a unit that is none', { unit: 'cubit' }, 'unit'],
    ['a unit of something else', { unit: 'V' }, 'unit'],
    ['no position', { position: null }, 'position'],
    ['a position of another part', { position: 'middle' }, 'position'],
    ['an instrument that the check does not know', { instrument: 'multimeter' }, 'instrument'],
    ['an unknown kind', { kind: 'guessed' }, 'kind'],
    ['an unknown condition', { conditions: ['windy'] }, 'conditions.0'],
    ['a day without an hour', { takenAt: '2026-11-25' }, 'takenAt'],
    ['an id that is none', { id: 'first' }, 'id'],
    ['a bike that is no id', { bike: '7' }, 'bike'],
    ['a note without end', { note: 'x'.repeat(501) }, 'note'],
    ['a field that nobody knows', { mood: 'good' }, ''],
  ]
  test.each(malformed)('%s is refused at its field', async (_what, over, field) => {
    const refusal = refused(await recordReading(measured(bike, '4.5', over), shop.technician))
    expect(refusal.kind).toBe('malformed')
    expect(Object.keys(refusal.fields)).toEqual([field])
    expect(refusal.fields[field]).toMatch(/\S/)
    expect(await rows()).toEqual([])
  })

  test.each([
    ['an answer for a measured check', 'pads-front-twin', 'answer', 'firm'],
    ['a number for a look', 'fuel-leaks', 'number', '3'],
    ['a measured value for a code', 'tyre-date-front', 'measured', '4.5'],
    ['a code for a number', 'keys-counted', 'code', '2'],
  ])('%s is refused', async (_what, check, kind, value) => {
    const sent = { ...look(bike, [check, value]), kind }
    expect(refused(await recordReading(sent, shop.technician)).kind).toBe('rule')
  })

  test('an answer that the check does not offer is refused at the value', async () => {
    const refusal = refused(await recordReading(look(bike, ['fuel-leaks', 'soaked']), shop.technician))
    expect(refusal.fields).toHaveProperty('value')
  })

  test('a check that is in no catalogue is refused', async () => {
    expect(refused(await recordReading(look(bike, ['aerial', 'bent']), shop.technician)).kind).toBe('rule')
  })

  test('a check that this kind of bike does not have is refused', async () => {
    expect(refused(await recordReading(look(bike, ['shaft-drive', 'good']), shop.technician)).kind).toBe(
      'rule',
    )
  })

  test('a position is refused where the check has none', async () => {
    const sent = look(bike, ['fuel-leaks', 'dry'], { position: 'left' })
    expect(refused(await recordReading(sent, shop.technician)).fields).toHaveProperty('position')
  })
})

describe('the bounds of what can be right', () => {
  // Tread is plausible from 0 to 20 mm; 20 mm is 20 ÷ 25.4 × 32 = 25.196… thirty-seconds of an inch.
  test.each([
    ['20', 'mm', true],
    ['20.01', 'mm', false],
    ['25', 'in32', true],
    ['25.19', 'in32', true],
    ['25.2', 'in32', false],
    ['0', 'in32', true],
  ])('%s %s: taken %s', async (value, unit, taken) => {
    const sent = measured(bike, value, {
      check: 'tread-front',
      position: 'middle',
      instrument: 'tread-gauge',
      unit,
    })
    const result = await recordReading(sent, shop.technician)
    expect(result.ok).toBe(taken)
    if (!result.ok) expect(result.refusal.fields.value).toMatch(/: 0 to/)
  })

  // The edge itself, converted, may end in …0001: 15 mm of pad is 15 ÷ 25.4 = 0.590551181… in.
  test('the edge in another unit is not lost to the last bit of the conversion', async () => {
    const edge = String(15 / 25.4)
    done(await recordReading(measured(bike, edge, { unit: 'in' }), shop.technician))
  })
})

describe('what was not checked', () => {
  test('is kept with its reason, at a check of any sort', async () => {
    for (const check of ['fuel-leaks', 'pads-front-twin', 'tyre-date-front', 'keys-counted']) {
      const sent = look(bike, [check, 'No tool for it here'], { kind: 'skipped' })
      done(await recordReading(sent, shop.technician))
    }
    expect((await rows()).map(({ kind, value }) => `${kind}: ${value}`)).toEqual(
      Array(4).fill('skipped: No tool for it here'),
    )
  })

  test('needs a reason', async () => {
    const sent = look(bike, ['fuel-leaks', ' '], { kind: 'skipped' })
    expect(refused(await recordReading(sent, shop.technician)).fields).toHaveProperty('value')
  })
})

describe('a correction', () => {
  test('supersedes, and both stay', async () => {
    const first = measured(bike, '45')
    expect(refused(await recordReading(first, shop.technician)).fields).toHaveProperty('value')
    const slip = measured(bike, '5.4')
    done(await recordReading(slip, shop.technician))
    const right = measured(bike, '4.5', { supersedes: slip.id })
    done(await recordReading(right, shop.technician))
    expect((await rows()).map(({ value, supersedes }) => [value, supersedes])).toEqual([
      ['5.4', null],
      ['4.5', slip.id],
    ])
  })

  test('of a reading that was corrected meanwhile is refused as out of date', async () => {
    const slip = measured(bike, '5.4')
    done(await recordReading(slip, shop.technician))
    done(await recordReading(measured(bike, '4.5', { supersedes: slip.id }), shop.technician))
    const late = await recordReading(measured(bike, '4.4', { supersedes: slip.id }), shop.dealer)
    expect(refused(late).kind).toBe('stale')
    expect(await rows()).toHaveLength(2)
  })

  test('of another check, another bike or nothing at all is refused', async () => {
    const other = (await takenIn(shop)).bike
    const elsewhere = measured(other, '5.4')
    done(await recordReading(elsewhere, shop.technician))
    const look1 = look(bike, ['fuel-leaks', 'dry'])
    done(await recordReading(look1, shop.technician))
    for (const supersedes of [elsewhere.id, look1.id, uuidv7()]) {
      const result = await recordReading(measured(bike, '4.5', { supersedes }), shop.technician)
      expect(refused(result).kind).toBe('rule')
    }
  })
})

describe('a lock', () => {
  test('never stops the recording of what was seen', async () => {
    done(await recordReading(look(bike, ['fuel-leaks', 'wet']), shop.technician))
    done(await recordReading(look(bike, ['throttle-snaps-shut', 'sticks']), shop.technician))
    const note = 'Seen, the seller did it'
    done(await recordReading(look(bike, ['cold-start', 'good'], { note }), shop.technician))
    done(await recordReading(look(bike, ['brakes-on-road', 'straight'], { note }), shop.dealer))
    expect((await rows()).map(({ note }) => note)).toEqual([null, null, note, note])
  })
})

describe('taking a reading back', () => {
  const taking = (supersedes: string | null, over: object = {}) =>
    measured(bike, 'A slip of the finger', {
      kind: 'withdrawn',
      unit: null,
      instrument: null,
      supersedes,
      ...over,
    })

  test('is one more reading that names it, and the first stays as it was', async () => {
    const slip = measured(bike, '0.4')
    done(await recordReading(slip, shop.technician))
    const [before] = await rows()
    done(await recordReading(taking(slip.id), shop.technician))
    const all = await rows()
    expect(all[0]).toEqual(before)
    expect(all[1]).toMatchObject({
      kind: 'withdrawn',
      value: 'A slip of the finger',
      supersedes: slip.id,
      personId: shop.technician.who?.personId,
    })
    expect(all[1]?.hash).toBe(readingHash(all[1]!))
  })

  test('of nothing, of another check or of what was taken back already is refused', async () => {
    expect(refused(await recordReading(taking(null), shop.technician)).message).toBe(
      'Say which reading is taken back.',
    )
    expect(refused(await recordReading(taking(uuidv7()), shop.technician)).kind).toBe('rule')
    const slip = measured(bike, '0.4')
    done(await recordReading(slip, shop.technician))
    const elsewhere = taking(slip.id, { check: 'fuel-leaks', position: null })
    expect(refused(await recordReading(elsewhere, shop.technician)).kind).toBe('rule')
    done(await recordReading(taking(slip.id), shop.technician))
    expect(refused(await recordReading(taking(slip.id), shop.dealer)).kind).toBe('stale')
    expect(await rows()).toHaveLength(2)
  })

  test('of somebody else is for managers', async () => {
    const slip = measured(bike, '0.4')
    done(await recordReading(slip, shop.technician))
    const refusal = refused(await recordReading(taking(slip.id), shop.dealer))
    expect(refusal).toMatchObject({
      kind: 'not-allowed',
      message: 'Only who took this reading, or a manager, takes it back. Correct it, or ask a manager.',
    })
    done(await recordReading(taking(slip.id), shop.manager))
    const wet = look(bike, ['fuel-leaks', 'wet'])
    done(await recordReading(wet, shop.dealer))
    const back = { check: 'fuel-leaks', position: null }
    expect(refused(await recordReading(taking(wet.id, back), shop.technician)).kind).toBe('not-allowed')
  })

  test('of somebody else goes with measuring the same place again on a later day, and with nothing less', async () => {
    const [first, second] = [measured(bike, '4.5'), measured(bike, '4.4')]
    for (const one of [first, second]) done(await recordReading(one, shop.technician))
    const sameDay = measured(bike, '4.6')
    done(await recordReading(sameDay, shop.dealer))
    expect(refused(await recordReading(taking(first.id), shop.dealer)).kind).toBe('not-allowed')
    const later = shop.at(shop.dealer, '2026-12-20T12:00:00Z')
    const takenAt = '2026-12-20T11:58:00Z'
    const elsewhere = measured(bike, '4.2', { position: 'left-outer', takenAt })
    done(await recordReading(elsewhere, later))
    expect(refused(await recordReading(taking(first.id), later)).kind).toBe('not-allowed')
    done(await recordReading(measured(bike, '4.2', { supersedes: second.id, takenAt }), later))
    done(await recordReading(taking(first.id), later))
  })

  test('wants a reason', async () => {
    const slip = measured(bike, '0.4')
    done(await recordReading(slip, shop.technician))
    const refusal = refused(await recordReading(taking(slip.id, { value: ' ' }), shop.technician))
    expect(Object.keys(refusal.fields)).toEqual(['value'])
  })
})

describe('the engine speed beside a reading', () => {
  const volts = (engineSpeed: unknown) =>
    measured(bike, '12.7', {
      check: 'charging-speed-volts',
      position: 'posts',
      unit: 'V',
      instrument: 'multimeter',
      engineSpeed,
    })

  test.each([100, 5000, 20_000, null])('%j is kept and sealed', async (engineSpeed) => {
    done(await recordReading(volts(engineSpeed), shop.technician))
    const [row] = await rows()
    expect(row?.engineSpeed).toBe(engineSpeed)
    expect(readingHash({ ...row!, engineSpeed: 4000 })).not.toBe(row?.hash)
  })

  test.each([99, 20_001, 5000.5, -5000, '5000', 'idle', Number.NaN])(
    '%j is refused at its field',
    async (engineSpeed) => {
      const refusal = refused(await recordReading(volts(engineSpeed), shop.technician))
      expect(Object.keys(refusal.fields)).toEqual(['engineSpeed'])
      expect(await rows()).toEqual([])
    },
  )
})

describe("the shop's own instrument", () => {
  const disc = (instrument: string) =>
    measured(bike, '4.52', { check: 'disc-rear', position: 'a', instrument })
  beforeEach(() => ownTools(shop))

  test('is kept with its own figures and the last day of its calibration, as they were then', async () => {
    done(await recordReading(disc(tools.overdue), shop.technician))
    const [row] = await rows()
    const snapshot = {
      name: 'Micrometer 0 to 25',
      resolution: 0.01,
      unit: 'mm',
      standardUncertainty: 0.003,
      calibrationDue: '2026-11-01',
    }
    expect(JSON.parse(row?.instrument ?? '')).toEqual(snapshot)
    const changed = { calibrationDue: '2027-11-01', resolution: 0.001 }
    await shop.store.db.instrument.update({ where: { id: tools.overdue }, data: changed })
    expect(JSON.parse((await rows())[0]?.instrument ?? '')).toEqual(snapshot)
  })

  test('that was put away meanwhile still counts for what was read with it', async () => {
    done(await recordReading(disc(tools.putAway), shop.technician))
    expect((await rows())[0]?.instrument).toContain('Bent calliper')
  })

  test('that nobody listed, or of a kind that the check is not read with, is refused', async () => {
    for (const sent of [
      disc(uuidv7()),
      measured(bike, '12.7', {
        check: 'charging-speed-volts',
        position: 'posts',
        unit: 'V',
        instrument: tools.overdue,
      }),
    ]) {
      const refusal = refused(await recordReading(sent, shop.technician))
      expect(refusal.fields).toEqual({ instrument: 'Choose one of the instruments listed.' })
    }
    expect(await rows()).toEqual([])
  })
})
