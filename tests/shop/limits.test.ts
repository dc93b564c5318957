import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { limitsGone } from '../../lib/shop/limit-history'
import { setLimit, withdrawLimit } from '../../lib/shop/limits'
import { readLimits } from '../../lib/shop/read-settings'
import { takeInBike } from '../../lib/shop/take-in-bike'
import { done, type OpenShop, openTestShop, refused, viewing } from '../support/open-shop'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

/** A measured check of the catalogue, whichever stands first. */
async function someCheck() {
  const { checks } = await readLimits(shop.store.db)
  const [check] = checks
  if (!check) throw new Error('the catalogue has no measured check')
  return check
}

async function limit(over: Record<string, unknown> = {}) {
  const { key, unit } = await someCheck()
  return {
    id: uuidv7(),
    check: key,
    scope: 'model',
    make: 'Calder',
    model: '600 four',
    yearFrom: '1996',
    yearTo: '1999',
    source: 'maker',
    min: '3.2',
    max: '',
    asNew: '',
    saleMin: '',
    saleMax: '',
    unit,
    note: 'sheet 4',
    ...over,
  }
}

describe('a limit for a model or the shop', () => {
  it('stands in the list with its source, under the model’s name as a bike has it', async () => {
    done(await takeInBike(viewing(), shop.dealer))
    done(await setLimit(await limit(), shop.manager))
    const { limits } = await readLimits(shop.store.db)
    expect(limits).toMatchObject([
      {
        model: { make: 'Calder', model: '600 four', yearFrom: 1996, yearTo: 1999 },
        min: 3.2,
        max: null,
        source: 'maker',
        note: 'sheet 4',
      },
    ])
    expect(await shop.store.db.event.count({ where: { verb: 'limit:set' } })).toBe(1)
  })

  it('takes the place of an earlier one for just the same, and of no other', async () => {
    done(await setLimit(await limit(), shop.manager))
    done(await setLimit(await limit({ make: 'CALDER ', min: '3.4' }), shop.manager))
    done(await setLimit(await limit({ yearTo: '1998', min: '3.5' }), shop.manager))
    done(await setLimit(await limit({ scope: 'shop', min: '3.6' }), shop.manager))
    const { limits } = await readLimits(shop.store.db)
    expect(limits.map(({ min, model }) => [min, model === null])).toEqual([
      [3.4, false],
      [3.5, false],
      [3.6, true],
    ])
    expect(await shop.store.db.limit.count()).toBe(4)
  })

  it('can be withdrawn once, and stays in the store', async () => {
    const { limit: id } = done(await setLimit(await limit(), shop.manager))
    done(await withdrawLimit({ limit: id, version: 1 }, shop.manager))
    expect((await readLimits(shop.store.db)).limits).toEqual([])
    expect(refused(await withdrawLimit({ limit: id, version: 1 }, shop.manager)).kind).toBe('stale')
    expect(await shop.store.db.limit.count()).toBe(1)
  })

  it('that was replaced or taken back is still told, with who did it and when', async () => {
    done(await setLimit(await limit({ scope: 'shop', min: '3' }), shop.manager))
    const later = shop.at(shop.manager, '2026-11-26T09:00:00Z')
    const { limit: id } = done(await setLimit(await limit({ scope: 'shop', min: '3.2' }), later))
    const last = shop.at(shop.manager, '2026-11-27T09:00:00Z')
    done(await withdrawLimit({ limit: id, version: 1 }, last))
    const told = { heldFor: '', enteredBy: 'Mara', withdrawnBy: 'Mara', source: 'maker', note: 'sheet 4' }
    expect(await limitsGone(shop.store.db, 'all')).toMatchObject([
      { ...told, figures: expect.stringContaining('at least 3.2'), withdrawnAt: last.now },
      { ...told, figures: expect.stringContaining('at least 3 '), withdrawnAt: later.now },
    ])
  })

  it('is for a manager alone', async () => {
    expect(refused(await setLimit(await limit(), shop.dealer)).kind).toBe('not-allowed')
    expect(refused(await setLimit(await limit(), shop.technician)).kind).toBe('not-allowed')
    expect(await shop.store.db.limit.count()).toBe(0)
  })

  it.each([
    ['check', { check: '' }],
    ['check', { check: 'no-such-check' }],
    ['make', { make: '' }],
    ['model', { model: '' }],
    ['yearTo', { yearFrom: '1999', yearTo: '1990' }],
    ['yearFrom', { yearFrom: '1996.5' }],
    ['yearFrom', { yearFrom: '96' }],
    ['min', { min: '' }],
    ['min', { min: 'thin' }],
    ['min', { min: '3,200' }],
    ['asNew', { asNew: '99999' }],
    ['max', { min: '5', max: '4' }],
    ['unit', { unit: 'furlong' }],
    ['unit', { unit: 'rpm' }],
    ['source', { source: '' }],
    ['position', { position: 'nowhere' }],
  ])('a wrong %s is told at its field (%j)', async (field, over) => {
    const refusal = refused(await setLimit(await limit(over), shop.manager))
    expect(Object.keys(refusal.fields)).toEqual([field])
    expect(refusal.fields[field]).not.toMatch(/invalid/i)
  })
})
