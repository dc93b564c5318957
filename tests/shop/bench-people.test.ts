import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import {
  noteTimeOff,
  readBenchPeople,
  readTimesOff,
  setPersonWork,
  withdrawTimeOff,
} from '../../lib/shop/bench-people'
import { readFigures } from '../../lib/shop/figures'
import { done, type OpenShop, openTestShop, refused, testDay } from '../support/open-shop'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

const people = async () => readBenchPeople(shop.store.db, await readFigures(shop.store.db))
const technician = () => shop.technician.who!.personId
const work = (over: object = {}) => ({
  ...{ person: technician(), version: 0, atBench: 'yes', skills: ['brakes', 'fuel'], pace: '1,2' },
  ...{ weekdays: ['1', '3'], from: '8:30', to: '12:00' },
  ...over,
})
const off = (over: object = {}) => ({
  ...{ id: uuidv7(), person: '', what: 'Holiday', fromDay: '2026-12-24', toDay: '2026-12-31' },
  ...{ from: '', to: '' },
  ...over,
})

describe('how somebody works at the bench', () => {
  it('is as the shop has it where nothing was set: technicians are there, others are not', async () => {
    const [own] = (await people()).filter(({ person }) => person === technician())
    expect(own).toMatchObject({ atBench: true, skills: null, pace: 1, version: 0, ownHours: false })
    expect(own).toMatchObject({ weekdays: [1, 2, 3, 4, 5], fromMinute: 540, toMinute: 1020 })
    expect((await people()).filter(({ atBench }) => atBench)).toHaveLength(1)
  })

  it('is what a manager set, and is told in an event', async () => {
    done(await setPersonWork(work(), shop.manager))
    const [own] = (await people()).filter(({ person }) => person === technician())
    expect(own).toMatchObject({ skills: ['brakes', 'fuel'], pace: 1.2, weekdays: [1, 3], version: 1 })
    expect(own).toMatchObject({ fromMinute: 510, toMinute: 720, ownHours: true })
    const last = await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
    expect(last).toMatchObject({ verb: 'plan:set', bikeId: null })
  })

  it('goes back to the shop’s where the fields are left empty', async () => {
    done(await setPersonWork(work(), shop.manager))
    const empty = { version: 1, skills: [], pace: '', weekdays: undefined, from: '', to: '' }
    done(await setPersonWork(work(empty), shop.manager))
    const [own] = (await people()).filter(({ person }) => person === technician())
    expect(own).toMatchObject({ skills: null, pace: 1, fromMinute: 540, ownHours: false, version: 2 })
  })

  it.each([
    ['pace', { pace: 'slowly' }],
    ['to', { from: '9:00', to: '' }],
    ['to', { from: '12:00', to: '11:00' }],
    ['from', { from: 'nine', to: '17:00' }],
    ['weekdays', { weekdays: [] }],
    ['skills.0', { skills: ['magic'] }],
  ])('is refused at %s where that cannot be', async (field, over) => {
    const { fields, kind } = refused(await setPersonWork(work(over), shop.manager))
    expect(kind).toBe('malformed')
    expect(Object.keys(fields)).toContain(field)
    expect(await shop.store.db.personWork.count()).toBe(0)
  })

  it('is refused to others, to nobody, for a person who is not here, and from an older version', async () => {
    expect(refused(await setPersonWork(work(), shop.technician)).kind).toBe('not-allowed')
    expect(refused(await setPersonWork(work(), shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await setPersonWork(work({ person: uuidv7() }), shop.manager)).kind).toBe('not-found')
    done(await setPersonWork(work(), shop.manager))
    expect(refused(await setPersonWork(work({ pace: '2' }), shop.manager)).kind).toBe('stale')
    expect(refused(await setPersonWork(work({ pace: '2', version: 7 }), shop.manager)).kind).toBe('stale')
    expect((await people()).find(({ person }) => person === technician())?.pace).toBe(1.2)
  })
})

describe('a time off', () => {
  it('is for the whole shop or one person, and is over when its last day is', async () => {
    done(await noteTimeOff(off(), shop.manager))
    done(
      await noteTimeOff(
        off({
          person: technician(),
          what: 'Customer’s own bike',
          fromDay: testDay,
          toDay: '',
          from: '13:00',
        }),
        shop.manager,
      ),
    )
    const times = await readTimesOff(shop.store.db, testDay)
    expect(times).toMatchObject([
      { what: 'Customer’s own bike', fromDay: testDay, toDay: testDay, fromMinute: 780, toMinute: null },
      { what: 'Holiday', person: null, name: null, fromDay: '2026-12-24', toDay: '2026-12-31' },
    ])
    expect(await readTimesOff(shop.store.db, '2027-01-01')).toEqual([])
  })

  it('is worked after all where it is taken back, once', async () => {
    const one = off()
    done(await noteTimeOff(one, shop.manager))
    done(await withdrawTimeOff({ id: one.id }, shop.manager))
    expect(await readTimesOff(shop.store.db, testDay)).toEqual([])
    expect(refused(await withdrawTimeOff({ id: one.id }, shop.manager)).kind).toBe('not-found')
  })

  it.each([
    ['what', { what: ' ' }],
    ['fromDay', { fromDay: 'Christmas' }],
    ['toDay', { toDay: '2026-12-01' }],
    ['to', { from: '12:00', to: '10:00' }],
  ])('is refused at %s where that cannot be', async (field, over) => {
    const { fields, kind } = refused(await noteTimeOff(off(over), shop.manager))
    expect(kind).toBe('malformed')
    expect(Object.keys(fields)).toContain(field)
  })

  it('is noted and taken back by managers only, and once', async () => {
    const one = off()
    expect(refused(await noteTimeOff(one, shop.dealer)).kind).toBe('not-allowed')
    expect(refused(await noteTimeOff(one, shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await noteTimeOff(off({ person: uuidv7() }), shop.manager)).kind).toBe('not-found')
    done(await noteTimeOff(one, shop.manager))
    expect(refused(await noteTimeOff(one, shop.manager)).kind).toBe('rule')
    expect(refused(await withdrawTimeOff({ id: one.id }, shop.technician)).kind).toBe('not-allowed')
    expect(refused(await withdrawTimeOff({ id: one.id }, shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await withdrawTimeOff({ id: 'holiday' }, shop.manager)).kind).toBe('malformed')
  })
})
