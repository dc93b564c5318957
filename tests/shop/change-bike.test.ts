import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { changeBike } from '../../lib/shop/change-bike'
import { readBikeFormFacts, readBikeToEdit } from '../../lib/shop/read-bike-form'
import { done, type OpenShop, openTestShop, refused, viewing } from '../support/open-shop'
import { takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop))
})
afterEach(() => shop.dispose())

const stored = () => shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })

/** What the form sends: everything it shows, some of it changed. */
const sent = (over: Record<string, unknown> = {}) => viewing({ id: bike, version: 1, ...over })

describe('correcting a bike', () => {
  test('changes what was typed, raises the version and says what changed in the event', async () => {
    done(await changeBike(sent({ model: '600 twin', asking: '1300' }), shop.dealer))
    expect(await stored()).toMatchObject({
      model: '600 twin',
      modelKey: '600twin',
      askingMinor: 130000,
      version: 2,
      viewingNo: 1,
      stage: 'viewing',
    })
    const last = await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
    expect(last).toMatchObject({ verb: 'bike:change', bikeId: bike })
    expect(JSON.parse(last.body)).toEqual({
      changed: {
        model: { from: '600 four', to: '600 twin' },
        modelKey: { from: '600four', to: '600twin' },
        askingMinor: { from: 145000, to: 130000 },
      },
    })
  })

  test('the second of two saves from the same version is refused, and shows what is stored for what differs', async () => {
    done(await changeBike(sent({ asking: '1300' }), shop.dealer))
    const refusal = refused(await changeBike(sent({ asking: '1250', notes: 'Late' }), shop.manager))
    expect(refusal.kind).toBe('stale')
    expect(refusal.theirs).toEqual({ asking: '1300', notes: '', version: '2' })
    expect(await stored()).toMatchObject({ askingMinor: 130000, notes: '', version: 2 })
    // Having been shown both, the person saves over it.
    done(await changeBike(sent({ asking: '1250', notes: 'Late', version: '2' }), shop.manager))
    expect(await stored()).toMatchObject({ askingMinor: 125000, notes: 'Late', version: 3 })
  })

  test('malformed input changes nothing and stands at its field', async () => {
    const refusal = refused(await changeBike(sent({ asking: 'a lot', year: '3' }), shop.dealer))
    expect(Object.keys(refusal.fields).sort()).toEqual(['asking', 'year'])
    expect((await stored()).version).toBe(1)
  })

  test('is refused for a bike that is not there, and for a technician', async () => {
    expect(refused(await changeBike(sent({ id: uuidv7() }), shop.dealer)).kind).toBe('not-found')
    expect(refused(await changeBike(sent({ make: 'Ostrel' }), shop.technician)).kind).toBe('not-allowed')
    expect(refused(await changeBike(sent({ make: 'Ostrel' }), shop.nobody)).kind).toBe('not-signed-in')
    expect((await stored()).make).toBe('Calder')
  })
})

describe('a changed clock and a bike that does not run', () => {
  test('are ticked, told in the history, and taken back by leaving the box empty', async () => {
    done(await changeBike(sent({ clockChanged: 'yes', nonRunner: 'yes' }), shop.dealer))
    expect(await stored()).toMatchObject({ clockChanged: true, nonRunner: true })
    const last = await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
    expect(JSON.parse(last.body)).toEqual({
      changed: { clockChanged: { from: false, to: true }, nonRunner: { from: false, to: true } },
    })
    done(await changeBike(sent({ version: 2 }), shop.dealer))
    expect(await stored()).toMatchObject({ clockChanged: false, nonRunner: false })
  })

  test('are shown to a person who saves from an older version', async () => {
    done(await changeBike(sent({ clockChanged: 'yes' }), shop.dealer))
    expect(refused(await changeBike(sent(), shop.manager)).theirs).toEqual({
      clockChanged: 'ticked',
      version: '2',
    })
  })

  test('are refused where the box sends anything else', async () => {
    expect(refused(await changeBike(sent({ nonRunner: 'perhaps' }), shop.dealer)).fields).toHaveProperty(
      'nonRunner',
    )
  })
})

describe('the form of a bike', () => {
  test('shows what is stored as a person would type it, so that saving it untouched changes nothing', async () => {
    const form = await readBikeToEdit(shop.store, '1')
    const { askingMinor, saleLowMinor, saleLikelyMinor, saleHighMinor, ...rest } = form.values
    const minor = { asking: askingMinor, saleLow: saleLowMinor, saleLikely: saleLikelyMinor }
    const untouched = { id: form.id, version: form.version, ...rest, ...minor, saleHigh: saleHighMinor }
    done(await changeBike(untouched, shop.dealer))
    const last = await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
    expect(JSON.parse(last.body)).toEqual({ changed: {} })
  })

  test('offers the makes that were here before, once each', async () => {
    await takenIn(shop, { make: 'CALDER' })
    await takenIn(shop, { make: 'Ostrel' })
    expect((await readBikeFormFacts(shop.store)).makes).toEqual(['CALDER', 'Ostrel'])
  })

  test.each(['0', '2', 'x', '1.5', '', '99999999999'])('is not there for the number "%s"', async (number) => {
    await expect(readBikeToEdit(shop.store, number)).rejects.toThrow('There is no bike with that number.')
  })
})
