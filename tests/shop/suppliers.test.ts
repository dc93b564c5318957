import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { checkChain } from '../../lib/data/events'
import { addSupplier, changeSupplier } from '../../lib/shop/suppliers'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

const harle = { name: 'Harle Spares', contact: 'by telephone', carriage: '6.50', minimum: '40' }
const added = async () => done(await addSupplier({ id: uuidv7(), ...harle }, shop.dealer)).supplier
const stored = () => shop.store.db.supplier.findMany()

describe('a supplier', () => {
  test('is written down with what a delivery costs and the least that is delivered', async () => {
    await added()
    expect(await stored()).toMatchObject([
      { name: 'Harle Spares', contact: 'by telephone', carriageMinor: 650, minimumMinor: 4000, version: 1 },
    ])
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test('stands once, however its name is written', async () => {
    await added()
    const again = refused(await addSupplier({ id: uuidv7(), ...harle, name: 'HARLE-spares' }, shop.manager))
    expect(Object.keys(again.fields)).toEqual(['name'])
    expect(await stored()).toHaveLength(1)
  })

  test('is set right, and the second of two who do so sees what the first wrote', async () => {
    const supplier = await added()
    const change = { supplier, version: '1', ...harle, minimum: '' }
    done(await changeSupplier(change, shop.manager))
    expect(await stored()).toMatchObject([{ minimumMinor: null, carriageMinor: 650, version: 2 }])
    const late = refused(await changeSupplier({ ...change, carriage: '9' }, shop.dealer))
    expect(late).toMatchObject({ kind: 'stale', theirs: { version: '2', carriage: '6.50', minimum: '' } })
  })

  test('is no business of a technician, nor of nobody', async () => {
    const supplier = await added()
    const change = { supplier, version: '1', ...harle }
    for (const deed of [
      addSupplier({ id: uuidv7(), ...harle }, shop.technician),
      changeSupplier(change, shop.technician),
    ])
      expect(refused(await deed).kind).toBe('not-allowed')
    expect(refused(await changeSupplier(change, shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await changeSupplier({ ...change, supplier: uuidv7() }, shop.dealer)).kind).toBe(
      'not-found',
    )
  })

  test.each([
    ['no name', { name: ' ' }, 'name'],
    ['a name without letters', { name: '…' }, 'name'],
    ['carriage in words', { carriage: 'free' }, 'carriage'],
    ['a minimum below nothing', { minimum: '-4' }, 'minimum'],
  ])('says at the field: %s', async (_what, over, field) => {
    const answer = refused(await addSupplier({ id: uuidv7(), ...harle, ...over }, shop.dealer))
    expect(Object.keys(answer.fields)).toEqual([field])
    expect(await stored()).toEqual([])
  })
})
