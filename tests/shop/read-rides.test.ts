import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { Context } from '../../lib/shop/deed'
import { declareOpen } from '../../lib/shop/job-runs'
import { readRides } from '../../lib/shop/read-rides'
import { readSheet } from '../../lib/shop/read-sheet'
import { recordReading } from '../../lib/shop/record-reading'
import { rideIn } from '../../lib/shop/rides'
import { done, type OpenShop, openTestShop } from '../support/open-shop'
import { answer, look, takenIn } from '../support/readings'
import { goOut } from '../support/rides'
import { findSound } from '../support/sound-bike'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await takenIn(shop))
})
afterEach(() => shop.dispose())

const read = (context: Context = shop.technician) =>
  readRides({ ...context, who: context.who! }, String(viewingNo))
const at = (instant: string) => shop.at(shop.technician, instant)

describe('the rides of a bike', () => {
  test('are found by its number and refused for one that no bike has', async () => {
    const { technician } = shop
    for (const number of ['0', '99', 'x'])
      await expect(readRides({ ...technician, who: technician.who! }, number)).rejects.toThrow(
        'There is no bike with that number.',
      )
  })

  test('tell the last distance known, who is out, and what each ride came to', async () => {
    expect(await read()).toMatchObject({
      last: { distance: 31_200, day: '2026-11-25', verdict: 'too few points' },
      out: null,
      past: [],
    })
    await findSound(shop.technician, { bike })
    const ride = await goOut(shop.dealer, { bike, purpose: 'buyer', held: 'A deposit' })
    expect(await read()).toMatchObject({
      out: { id: ride, purpose: 'buyer', held: 'A deposit', who: 'Dele', back: null },
      past: [],
    })
    done(await rideIn({ ride, version: 1, distanceIn: '31312.5' }, at('2026-11-25T12:41:00Z')))
    expect(await read()).toMatchObject({
      last: { distance: 31_312.5 },
      out: null,
      past: [{ id: ride, back: { distance: 31_312.5, minutes: 41, ridden: 12.5 } }],
    })
  })

  test('say what keeps the road shut in the words of the sheet, the papers aside', async () => {
    await findSound(shop.technician, { bike })
    expect((await read()).road).toMatchObject({ open: true, wantsRidePapers: false, needs: [] })
    await answer(shop.technician, { bike, answers: [['fork-seals', 'damp']] })
    done(await declareOpen({ id: uuidv7(), bike, kind: 'brake-open', note: 'At the front' }, shop.technician))
    const { road } = await read()
    const { rounds } = await readSheet({ ...shop.technician, who: shop.technician.who! }, viewingNo)
    const { needs, states, locks } = rounds.find(({ round }) => round === 'road')!
    expect(road).toMatchObject({ open: false, needs, states, locks })
    expect(states).toMatchObject([
      { title: 'Brake open', note: 'At the front', who: 'Tove', at: '2026-11-25T12:00:00.000Z' },
    ])
  })

  test('carry the cautions of a ride, and no money', async () => {
    const rides = await read()
    expect([rides.law?.title, rides.roadCaution?.title]).toEqual(['Rules first', 'On the road'])
    expect(JSON.stringify(rides)).not.toMatch(/minor|price|1450|2350/i)
  })

  test('say who may open the road with a reason', async () => {
    expect((await read()).mayClear).toBe(false)
    expect((await read(shop.manager)).mayClear).toBe(true)
  })
})

describe('what a check lacks, in words', () => {
  const saysOf = async (check: string, instant = '2026-11-25T12:00:00Z') => {
    const context = at(instant)
    const { road } = await readRides({ ...context, who: context.who! }, String(viewingNo))
    return road.needs.find((need) => need.check === check)?.says ?? null
  }
  const fork = (value: string, over: object = {}) =>
    recordReading(look(bike, ['fork-seals', value], over), shop.technician)

  test('nobody looked, or left it out with a reason', async () => {
    expect(await saysOf('fork-seals')).toBe('Not checked.')
    done(await fork('No light here', { kind: 'skipped' }))
    expect(await saysOf('fork-seals')).toBe('Not checked: No light here')
  })

  test('not good', async () => {
    done(await fork('damp'))
    expect(await saysOf('fork-seals')).toMatch(/^Not good: \S/)
  })

  test('too few places, or nothing to judge by', async () => {
    const one = { check: 'pads-front-twin', position: 'left-inner', kind: 'measured', unit: 'mm' }
    done(await recordReading(look(bike, ['pads-front-twin', '4'], one), shop.technician))
    expect(await saysOf('pads-front-twin')).toMatch(/^1 of 4 positions read\./)
  })

  test('too long ago for its own count of hours', async () => {
    await findSound(shop.technician, { bike })
    expect(await saysOf('front-brake-lever', '2026-11-26T11:00:00Z')).toBeNull()
    expect(await saysOf('front-brake-lever', '2026-11-26T12:00:00Z')).toBe('24 hours ago; counts one day.')
    expect(await saysOf('front-brake-lever', '2026-11-28T12:00:00Z')).toBe('3 days ago; counts one day.')
    expect(await saysOf('fork-seals', '2026-12-26T12:00:00Z')).toBe('31 days ago; counts 30 days.')
  })
})
