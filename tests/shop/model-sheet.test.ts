import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { setBikeLimit } from '../../lib/shop/bike-limit'
import type { Context } from '../../lib/shop/deed'
import { readShopAndLimits } from '../../lib/shop/facts'
import { judgeBike } from '../../lib/shop/judge-bike'
import { setLimit, withdrawLimit } from '../../lib/shop/limits'
import {
  type ImportShown,
  importModelLimits,
  modelSheetCsv,
  setModelLimits,
} from '../../lib/shop/model-limits'
import { type ModelSheet, readModelSheet, readModels } from '../../lib/shop/model-sheet'
import { bikeToJudge } from '../../lib/shop/read-judged'
import { recordReading } from '../../lib/shop/record-reading'
import { takeInBike } from '../../lib/shop/take-in-bike'
import { chainDriven, done, type OpenShop, openTestShop, refused, viewing } from '../support/open-shop'

const calder = { make: 'Calder', model: '600 four', year: 1997 }
const disc = 'disc-front-left'

let shop: OpenShop
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  bike = done(await takeInBike(viewing(), shop.dealer)).bike
})
afterEach(() => shop.dispose())

/** Of whom it is known that they are signed in. */
const signedIn = (context: Context) => ({ ...context, who: context.who! })
const sheet = (asked: Record<string, unknown> = {}) =>
  readModelSheet(signedIn(shop.manager), { ...calder, ...asked })
const checkOf = (of: ModelSheet, key: string) => {
  const check = of.checks.find((one) => one.key === key)
  if (!check) throw new Error(`no ${key} on the sheet`)
  return check
}
const limit = (over: Record<string, unknown> = {}) => ({
  id: uuidv7(),
  check: disc,
  scope: 'model',
  ...calder,
  year: undefined,
  yearFrom: '1996',
  yearTo: '1999',
  source: 'maker',
  min: '4.5',
  unit: 'mm',
  note: 'sheet 4',
  ...over,
})
const enter = async (over: Record<string, unknown> = {}) => {
  const { year: _, ...input } = limit(over)
  return done(await setLimit(input, shop.manager)).limit
}

describe('the sheet of a model', () => {
  it('holds every measured check that its bikes have and no other', async () => {
    const keys = (await sheet()).checks.map(({ key }) => key)
    expect(keys).toContain(disc)
    expect(keys).toContain('disc-front-right')
    expect(keys).not.toContain('disc-front')
    done(
      await takeInBike(
        viewing({ model: 'Single', kind: { ...chainDriven, frontBrake: 'single-disc' } }),
        shop.dealer,
      ),
    )
    const single = (await sheet({ model: 'single' })).checks.map(({ key }) => key)
    expect(single).toContain('disc-front')
    expect(single).not.toContain(disc)
  })

  it('of a model that was never here lists every check, since nothing is known of its kind', async () => {
    const unknown = await sheet({ model: 'never seen' })
    expect(unknown.known).toBe(false)
    const keys = unknown.checks.map(({ key }) => key)
    expect(keys).toEqual(expect.arrayContaining([disc, 'disc-front']))
  })

  it('counts a check as done once it has a limit at every position, and names the places that are missing', async () => {
    const before = await sheet()
    const { positions } = checkOf(before, disc)
    expect(positions.length).toBeGreaterThan(1)
    expect(checkOf(before, disc).missing).toEqual([null])
    await enter({ position: positions[0]?.key })
    const half = await sheet()
    expect(checkOf(half, disc).missing).toEqual(positions.slice(1).map(({ key }) => key))
    expect(half.withLimit).toBe(before.withLimit)
    await enter()
    const after = await sheet()
    expect(checkOf(after, disc).missing).toEqual([])
    expect(after.withLimit).toBe(before.withLimit + 1)
    expect(checkOf(after, disc).limits[0]?.words).toBe('at least 4.5 mm')
  })

  it('a sale line alone is no limit', async () => {
    const before = await sheet()
    await enter({ min: '', saleMin: '4.8' })
    expect(checkOf(await sheet(), disc).missing).toEqual([null])
    expect((await sheet()).withLimit).toBe(before.withLimit)
  })

  it('has the law of the country, and leaves out what is stamped on one bike', async () => {
    done(
      await setBikeLimit(
        { id: uuidv7(), bike, check: disc, source: 'stamped', min: '4.6', unit: 'mm' },
        shop.technician,
      ),
    )
    const shown = await sheet()
    expect(checkOf(shown, disc).missing).toEqual([null])
    expect(checkOf(shown, 'tread-front').limits[0]?.sources.map(({ kind }) => kind)).toEqual(['law'])
  })

  it('is that of one year: entries for others are told apart', async () => {
    await enter()
    const early = await sheet({ year: 1990 })
    expect(checkOf(early, disc).missing).toEqual([null])
    expect(early.otherYears).toMatchObject([{ entry: { years: '1996 to 1999', figures: 'at least 4.5 mm' } }])
    expect((await sheet()).otherYears).toEqual([])
    expect((await sheet()).years).toEqual([1996, 1997, 1999])
  })

  it('of two entries whose years overlap says so, and the narrower one holds', async () => {
    await enter()
    await enter({ yearFrom: '1997', yearTo: '2001', min: '4.7' })
    const both = checkOf(await sheet(), disc)
    expect(both.overlap.map(({ years }) => years)).toEqual(['1996 to 1999', '1997 to 2001'])
    expect(both.limits[0]?.words).toBe('at least 4.7 mm')
    expect(checkOf(await sheet({ year: 1996 }), disc).overlap).toEqual([])
  })

  it('keeps what was taken back or replaced, with who and when', async () => {
    await enter({ min: '4' })
    const second = await enter({ min: '4.5' })
    const later = shop.at(shop.manager, '2026-11-26T09:00:00Z')
    done(await withdrawLimit({ limit: second, version: 1 }, later))
    const { gone } = await sheet()
    expect(gone).toMatchObject([
      { figures: 'at least 4.5 mm', withdrawnBy: 'Mara', withdrawnAt: new Date('2026-11-26T09:00:00Z') },
      {
        figures: 'at least 4 mm',
        enteredBy: 'Mara',
        withdrawnBy: 'Mara',
        heldFor: 'calder 600four, 1996 to 1999',
      },
    ])
  })

  it('can be seen by a technician, who finds no money in it and nothing to change', async () => {
    const shown = await readModelSheet(signedIn(shop.technician), calder)
    expect(shown.mayChange).toBe(false)
    expect(JSON.stringify(shown)).not.toMatch(/minor|price|asking/i)
  })

  it('is refused without a make or a model', async () => {
    await expect(readModelSheet(signedIn(shop.manager), { make: 'Calder' })).rejects.toThrow(/model/)
  })

  it('stands in the list of models with its bikes and entries', async () => {
    await enter()
    await enter({ make: 'Ostrel', model: '750', yearFrom: '1990' })
    expect(await readModels(shop.store.db)).toEqual([
      { make: 'Calder', model: '600 four', year: 1997, bikes: 1, entries: 1 },
      { make: 'ostrel', model: '750', year: 1990, bikes: 0, entries: 1 },
    ])
  })
})

describe('entered once', () => {
  it('a model’s limit judges the next bike of that model, and no other', async () => {
    const { seen } = await sheet()
    const rows = { 0: { check: disc, unit: 'mm', min: '4.5' } }
    done(await setModelLimits({ ...calderOf(), source: 'maker', seen, rows }, shop.manager))
    const verdictOf = async (over: Record<string, unknown>) => {
      const { bike: id } = done(await takeInBike(viewing(over), shop.dealer))
      const { positions } = checkOf(await sheet(), disc)
      for (const { key: position } of positions) {
        const reading = {
          id: uuidv7(),
          bike: id,
          check: disc,
          position,
          kind: 'measured',
          value: '4.2',
          unit: 'mm',
          instrument: 'micrometer',
          takenAt: shop.technician.now.toISOString(),
        }
        done(await recordReading(reading, shop.technician))
      }
      const { shop: facts, ownLimits } = await readShopAndLimits(shop.store.db, {
        bikeId: id,
        now: shop.technician.now,
      })
      const row = await shop.store.db.bike.findUniqueOrThrow({ where: { id }, select: bikeToJudge })
      const { judgements } = judgeBike(row, { shop: facts, ownLimits, now: shop.technician.now })
      return judgements.find(({ check }) => check === disc)?.verdict
    }
    expect(await verdictOf({ make: 'CALDER', model: '600 Four', year: '1998' })).toBe('outside')
    expect(await verdictOf({ year: '2005' })).toBe('outside')
    expect(await verdictOf({ model: '750 four' })).toBe('not-judged')
  })
})

const calderOf = () => ({ make: calder.make, model: calder.model })

describe('many limits entered in one go', () => {
  const send = async (rows: Record<string, unknown>, over: Record<string, unknown> = {}) => {
    const { seen } = await sheet()
    return setModelLimits({ ...calderOf(), source: 'maker', seen, rows, ...over }, shop.manager)
  }
  const row = (over: Record<string, unknown> = {}) => ({ check: disc, unit: 'mm', min: '4,5', ...over })

  it('are all there, with one event; rows without a figure are passed over', async () => {
    const answer = done(
      await send({
        0: row({ asNew: '5' }),
        1: row({ check: 'disc-front-right' }),
        2: row({ check: 'disc-rear', min: ' ' }),
      }),
    )
    expect(answer).toEqual({ entered: 2 })
    expect(await shop.store.db.limit.count()).toBe(2)
    expect(await shop.store.db.event.count({ where: { verb: 'limit:set' } })).toBe(1)
  })

  it.each([
    ['rows.1.min', { min: 'thin' }],
    ['rows.1.max', { min: '5', max: '4' }],
    ['rows.1.unit', { unit: 'V' }],
    ['rows.1.unit', { unit: '' }],
    ['rows.1.check', { check: 'no-such' }],
    ['rows.1.position', { position: 'nowhere' }],
  ])('with a wrong %s none is entered and the message stands there (%j)', async (field, over) => {
    const refusal = refused(await send({ 0: row(), 1: row({ check: 'disc-front-right', ...over }) }))
    expect(Object.keys(refusal.fields)).toEqual([field])
    expect(refusal.fields[field]).not.toMatch(/invalid/i)
    expect(refusal.fields[field]).toMatch(/^(Front disc thickness, right|One row): [A-Z]/)
    expect(await shop.store.db.limit.count()).toBe(0)
  })

  it.each([
    ['source', { source: '' }],
    ['yearFrom', { yearFrom: '96' }],
    ['yearTo', { yearFrom: '1999', yearTo: '1996' }],
    ['make', { make: ' ' }],
  ])('a wrong %s is told once', async (field, over) => {
    expect(Object.keys(refused(await send({ 0: row() }, over)).fields)).toEqual([field])
  })

  it('without any figure there is nothing to enter', async () => {
    expect(refused(await send({ 0: row({ min: '' }) })).message).toMatch(/one check at least/)
  })

  it('are refused where somebody entered one since, and sent twice they are entered once', async () => {
    const { seen } = await sheet()
    const input = { ...calderOf(), source: 'maker', seen, rows: { 0: row() } }
    done(await setModelLimits(input, shop.manager))
    expect(refused(await setModelLimits(input, shop.manager)).kind).toBe('stale')
    expect(await shop.store.db.limit.count()).toBe(1)
  })

  it('are for a manager alone', async () => {
    const input = { ...calderOf(), source: 'maker', rows: { 0: row() } }
    expect(refused(await setModelLimits(input, shop.dealer)).kind).toBe('not-allowed')
    expect(refused(await importModelLimits({ ...calderOf(), csv: 'check' }, shop.technician)).kind).toBe(
      'not-allowed',
    )
  })
})

describe('the sheet as a table', () => {
  const exported = async () => (await modelSheetCsv(signedIn(shop.manager), calder)).text
  const tell = async (csv: string) => {
    const answer = done(await importModelLimits({ ...calderOf(), csv }, shop.manager))
    return answer as ImportShown
  }
  const apply = (shown: ImportShown) =>
    importModelLimits({ ...calderOf(), csv: shown.csv, seen: shown.seen, agreed: 'yes' }, shop.manager)
  const head =
    'check,position,from year,to year,at least,at most,as new,sale line at least,sale line at most,unit,source,note'
  const line = (check: string, min: string, rest = 'mm,maker,sheet 4') =>
    `${check},,1996,1999,${min},,,,,${rest}`

  it('says where each figure comes from once', async () => {
    expect(await exported()).not.toMatch(/common practice: common practice/)
  })

  it('that was exported changes nothing when it is read again', async () => {
    await enter({ note: '\'=1+1, "quoted"', asNew: '5', saleMin: '4.8' })
    await enter({
      position: checkOf(await sheet(), disc).positions[0]?.key,
      min: '0.1875',
      unit: 'in',
      note: '',
    })
    await enter({ check: 'tread-front', min: '2.25', source: 'common practice', note: '-3 is no formula' })
    const before = await shop.store.db.limit.findMany()
    const shown = await tell(await exported())
    expect(shown.lines).toEqual([])
    expect(shown.same).toBeGreaterThan(10)
    expect(done(await apply(shown))).toEqual({ step: 'done', changed: 0 })
    expect(await shop.store.db.limit.findMany()).toEqual(before)
  })

  it('has a line for every place that has no entry, with what holds there now', async () => {
    const text = await exported()
    expect(text).toContain('tread-front')
    expect(text).toMatch(/disc-front-left.*set by model/)
  })

  it('first tells what it would change and changes nothing, then changes all of it', async () => {
    await enter()
    await enter({ check: 'disc-front-right', min: '4.4' })
    const csv = [head, line(disc, '4.7'), line('disc-front-right', ''), line('disc-rear', '3')].join('\n')
    const shown = await tell(csv)
    expect(shown.lines.map(({ line, does, from, to }) => [line, does, from, to])).toEqual([
      [2, 'change', 'at least 4.5 mm (maker: sheet 4)', 'at least 4.7 mm (maker: sheet 4)'],
      [3, 'take back', 'at least 4.4 mm (maker: sheet 4)', null],
      [4, 'new', null, 'at least 3 mm (maker: sheet 4)'],
    ])
    expect(await shop.store.db.limit.count()).toBe(2)
    expect(done(await apply(shown))).toEqual({ step: 'done', changed: 3 })
    const now = await shop.store.db.limit.findMany({
      where: { withdrawnAt: null },
      orderBy: { check: 'asc' },
    })
    expect(now.map(({ check, min }) => [check, min])).toEqual([
      [disc, 4.7],
      ['disc-rear', 3],
    ])
    expect((await tell(csv)).lines).toEqual([])
  })

  it('is refused where an entry changed since it was shown, and nothing is changed', async () => {
    const shown = await tell([head, line(disc, '4.7')].join('\n'))
    await enter({ check: 'disc-rear', min: '3' })
    expect(refused(await apply(shown)).kind).toBe('stale')
    expect(await shop.store.db.limit.count()).toBe(1)
  })

  it.each([
    ['disc-none', '4', 'mm,maker,', /check: /],
    [disc, 'thin', 'mm,maker,', /at least: Enter a number/],
    [disc, '4523', 'mm,maker,', /at least: No reading/],
    [disc, '4', 'V,maker,', /unit: Choose mm/],
    [disc, '4', ',maker,', /unit: /],
    [disc, '4', 'mm,hearsay,', /source: /],
  ])(
    'a line that cannot be taken says why, and then none is taken: %s %s %s',
    async (check, min, rest, why) => {
      const shown = await tell([head, line('disc-rear', '3'), line(check, min, rest)].join('\n'))
      expect(shown.refused).toBe(1)
      expect(shown.lines[1]).toMatchObject({ line: 3, does: 'refused' })
      expect(shown.lines[1]?.why).toMatch(why)
      expect(refused(await apply(shown)).kind).toBe('rule')
      expect(await shop.store.db.limit.count()).toBe(0)
    },
  )

  it('the same check, position and years twice is refused at the second line', async () => {
    const shown = await tell([head, line(disc, '4'), line(disc, '5')].join('\n'))
    expect(shown.lines.map(({ does, why }) => [does, why])).toEqual([
      ['new', null],
      ['refused', 'Line 2 is for the same check, position and years.'],
    ])
  })

  it.each(['', 'check,at least\ndisc-rear,3', 'check,"at least\n'])('%j is no table', async (csv) => {
    expect(
      Object.keys(refused(await importModelLimits({ ...calderOf(), csv }, shop.manager)).fields),
    ).toEqual(['csv'])
  })
})
