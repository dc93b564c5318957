import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { changeShop } from '../../lib/shop/change-shop'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'

describe('what the shop is called and how it counts', () => {
  let shop: OpenShop
  beforeEach(async () => {
    shop = await openTestShop()
  })
  afterEach(() => shop.dispose())

  const sent = (over: object = {}) => ({
    version: '1',
    name: 'Dunlin Road Motorcycles',
    lengthUnit: 'km',
    zone: 'Europe/Vienna',
    country: 'AT',
    ...over,
  })

  it('is changed by a manager, and the event keeps what it was', async () => {
    done(await changeShop(sent(), shop.manager))
    expect(await shop.store.db.shop.findFirst()).toMatchObject({
      name: 'Dunlin Road Motorcycles',
      lengthUnit: 'km',
    })
    const { body } = await shop.store.db.event.findFirstOrThrow({ where: { verb: 'shop:change' } })
    expect(JSON.parse(body)).toMatchObject({
      from: { zone: 'Europe/London', country: 'GB' },
      to: { zone: 'Europe/Vienna', country: 'AT' },
    })
  })

  it('wants a certificate of every bike where it is ticked, and none where it is not', async () => {
    const wanted = async () => (await shop.store.db.shop.findFirstOrThrow()).certificateWanted
    expect(await wanted()).toBe(false)
    done(await changeShop(sent({ certificateWanted: 'yes' }), shop.manager))
    expect(await wanted()).toBe(true)
    done(await changeShop(sent({ version: '2' }), shop.manager))
    expect(await wanted()).toBe(false)
    const { body } = await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
    expect(JSON.parse(body)).toMatchObject({
      from: { certificateWanted: true },
      to: { certificateWanted: false },
    })
    expect(
      refused(await changeShop(sent({ version: '3', certificateWanted: 'maybe' }), shop.manager)).fields,
    ).toHaveProperty('certificateWanted')
  })

  it('is refused from an older version, with what is stored now', async () => {
    done(await changeShop(sent(), shop.manager))
    expect(refused(await changeShop(sent({ name: 'Other' }), shop.manager))).toMatchObject({
      kind: 'stale',
      theirs: { name: 'Dunlin Road Motorcycles', version: '2' },
    })
  })

  it('is refused at the field where a zone is no zone', async () => {
    expect(refused(await changeShop(sent({ zone: 'Nowhere' }), shop.manager)).fields).toHaveProperty('zone')
  })

  it('is nobody but a manager’s', async () => {
    expect(refused(await changeShop(sent(), shop.dealer)).kind).toBe('not-allowed')
    expect(refused(await changeShop(sent(), shop.nobody)).kind).toBe('not-signed-in')
  })
})
