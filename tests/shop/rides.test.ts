import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { neededCheck, ridePapersHours } from '../../lib/core/checks/locks'
import { checkChain } from '../../lib/data/events'
import { clearLock } from '../../lib/shop/clear-lock'
import { readDistances } from '../../lib/shop/distances'
import { declareOpen } from '../../lib/shop/job-runs'
import { readSheet } from '../../lib/shop/read-sheet'
import { recordReading } from '../../lib/shop/record-reading'
import { rideIn, rideOut } from '../../lib/shop/rides'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { answer, look, takenIn } from '../support/readings'
import { goOut, ridingOut } from '../support/rides'
import { findSound } from '../support/sound-bike'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await takenIn(shop))
})
afterEach(() => shop.dispose())

const coming = (ride: string, over: object = {}) => ({ ride, version: 1, distanceIn: '31312.5', ...over })
const at = (instant: string) => shop.at(shop.technician, instant)
const rides = () => shop.store.db.ride.findMany({ orderBy: { outAt: 'asc' } })

async function roadAt(instant: string) {
  const context = at(instant)
  const { rounds } = await readSheet({ ...context, who: context.who! }, viewingNo)
  return rounds.find(({ round }) => round === 'road')!
}

describe('a ride out', () => {
  beforeEach(() => findSound(shop.technician, { bike }))

  test('keeps who rides with which papers, for everybody at the bench', async () => {
    for (const context of [shop.technician, shop.dealer, shop.manager]) {
      const ride = await goOut(context, { bike })
      const rows = await rides()
      expect(rows.at(-1)).toMatchObject({
        id: ride,
        rider: 'Tove',
        licence: 'full, seen today',
        cover: 'trade cover',
        plates: 'trade plates',
        distanceOut: 31_300,
        inAt: null,
        personId: context.who?.personId,
      })
      done(await rideIn(coming(ride, { distanceIn: '31300' }), context))
    }
    const last = await shop.store.db.event.findFirst({ orderBy: { seq: 'desc' } })
    expect(last).toMatchObject({ verb: 'ride:note', bikeId: bike })
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test('is for people who are signed in', async () => {
    expect(refused(await rideOut(ridingOut(bike), shop.nobody)).kind).toBe('not-signed-in')
    expect(await rides()).toEqual([])
  })

  test.each(['rider', 'licence', 'cover', 'plates'])('needs the %s, said at its field', async (field) => {
    const refusal = refused(await rideOut(ridingOut(bike, { [field]: ' ' }), shop.technician))
    expect(refusal.fields).toHaveProperty(field)
    expect(await rides()).toEqual([])
  })

  test.each([
    ['', 'distanceOut'],
    ['far', 'distanceOut'],
    ['-1', 'distanceOut'],
  ])('refuses %j on the clock at its field', async (distanceOut, field) => {
    expect(refused(await rideOut(ridingOut(bike, { distanceOut }), shop.technician)).fields).toHaveProperty(
      field,
    )
  })

  test('by a buyer needs something held, by others not', async () => {
    const buyer = { purpose: 'buyer', rider: 'A buyer' }
    expect(refused(await rideOut(ridingOut(bike, buyer), shop.dealer)).fields).toHaveProperty('held')
    await goOut(shop.dealer, { bike, ...buyer, held: 'keys of the buyer’s car' })
  })

  test.each(['Dele', ' dele '])('by a buyer is not by %j who writes it down', async (rider) => {
    const sent = ridingOut(bike, { purpose: 'buyer', rider, held: 'Keys of the car' })
    expect(refused(await rideOut(sent, shop.dealer)).fields.rider).toContain('Give the name of the buyer')
    expect(await rides()).toEqual([])
  })

  test('is one at a time, and written down once', async () => {
    const sent = ridingOut(bike)
    done(await rideOut(sent, shop.technician))
    expect(refused(await rideOut(sent, shop.technician)).message).toMatch(/already/)
    expect(refused(await rideOut(ridingOut(bike), shop.dealer)).message).toMatch(/out already/)
    expect(await rides()).toHaveLength(1)
  })

  test('of no bike is refused', async () => {
    expect(refused(await rideOut(ridingOut(uuidv7()), shop.technician)).kind).toBe('not-found')
  })

  /** It was taken in at 31200 mi, which is 50212 km. */
  test.each([
    ['31100', 'mi', true],
    ['31199', 'mi', false],
    ['31200', 'mi', false],
    ['50100', 'km', true],
    ['50212', 'km', false],
  ])('with %s %s on the clock is asked about: %s', async (distanceOut, unit, asked) => {
    const sent = ridingOut(bike, { distanceOut, unit })
    const result = await rideOut(sent, shop.technician)
    expect(result.ok).toBe(!asked)
    if (!asked) return
    expect(refused(result).fields.distanceOut).toContain('It showed 31200 mi before.')
    // A clock may have been changed: said once more, it goes as it is, and the history tells the fall.
    const ride = done(await rideOut({ ...sent, showsLess: 'yes' }, shop.technician)).ride
    done(await rideIn(coming(ride, { distanceIn: distanceOut }), shop.technician))
    const row = await shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })
    expect((await readDistances(shop.store.db, row, 'Europe/London')).verdict).not.toBe('proven')
  })
})

describe('the road that is shut', () => {
  test('lets nobody out, and says by what', async () => {
    const refusal = refused(await rideOut(ridingOut(bike), shop.technician))
    expect(refusal.kind).toBe('rule')
    expect(refusal.message).toContain('Check: Front brake lever firm.')
    await findSound(shop.technician, { bike })
    const open = { id: uuidv7(), bike, kind: 'brake-open' }
    done(await declareOpen(open, shop.technician))
    expect(refused(await rideOut(ridingOut(bike), shop.technician)).message).toBe(
      'The road is shut: Brake open.',
    )
    expect(await rides()).toEqual([])
  })

  test('by a brake without pressure lets nobody out, whatever a manager says', async () => {
    await findSound(shop.technician, { bike })
    await answer(shop.technician, { bike, answers: [['front-brake-lever', 'none']] })
    for (const fault of ['front-brake-no-pressure', neededCheck('front-brake-lever')]) {
      expect(refused(await clearLock({ bike, fault, reason: 'Gently' }, shop.manager)).kind).toBe('rule')
    }
    expect(refused(await rideOut(ridingOut(bike), shop.manager)).kind).toBe('rule')
  })

  test('never stops what was felt from being written down', async () => {
    const note = 'Seen, the seller did it'
    done(await recordReading(look(bike, ['brakes-on-road', 'straight'], { note }), shop.technician))
    expect(await shop.store.db.reading.count()).toBe(1)
  })
})

describe('the road round', () => {
  beforeEach(() => findSound(shop.technician, { bike }))

  test('holds its instruction back until a ride is noted, and for some hours after it came back', async () => {
    const before = await roadAt('2026-11-25T12:00:00Z')
    expect(before).toMatchObject({ open: false, wantsRidePapers: true, needs: [], locks: [] })
    expect(before.checks.every(({ check }) => check.how === null)).toBe(true)
    const ride = await goOut(shop.technician, { bike })
    expect(await roadAt('2026-11-25T12:30:00Z')).toMatchObject({ open: true, wantsRidePapers: false })
    done(await rideIn(coming(ride), at('2026-11-25T13:00:00Z')))
    expect(ridePapersHours).toBe(12)
    expect((await roadAt('2026-11-25T23:59:00Z')).wantsRidePapers).toBe(false)
    expect((await roadAt('2026-11-26T01:00:00Z')).wantsRidePapers).toBe(true)
  })
})

describe('a ride in', () => {
  let ride: string
  beforeEach(async () => {
    await findSound(shop.technician, { bike })
    ride = await goOut(shop.technician, { bike })
  })

  test('goes into the history of the distance, and leads to its bike', async () => {
    const back = shop.at(shop.dealer, '2026-11-25T12:40:00Z')
    expect(done(await rideIn(coming(ride, { note: 'Pulls left' }), back))).toEqual({ viewingNo })
    const [row] = await rides()
    expect(row).toMatchObject({ distanceIn: 31_312.5, note: 'Pulls left', version: 2 })
    const known = await shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })
    const { shown } = await readDistances(shop.store.db, known, 'Europe/London')
    expect(shown.map(({ distance, note }) => [distance, note])).toEqual([
      [31_200, 'when it was taken in'],
      [31_312.5, 'back from a ride'],
    ])
  })

  test('is once, from the version that is stored, by somebody signed in', async () => {
    expect(refused(await rideIn(coming(ride), shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await rideIn(coming(ride, { version: 7 }), shop.technician)).kind).toBe('stale')
    expect(refused(await rideIn(coming(uuidv7()), shop.technician)).kind).toBe('not-found')
    done(await rideIn(coming(ride), shop.technician))
    expect(refused(await rideIn(coming(ride, { version: 2 }), shop.technician)).message).toMatch(/back/)
  })

  test('below where it went out is asked about once, and then kept', async () => {
    const less = coming(ride, { distanceIn: '31' })
    expect(refused(await rideIn(less, shop.technician)).fields).toHaveProperty('distanceIn')
    expect(refused(await rideIn(coming(ride, { distanceIn: '' }), shop.technician)).fields).toHaveProperty(
      'distanceIn',
    )
    done(await rideIn({ ...less, showsLess: 'yes' }, shop.technician))
  })
})

describe('a lock cleared for one ride', () => {
  const fault = neededCheck('indicators')
  const reason = 'By daylight, to the corner and back'

  async function withoutIndicators(how: 'ride' | 'day') {
    await findSound(shop.technician, {
      bike,
      only: (check) => check.gate !== undefined && check.key !== 'indicators',
    })
    expect(refused(await rideOut(ridingOut(bike), shop.technician)).message).toContain('Indicators')
    done(await clearLock({ bike, fault, for: how, reason }, shop.manager))
    const ride = await goOut(shop.technician, { bike })
    done(await rideIn(coming(ride), at('2026-11-25T12:20:00Z')))
    return rideOut(ridingOut(bike, { distanceOut: '31320' }), at('2026-11-25T12:30:00Z'))
  }

  test('is over when the bike is back', async () => {
    expect(refused(await withoutIndicators('ride')).message).toContain('Indicators')
  })

  test('and one cleared for a day is not', async () => {
    done(await withoutIndicators('day'))
  })
})
