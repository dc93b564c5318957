import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { distanceWords } from '../../app/_ui/distance-words'
import { chartSays } from '../../app/(shop)/bikes/[bike]/identity/distance-chart'
import { changeBike } from '../../lib/shop/change-bike'
import { noteDistance, readDistanceTold, withdrawDistance } from '../../lib/shop/distances'
import { readDistancePage } from '../../lib/shop/read-identity'
import { done, type OpenShop, openTestShop, refused, viewing } from '../support/open-shop'
import { takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  // On 25 November 2026 its clock showed 31200 miles.
  ;({ bike, viewingNo } = await takenIn(shop))
})
afterEach(() => shop.dispose())

const point = (over: Record<string, unknown> = {}) => ({
  id: uuidv7(),
  bike,
  day: '2024-05-02',
  distance: '28 400',
  unit: 'mi',
  source: 'inspection',
  note: '',
  ...over,
})
const note = (over: Record<string, unknown> = {}, who = shop.technician) => noteDistance(point(over), who)
const distances = async () => (await readDistancePage(shop.technician, String(viewingNo))).distances
const told = () => readDistanceTold(shop.store.db, bike)
const events = () => shop.store.db.event.count()

describe('a dated distance', () => {
  test('is kept with its day, unit and source, whoever of the shop notes it, and told in the history', async () => {
    const before = await events()
    done(await note({ note: 'Station 4' }))
    expect(await shop.store.db.distanceNote.findFirstOrThrow()).toMatchObject({
      bikeId: bike,
      day: '2024-05-02',
      distance: 28400,
      unit: 'mi',
      source: 'inspection',
      note: 'Station 4',
      personId: shop.technician.who?.personId,
      withdrawnAt: null,
    })
    expect(await events()).toBe(before + 1)
    done(await note({ day: '2020-01-01', distance: '20000' }, shop.dealer))
  })

  test.each([
    ['no distance', { distance: '' }, 'distance'],
    ['a distance in words', { distance: 'many' }, 'distance'],
    ['a distance below nothing', { distance: '-4' }, 'distance'],
    ['no day', { day: '' }, 'day'],
    ['a day that is still to come', { day: '2026-11-26' }, 'day'],
    ['no unit', { unit: '' }, 'unit'],
    ['no source', { source: '' }, 'source'],
  ])('says at the field: %s', async (_what, over, field) => {
    const before = await events()
    expect(Object.keys(refused(await note(over)).fields)).toEqual([field])
    expect(await events()).toBe(before)
    expect(await shop.store.db.distanceNote.count()).toBe(0)
  })

  test('is noted once, by somebody signed in, of a bike that is there', async () => {
    expect(refused(await note({}, shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await note({ bike: uuidv7() })).kind).toBe('not-found')
    const sent = point()
    done(await noteDistance(sent, shop.technician))
    expect(refused(await noteDistance(sent, shop.technician)).kind).toBe('rule')
  })
})

describe('what the distances come to', () => {
  test('the clock at take-in and two papers that rise prove it', async () => {
    expect((await distances()).verdict).toBe('too few points')
    expect(distanceWords(await told())).toBe('31,200 miles, too few dated points to prove it')
    done(await note())
    done(await note({ day: '2020-05-02', distance: '32187', unit: 'km', source: 'service' }))
    const { verdict, shown } = await distances()
    expect(verdict).toBe('proven')
    expect(shown.map(({ day, source }) => `${day} ${source}`)).toEqual([
      '2020-05-02 service',
      '2024-05-02 inspection',
      '2026-11-25 clock',
    ])
    expect(distanceWords(await told())).toBe('31,200 miles, borne out by dated points')
  })

  test('a paper above the clock contradicts it, until it is taken back with a reason', async () => {
    done(await note())
    done(await note({ day: '2022-05-02', distance: '25000' }))
    const wrong = point({ day: '2023-05-02', distance: '41000' })
    done(await noteDistance(wrong, shop.dealer))
    const history = await distances()
    expect(history.verdict).toBe('not proven')
    expect(history.falls.map(({ from, to }) => `${from.distance} to ${to.distance}`)).toEqual([
      '41000 to 28400',
      '41000 to 31200',
    ])
    expect(chartSays(history)).toBe(
      'Distance in miles against time, 4 points, from 25,000 miles on 2 May 2022 to 31,200 miles on 25 Nov 2026: 2 falls.',
    )
    expect(distanceWords(await told())).toBe('31,200 miles, distance not proven')

    const { id } = wrong
    const before = await events()
    expect(refused(await withdrawDistance({ point: id, reason: ' ' }, shop.dealer)).fields).toHaveProperty(
      'reason',
    )
    expect(refused(await withdrawDistance({ point: id, reason: 'x' }, shop.nobody)).kind).toBe(
      'not-signed-in',
    )
    expect(await events()).toBe(before)
    done(await withdrawDistance({ point: id, reason: 'Of another bike' }, shop.technician))
    expect((await distances()).verdict).toBe('proven')
    // It stays in the record, and is taken back once.
    expect(await shop.store.db.distanceNote.findUniqueOrThrow({ where: { id } })).toMatchObject({
      distance: 41000,
      withdrawnAt: shop.technician.now,
    })
    expect(refused(await withdrawDistance({ point: id, reason: 'Again' }, shop.dealer)).kind).toBe(
      'not-found',
    )
    expect(refused(await withdrawDistance({ point: uuidv7(), reason: 'x' }, shop.dealer)).kind).toBe(
      'not-found',
    )
  })

  test('a clock that was changed is told, however well the papers rise', async () => {
    done(await note())
    done(await note({ day: '2020-05-02', distance: '20000' }))
    done(await changeBike(viewing({ id: bike, version: 1, clockChanged: 'yes' }), shop.dealer))
    expect(await distances()).toMatchObject({ verdict: 'not proven', clockChanged: true, falls: [] })
    expect(distanceWords(await told())).toBe('31,200 miles, distance not proven')
  })

  test('what a ride brought back is a point that nobody can take back', async () => {
    await shop.store.db.ride.create({
      data: {
        id: uuidv7(),
        bikeId: bike,
        purpose: 'test',
        rider: 'Tove',
        licence: 'seen',
        cover: 'trade',
        plates: 'trade',
        unit: 'mi',
        distanceOut: 31200,
        outAt: new Date('2026-11-26T10:00:00Z'),
        distanceIn: 31212,
        inAt: new Date('2026-11-26T10:30:00Z'),
        personId: shop.technician.who!.personId,
      },
    })
    expect((await distances()).shown.at(-1)).toMatchObject({
      day: '2026-11-26',
      distance: 31212,
      removable: false,
    })
  })

  test('a bike whose clock nobody read has no point and no distance', async () => {
    const blank = await takenIn(shop, { distance: '' })
    const page = await readDistancePage(shop.technician, String(blank.viewingNo))
    expect(page.distances.shown).toEqual([])
    expect(chartSays(page.distances)).toBe('No dated distance.')
    expect(distanceWords(await readDistanceTold(shop.store.db, blank.bike))).toBe('not noted')
  })
})
