import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { Entry, Kept } from '../../app/_ui/outbox/outbox'
import { arrivalsOn, asSeenHere, drawnUnaware } from '../../app/(shop)/bikes/[bike]/checks/as-seen-here'
import { taken } from '../../app/(shop)/bikes/[bike]/checks/readings-taken'
import {
  keptDrawing,
  keptLimit,
  keptPhoto,
  keptPhotoBack,
  keptReading,
  putBack,
  readEngineSpeed,
  readPad,
  type Said,
  saidOn,
} from '../../app/(shop)/bikes/[bike]/checks/recording'
import { shutWords } from '../../app/(shop)/bikes/[bike]/checks/shut-words'
import type { Condition } from '../../lib/core/checks/catalogue'
import { addPhoto } from '../../lib/shop/add-photo'
import { markPhoto } from '../../lib/shop/mark-photo'
import type { PhotoMark } from '../../lib/shop/photo-marks'
import { readSheet, type Sheet, type SheetCheck, type SheetRound } from '../../lib/shop/read-sheet'
import { type SyncOperation, sync } from '../../lib/shop/sync'
import { takeBackPhoto } from '../../lib/shop/take-back-photo'
import { done, type OpenShop, openTestShop, testNow } from '../support/open-shop'
import { ownTools, takenIn, tools } from '../support/readings'
import { goOut } from '../support/rides'
import { findSound } from '../support/sound-bike'

/*
 * What a tablet shows of its own before the server has answered must be what the server shows after it: the
 * same recordings are seen here and are sent, and the two sheets are compared.
 */

let shop: OpenShop
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ viewingNo } = await takenIn(shop))
  await ownTools(shop)
})
afterEach(() => shop.dispose())

const who = () => ({ ...shop.technician, who: shop.technician.who! })
const sheet = () => readSheet(who(), viewingNo)
const rowsOf = <R>(of: { rounds: readonly { checks: readonly R[] }[] }) =>
  of.rounds.flatMap(({ checks }) => [...checks])
type Judged = {
  rounds: readonly (Omit<SheetRound, 'checks'> & { checks: readonly Omit<SheetCheck, 'photos'>[] })[]
}
const waiting = (kept: Kept): Entry => ({ kept, state: 'waiting' })

function reading(on: Sheet, key: string, said: Said, holding: readonly Condition[] = []): Kept {
  const { check } = rowsOf(on).find((row) => row.check.key === key)!
  return keptReading(said, { sheet: on, check, now: testNow, holding })
}

function limit(on: Sheet, key: string, min: number): Kept {
  const { check } = rowsOf(on).find((row) => row.check.key === key)!
  const figures = {
    min,
    max: null,
    asNew: null,
    unit: 'mm',
    source: 'stamped',
    position: null,
    note: null,
  } as const
  return keptLimit(figures, { sheet: on, check, now: testNow })
}

async function send(kept: readonly Kept[]) {
  const operations = kept.flatMap((one) =>
    one.to === 'sync' ? [{ id: one.id, author: one.author, deed: one.deed, body: one.body }] : [],
  )
  const answers = await sync({ operations: operations as SyncOperation[] }, who())
  expect(answers.filter(({ ok }) => !ok)).toEqual([])
}

const answer = (value: string): Said => ({ kind: 'answer', value })
const pad = (value: string, position: string): Said => ({
  kind: 'measured',
  value,
  position,
  unit: 'mm',
  instrument: 'calliper',
})

const volts = (engineSpeed: number | null): Said => ({
  kind: 'measured',
  value: '12.7',
  position: 'posts',
  unit: 'V',
  instrument: 'multimeter',
  engineSpeed,
})

const takeBack = ({ id }: Kept, position: string | null = null): Said => ({
  kind: 'withdrawn',
  value: 'Taken back at once',
  position,
  supersedes: id,
})

const stories: [string, (on: Sheet) => Kept[]][] = [
  ['a good look', (on) => [reading(on, 'fuel-leaks', answer('dry'))]],
  ['a look that shuts two rounds', (on) => [reading(on, 'fuel-leaks', answer('wet'))]],
  ['a look that shuts the road', (on) => [reading(on, 'front-brake-lever', answer('none'))]],
  ['a brake that is spongy', (on) => [reading(on, 'front-brake-lever', answer('spongy'))]],
  [
    'a look taken back',
    (on) => {
      const slip = reading(on, 'fuel-leaks', answer('wet'))
      return [slip, reading(on, 'fuel-leaks', { ...answer('dry'), supersedes: slip.id })]
    },
  ],
  ['one pad of four', (on) => [reading(on, 'pads-front-twin', pad('4.5', 'left-inner'))]],
  [
    'four pads, one of them worn',
    (on) =>
      ['left-inner', 'left-outer', 'right-inner', 'right-outer'].map((place, index) =>
        reading(on, 'pads-front-twin', pad(index === 2 ? '0.8' : '4.5', place)),
      ),
  ],
  [
    'one pad twice',
    (on) => ['4.5', '4.3'].map((value) => reading(on, 'pads-front-twin', pad(value, 'left-inner'))),
  ],
  [
    'volts with everything off and rested',
    (on) => [
      reading(on, 'battery-rest-volts', { kind: 'measured', value: '12.4', position: 'posts', unit: 'V' }, [
        'off',
        'rested',
        'cold',
      ]),
    ],
  ],
  [
    'volts in the wrong condition',
    (on) => [
      reading(on, 'battery-rest-volts', { kind: 'measured', value: '12.7', position: 'posts', unit: 'V' }, [
        'off',
      ]),
    ],
  ],
  ['a tyre too old', (on) => [reading(on, 'tyre-date-front', { kind: 'code', value: '1209' })]],
  ['a count', (on) => [reading(on, 'keys-counted', { kind: 'number', value: '1' })]],
  [
    'a reading taken back',
    (on) => {
      const slip = reading(on, 'pads-front-twin', pad('0.4', 'left-inner'))
      return [slip, reading(on, 'pads-front-twin', takeBack(slip, 'left-inner'))]
    },
  ],
  [
    'a stop taken back',
    (on) => {
      const slip = reading(on, 'fuel-leaks', answer('wet'))
      return [slip, reading(on, 'fuel-leaks', takeBack(slip))]
    },
  ],
  [
    'a check left out, and that taken back',
    (on) => {
      const slip = reading(on, 'tank-cap', { kind: 'skipped', value: 'No time this visit' })
      return [slip, reading(on, 'tank-cap', takeBack(slip))]
    },
  ],
  ['charging volts with the engine speed', (on) => [reading(on, 'charging-speed-volts', volts(5000))]],
  ['charging volts without the engine speed', (on) => [reading(on, 'charging-speed-volts', volts(null))]],
  [
    'an oil level on level ground, upright',
    (on) => [reading(on, 'oil-level', answer('between'), ['level', 'upright', 'hot'])],
  ],
  ['an oil level on the side stand', (on) => [reading(on, 'oil-level', answer('none'), ['level'])]],
  [
    "discs with the shop's own micrometer, overdue",
    (on) => [
      limit(on, 'disc-rear', 4.5),
      ...['a', 'b', 'c', 'd'].map((place) =>
        reading(on, 'disc-rear', { ...pad('4.52', place), instrument: tools.overdue }),
      ),
    ],
  ],
  [
    'pads with a calliper of the shop that has no date',
    (on) => [
      reading(on, 'pads-front-twin', { ...pad('2.4', 'left-inner'), instrument: tools.undated }),
      reading(on, 'pads-front-twin', { ...pad('2.4', 'left-outer'), instrument: null }),
    ],
  ],
  ['a check left out', (on) => [reading(on, 'tank-cap', { kind: 'skipped', value: 'No time this visit' })]],
  [
    'a limit, then four readings',
    (on) => [
      limit(on, 'disc-rear', 4.5),
      ...['a', 'b', 'c', 'd'].map((place) => reading(on, 'disc-rear', pad('4.7', place))),
    ],
  ],
  [
    'readings, then a limit that is set twice',
    (on) => [
      ...['a', 'b', 'c', 'd'].map((place) => reading(on, 'disc-rear', pad('4.7', place))),
      limit(on, 'disc-rear', 4.5),
      limit(on, 'disc-rear', 5),
    ],
  ],
]

describe('the sheet as seen on the tablet', () => {
  test.each(stories)('says what the server says: %s', async (_what, record) => {
    const before = await sheet()
    const kept = record(before)
    const here = asSeenHere(before, kept.map(waiting))
    await send(kept)
    const there = await sheet()

    expect(here.progress).toEqual(there.progress)
    expect(here.rounds.map(({ open }) => open)).toEqual(there.rounds.map(({ open }) => open))
    for (const row of rowsOf(there)) {
      const seen = here.rounds.flatMap(({ checks }) => checks).find((one) => one.check.key === row.check.key)!
      expect(seen.judgement).toEqual(row.judgement)
      expect(seen.limits).toEqual(row.limits)
      expect(seen.staleDays).toEqual(row.staleDays)
      expect(seen.check.how).toEqual(row.check.how)
      expect(seen.readings.map(({ onItsWay: _, ...reading }) => reading)).toEqual(row.readings)
    }
  })

  test.each(stories)('adds nothing once it has arrived: %s', async (_what, record) => {
    const before = await sheet()
    const kept = record(before)
    await send(kept)
    const there = await sheet()
    const sent = kept.map((one): Entry => ({ kept: one, state: 'sent' }))
    expect(arrivalsOn(there, sent)).toEqual({ gone: kept.map(({ id }) => id), missing: [] })
    const here = asSeenHere(there, kept.map(waiting))
    expect(here).toEqual(asSeenHere(there, []))
  })

  test('takes a photo that was taken back for arrived once the server says that it was, and not before', async () => {
    const before = await sheet()
    const { check } = rowsOf(before)[0]!
    const photo = keptPhoto(new Blob(['x']), { sheet: before, check, now: testNow })
    const back = keptPhotoBack({ id: photo.id, title: check.title }, { sheet: before })
    const sent = [photo, back].map((kept): Entry => ({ kept, state: 'sent' }))
    const ids = sent.map(({ kept }) => kept.id)
    expect(arrivalsOn(before, sent)).toEqual({ gone: [], missing: ids })
    // A page that was asked for before it was taken back may come after it.
    const { bike } = before
    const bytes = await sharp({ create: { width: 8, height: 8, channels: 3, background: '#806040' } })
      .png()
      .toBuffer()
    const facts = { id: photo.id, bike: bike.id, check: check.key, takenAt: testNow.toISOString(), bytes }
    done(await addPhoto(facts, shop.technician))
    const late = await sheet()
    expect(rowsOf(late)[0]!.photos).toHaveLength(1)
    expect(arrivalsOn(late, sent)).toEqual({ gone: [], missing: ids })
    expect(rowsOf(asSeenHere(late, sent))[0]!.photos).toEqual([])
    done(await takeBackPhoto({ photo: photo.id, because: 'Undone at once' }, shop.technician))
    const there = await sheet()
    expect(arrivalsOn(there, sent)).toEqual({ gone: ids, missing: [] })
    expect(rowsOf(asSeenHere(there, []))[0]!.photos).toEqual([])
  })

  describe('with photos', () => {
    const arrow = { kind: 'arrow', fromX: 0.2, fromY: 0.2, toX: 0.5, toY: 0.5 } as const
    const circle = { kind: 'circle', x: 0.25, y: 0.5, radius: 0.1 } as const
    const first = <R>(of: { rounds: readonly { checks: readonly R[] }[] }) => rowsOf(of)[0]!
    const photosOf = (on: Sheet, entries: readonly Entry[]) => first(asSeenHere(on, entries)).photos

    async function arrives(photo: Kept): Promise<void> {
      const bytes = await sharp({ create: { width: 8, height: 6, channels: 3, background: '#806040' } })
        .png()
        .toBuffer()
      const facts = photo.to === 'photos' ? photo.facts : {}
      done(await addPhoto({ id: photo.id, ...facts, bytes }, shop.technician))
    }
    const taken = (on: Sheet) =>
      keptPhoto(new Blob(['x']), { sheet: on, check: first(on).check, now: testNow })
    function drawing(on: Sheet, entries: readonly Entry[], marks: readonly PhotoMark[]): Kept {
      return keptDrawing(marks, { photo: photosOf(on, entries).at(-1)!, title: 'Oil', sheet: on })
    }

    test('shows one that only this tablet has, with the latest that is drawn on it', async () => {
      const on = await sheet()
      const photo = taken(on)
      const one = drawing(on, [waiting(photo)], [arrow])
      const two = drawing(on, [photo, one].map(waiting), [arrow, circle])
      expect([one, two].map((kept) => kept.to === 'sync' && kept.body.version)).toEqual([1, 2])
      expect([one, two].map(({ restsOn }) => restsOn)).toEqual([[photo.id], [photo.id, one.id]])
      const entries = [photo, one, two].map(waiting)
      expect(photosOf(on, entries)).toEqual([
        {
          ...{ id: photo.id, caption: '', takenAt: testNow.toISOString(), who: 'Tove' },
          ...{ marks: [arrow, circle], version: 3, size: null },
          ...{ photoHere: entries[0], drawingHere: entries[2] },
        },
      ])
    })

    test('draws what waits here over what the server has, until that has it too', async () => {
      const before = await sheet()
      const photo = taken(before)
      await arrives(photo)
      const there = await sheet()
      const one = drawing(there, [], [circle])
      expect(photosOf(there, [waiting(one)])).toMatchObject([
        { marks: [circle], version: 2, size: { width: 8, height: 6 }, photoHere: null },
      ])
      const sent: Entry[] = [photo, one].map((kept) => ({ kept, state: 'sent' }))
      expect(arrivalsOn(there, sent)).toEqual({ gone: [photo.id], missing: [one.id] })
      await send([one])
      const after = await sheet()
      expect(arrivalsOn(after, sent)).toEqual({ gone: [photo.id, one.id], missing: [] })
      expect(photosOf(after, sent)).toEqual(photosOf(after, []))
      expect(photosOf(after, [])).toMatchObject([{ marks: [circle], version: 2, drawingHere: null }])
    })

    test('waits for a drawing on a photo that was sent and is not shown yet, and for none of another bike', async () => {
      const on = await sheet()
      const photo = taken(on)
      const one = drawing(on, [waiting(photo)], [arrow])
      const sent: Entry[] = [photo, one].map((kept) => ({ kept, state: 'sent' }))
      expect(arrivalsOn(on, sent)).toEqual({ gone: [], missing: [photo.id, one.id] })
      const other = await readSheet(who(), (await takenIn(shop)).viewingNo)
      expect(arrivalsOn(other, sent)).toEqual({ gone: [photo.id, one.id], missing: [] })
    })

    test('keeps one in sight that was refused, and not what was drawn on it', async () => {
      const on = await sheet()
      const kept = taken(on)
      const refused: Entry = { kept, state: 'refused', refused: { message: 'No.', fields: {} } }
      expect(photosOf(on, [refused])).toMatchObject([{ id: kept.id, photoHere: { state: 'refused' } }])
    })

    test('knows that somebody else has drawn, until the page shows it', async () => {
      const photo = taken(await sheet())
      await arrives(photo)
      const on = await sheet()
      const kept = drawing(on, [], [arrow])
      done(await markPhoto({ photo: photo.id, version: 1, marks: [circle] }, shop.dealer))
      const refused: Entry = { kept, state: 'refused', refused: { message: 'Stale.', fields: {} } }
      expect(photosOf(on, [refused])).toMatchObject([{ marks: [], version: 1 }])
      expect(drawnUnaware(on, [refused])).toEqual([kept.id])
      expect(drawnUnaware(await sheet(), [refused])).toEqual([])
    })
  })

  test('leaves out what was refused', async () => {
    const on = await sheet()
    const kept = reading(on, 'fuel-leaks', answer('wet'))
    const refused: Entry = { kept, state: 'refused', refused: { message: 'No.', fields: {} } }
    expect(asSeenHere(on, [refused])).toEqual(asSeenHere(on, []))
  })

  test('leaves out what belongs to another bike', async () => {
    const on = await sheet()
    const other = await readSheet(who(), (await takenIn(shop)).viewingNo)
    const kept = reading(other, 'fuel-leaks', answer('wet'))
    expect(asSeenHere(on, [waiting(kept)])).toEqual(asSeenHere(on, []))
  })

  test('opens nothing that the server holds shut', async () => {
    const before = await sheet()
    await send([reading(before, 'fuel-leaks', answer('wet'))])
    const shut = await sheet()
    const here = asSeenHere(shut, [waiting(reading(shut, 'fuel-leaks', answer('dry')))])
    expect(here.rounds.map(({ open }) => open)).toEqual([true, true, false, false])
  })
})

describe('on a bike that is sound, with a ride out, what is seen here', () => {
  let bike: string
  beforeEach(async () => {
    bike = (await sheet()).bike.id
    await findSound(shop.technician, { bike })
    await goOut(shop.technician, { bike })
  })
  const open = (on: Judged) => on.rounds.map((round) => round.open)
  const needs = (on: Judged) =>
    on.rounds.map((round) =>
      round.needs.map(({ check, lacks, says, doneIn }) => [check, lacks, says, doneIn]),
    )

  test.each(stories)('shuts and names what the server does: %s', async (_what, record) => {
    const before = await sheet()
    expect(open(before)).toEqual([true, true, true, true])
    const kept = record(before)
    const here = asSeenHere(before, kept.map(waiting))
    await send(kept)
    const there = await sheet()
    expect(open(here)).toEqual(open(there))
    expect(needs(here)).toEqual(needs(there))
  })

  test.each([
    ['finished', { state: 'done', endedAt: new Date('2026-11-25T11:59:00Z') }],
    ['begun', { state: 'started', endedAt: null }],
  ])('after work that is %s is judged as the server judges it', async (_what, ended) => {
    const { db } = shop.store
    const startedAt = new Date('2026-11-25T11:59:00Z')
    const run = {
      id: uuidv7(),
      bikeId: bike,
      job: 'front-pads',
      title: 'Front pads',
      startedBy: 'x',
      startedAt,
    }
    await db.jobRun.create({ data: { ...run, ...ended } })
    const before = await sheet()
    expect(needs(before)[3]).toContainEqual([
      'pads-front-twin',
      'worked-on',
      'Read before the work on it.',
      'stand',
    ])
    const places = ['left-inner', 'left-outer', 'right-inner', 'right-outer']
    for (const read of [places.slice(0, 2), places.slice(2)]) {
      const on = await sheet()
      const kept = read.map((place) => reading(on, 'pads-front-twin', pad('3.1', place)))
      const here = asSeenHere(on, kept.map(waiting))
      await send(kept)
      const there = await sheet()
      const judged = (of: Judged) =>
        of.rounds.flatMap(({ checks }) => checks).find(({ check }) => check.key === 'pads-front-twin')
          ?.judgement
      expect(judged(here)).toEqual(judged(there))
    }
  })

  test('a good answer is on its way, and the round stays shut until the server opens it', async () => {
    await send([reading(await sheet(), 'fuel-leaks', answer('damp'))])
    const shut = await sheet()
    const kept = reading(shut, 'fuel-leaks', answer('dry'))
    const running = asSeenHere(shut, [waiting(kept)]).rounds[2]!
    expect(running.open).toBe(false)
    expect(running.needs.map(({ check, onItsWay }) => [check, onItsWay])).toEqual([['fuel-leaks', true]])
    expect(shutWords(running)).toBe(`Shut, ${running.progress.open} to do`)
    await send([kept])
    expect(open(await sheet())).toEqual([true, true, true, true])
  })
})

describe('a stale answer', () => {
  const monthLater = '2026-12-27T12:00:00Z'
  const stale = () => readSheet({ ...shop.at(shop.technician, monthLater), who: who().who }, viewingNo)
  const rest = (on: Sheet) => rowsOf(on).find(({ check }) => check.key === 'battery-rest-volts')!
  const posts: Said = { kind: 'measured', value: '12.4', position: 'posts', unit: 'V' }
  const held: Condition[] = ['off', 'rested']

  test('is asked again, and what is measured then takes its place instead of being averaged', async () => {
    const before = await sheet()
    await send([
      reading(before, 'battery-rest-volts', posts, held),
      reading(before, 'battery-rest-volts', { ...posts, value: '12.5' }, held),
    ])
    const on = await stale()
    expect(rest(on).staleDays).toBe(32)
    const seen = asSeenHere(on, [])
    const row = seen.rounds
      .flatMap(({ checks }) => checks)
      .find(({ check }) => check.key === 'battery-rest-volts')!
    const now = new Date(monthLater)
    const again = saidOn(row, { ...posts, value: '12.8' }, now).map((said) =>
      keptReading(said, { sheet: on, check: row.check, now, holding: held }),
    )
    const here = asSeenHere(on, again.map(waiting))
    const after = here.rounds
      .flatMap(({ checks }) => checks)
      .find(({ check }) => check.key === 'battery-rest-volts')!
    expect(after.staleDays).toBeNull()
    expect(after.judgement).toMatchObject({ found: { value: 12.8 } })
    expect(taken(after).map(({ reading, ended }) => [reading.value, ended?.kind ?? null])).toEqual([
      ['12.4', 'withdrawn'],
      ['12.5', 'measured'],
      ['12.8', null],
    ])
  })

  test('on the same day is averaged', async () => {
    const before = await sheet()
    await send([reading(before, 'battery-rest-volts', posts, held)])
    const on = await sheet()
    const row = asSeenHere(on, [])
      .rounds.flatMap(({ checks }) => checks)
      .find(({ check }) => check.key === 'battery-rest-volts')!
    expect(saidOn(row, posts, testNow)).toEqual([posts])
  })
})

describe('a correction that was a slip', () => {
  test('gives its place back to what it corrected, with all that was noted of it', async () => {
    const before = await sheet()
    const first = reading(before, 'disc-rear', { ...pad('4.7', 'a'), instrument: tools.overdue })
    const slip = reading(before, 'disc-rear', { ...pad('7.4', 'a'), supersedes: first.id })
    await send([first, slip])
    const on = await sheet()
    const row = asSeenHere(on, [])
      .rounds.flatMap(({ checks }) => checks)
      .find(({ check }) => check.key === 'disc-rear')!
    const [was, by] = row.readings
    const said = putBack(was!, by!, [...on.instruments])
    await send([reading(on, 'disc-rear', said)])
    const after = rowsOf(await sheet()).find(({ check }) => check.key === 'disc-rear')!
    expect(after.judgement).toMatchObject({ found: { value: 4.7 } })
    const { value, unit, position, instrument } = after.readings.at(-1)!
    expect({ value, unit, position, instrument }).toEqual({
      value: '4.7',
      unit: 'mm',
      position: 'a',
      instrument: was!.instrument,
    })
  })
})

describe('the engine speed on the keys', () => {
  test.each([
    ['', null],
    ['5000', 5000],
    [' 100 ', 100],
    ['20000', 20_000],
  ])('%j is sent as %j', (typed, value) => {
    expect(readEngineSpeed(typed)).toEqual({ ok: true, value })
  })

  test.each(['99', '20001', '5.000', '-5000', 'idle', '1e3', '123456'])('%j is not sent', (typed) => {
    expect(readEngineSpeed(typed)).toMatchObject({ ok: false, problem: expect.stringMatching(/5000/) })
  })
})

describe('what was typed on the keys', () => {
  test.each([
    ['4.5', '4.5'],
    ['4,5', '4,5'],
    ['4.', '4'],
    ['.5', '0.5'],
    [' 4.5 ', '4.5'],
  ])('%j is sent as %j', async (typed, value) => {
    const { check } = rowsOf(await sheet()).find((row) => row.check.key === 'pads-front-twin')!
    expect(readPad(check, typed, 'mm')).toEqual({ ok: true, value })
  })

  test.each(['', '.', '45', '-1', 'thin', '4.5.1'])('%j is not sent, and it says why', async (typed) => {
    const { check } = rowsOf(await sheet()).find((row) => row.check.key === 'pads-front-twin')!
    expect(readPad(check, typed, 'mm')).toMatchObject({ ok: false, problem: expect.stringMatching(/\S/) })
  })
})
