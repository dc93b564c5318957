import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import {
  addInstrument,
  changeInstrument,
  readInstrumentList,
  withdrawInstrument,
} from '../../lib/shop/instruments'
import { recordReading } from '../../lib/shop/record-reading'
import { takeInBike } from '../../lib/shop/take-in-bike'
import { done, type OpenShop, openTestShop, refused, testDay, viewing } from '../support/open-shop'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

const tool = (over: Record<string, unknown> = {}) => ({
  id: uuidv7(),
  kind: 'calliper',
  name: 'Blue calliper',
  resolution: '0,05',
  unit: 'mm',
  standardUncertainty: '0.02',
  calibrationDue: '2027-03-31',
  ...over,
})

const disc = startingCatalogue.checks.find(({ key }) => key === 'disc-front-left')
const firstPlace = disc?.sort === 'measured' ? disc.positions[0]?.key : null

async function changed(over: Record<string, unknown> = {}) {
  const { id, ...figures } = tool()
  const { instrument } = done(await addInstrument({ id, ...figures }, shop.manager))
  return { instrument, version: 1, ...figures, ...over }
}

describe('a tool of the shop', () => {
  it('stands in the list with its combined standard uncertainty', async () => {
    done(await addInstrument(tool(), shop.manager))
    const { inUse, kinds } = await readInstrumentList(shop.manager)
    expect(inUse).toMatchObject([
      { name: 'Blue calliper', resolution: 0.05, calibration: 'in date', calibrationDue: '2027-03-31' },
    ])
    // By hand: √((0.05 ÷ 2)² ÷ 3 + 0.02²) = √(0.000208333 + 0.0004) = 0.024664.
    expect(inUse[0]?.combined).toBeCloseTo(0.024664, 6)
    expect(kinds.find(({ key }) => key === 'calliper')?.units).toContain('in')
  })

  it.each([
    ['2026-11-24', 'overdue', -1],
    ['2026-11-25', 'due soon', 0],
    ['2026-12-25', 'due soon', 30],
    ['2026-12-26', 'in date', 31],
    ['', 'no date', null],
  ])('due on %j it is told as %s', async (calibrationDue, calibration, daysLeft) => {
    expect(testDay).toBe('2026-11-25')
    done(await addInstrument(tool({ calibrationDue }), shop.manager))
    const { inUse } = await readInstrumentList(shop.manager)
    expect(inUse).toMatchObject([{ calibration, daysLeft }])
  })

  it('the day turns at midnight in the zone of the shop', async () => {
    await shop.store.db.shop.updateMany({ data: { zone: 'Pacific/Auckland' } })
    done(await addInstrument(tool({ calibrationDue: testDay }), shop.manager))
    const late = shop.at(shop.manager, `${testDay}T12:00:00Z`)
    expect(await readInstrumentList(late)).toMatchObject({
      today: '2026-11-26',
      inUse: [{ calibration: 'overdue' }],
    })
  })

  it('overdue ones come first, then those due soon', async () => {
    for (const [name, calibrationDue] of [
      ['without a date', ''],
      ['soon', '2026-12-01'],
      ['long overdue', '2025-01-01'],
      ['good', '2027-12-01'],
      ['overdue', '2026-11-01'],
    ]) {
      done(await addInstrument(tool({ name, calibrationDue }), shop.manager))
    }
    const { inUse } = await readInstrumentList(shop.manager)
    expect(inUse.map(({ name }) => name)).toEqual([
      'long overdue',
      'overdue',
      'soon',
      'good',
      'without a date',
    ])
  })

  it('what was read with it before keeps the figures it had then', async () => {
    const { bike } = done(await takeInBike(viewing(), shop.dealer))
    const change = await changed({ standardUncertainty: '0.04', name: 'Blue calliper, worn' })
    const take = async () => {
      const id = uuidv7()
      done(
        await recordReading(
          {
            id,
            bike,
            check: 'disc-front-left',
            position: firstPlace,
            kind: 'measured',
            value: '4.6',
            unit: 'mm',
            instrument: change.instrument,
            takenAt: shop.technician.now.toISOString(),
          },
          shop.technician,
        ),
      )
      const row = await shop.store.db.reading.findUniqueOrThrow({ where: { id } })
      return JSON.parse(row.instrument ?? '')
    }
    const before = await take()
    done(await changeInstrument(change, shop.manager))
    expect(before).toMatchObject({ name: 'Blue calliper', standardUncertainty: 0.02 })
    expect(await take()).toMatchObject({ name: 'Blue calliper, worn', standardUncertainty: 0.04 })
    const rows = await shop.store.db.reading.findMany({ orderBy: { seq: 'asc' } })
    expect(JSON.parse(rows[0]?.instrument ?? '')).toEqual(before)
  })

  it('a change from an older version is refused with what is stored now', async () => {
    const change = await changed({ name: 'Mine' })
    done(await changeInstrument({ ...change, name: 'Theirs' }, shop.manager))
    const refusal = refused(await changeInstrument(change, shop.manager))
    expect(refusal).toMatchObject({ kind: 'stale', theirs: { name: 'Theirs', version: '2' } })
  })

  it('taken out of use it is kept with its history: who, when, why', async () => {
    const change = await changed({ name: 'Red calliper' })
    const later = shop.at(shop.manager, '2026-11-26T09:00:00Z')
    done(await changeInstrument(change, shop.manager))
    const away = { instrument: change.instrument, version: 2, reason: 'dropped' }
    done(await withdrawInstrument(away, later))
    expect(refused(await withdrawInstrument(away, later)).kind).toBe('stale')
    expect(refused(await changeInstrument({ ...change, version: 3 }, later)).kind).toBe('rule')
    const { inUse, outOfUse } = await readInstrumentList(later)
    expect(inUse).toEqual([])
    expect(outOfUse).toMatchObject([
      {
        name: 'Red calliper',
        history: [
          { did: 'added', who: 'Mara' },
          { did: 'changed', who: 'Mara' },
          { did: 'taken out of use', who: 'Mara', says: 'dropped', at: new Date('2026-11-26T09:00:00Z') },
        ],
      },
    ])
    // Its name is free again.
    done(await addInstrument(tool({ name: 'Red calliper' }), later))
  })

  it('is for a manager alone', async () => {
    for (const who of [shop.dealer, shop.technician]) {
      expect(refused(await addInstrument(tool(), who)).kind).toBe('not-allowed')
    }
    expect(await shop.store.db.instrument.count()).toBe(0)
  })

  it.each([
    ['kind', { kind: '' }],
    ['kind', { kind: 'crystal ball' }],
    ['name', { name: '  ' }],
    ['name', { name: 'Taken' }],
    ['resolution', { resolution: '0' }],
    ['resolution', { resolution: 'fine' }],
    ['resolution', { resolution: '' }],
    ['unit', { unit: 'V' }],
    ['unit', { unit: 'furlong' }],
    ['standardUncertainty', { standardUncertainty: '-0.1' }],
    ['standardUncertainty', { standardUncertainty: '' }],
    ['calibrationDue', { calibrationDue: 'soon' }],
    ['calibrationDue', { calibrationDue: '2026-02-30' }],
  ])('a wrong %s is told at its field (%j)', async (field, over) => {
    done(await addInstrument(tool({ name: 'Taken' }), shop.manager))
    const refusal = refused(await addInstrument(tool({ name: 'Other', ...over }), shop.manager))
    expect(Object.keys(refusal.fields)).toEqual([field])
    expect(refusal.fields[field]).not.toMatch(/invalid/i)
  })
})
