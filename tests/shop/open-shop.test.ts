import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { restingOnStartingValues } from '../../lib/core/board/starting-figures'
import { makeFirstDayCode } from '../../lib/shop/codes'
import type { Context } from '../../lib/shop/deed'
import { readFigures } from '../../lib/shop/figures'
import { openShop } from '../../lib/shop/open-shop'
import { deviceOf, signIn } from '../../lib/shop/sign-in'
import { done, refused, testNow } from '../support/open-shop'
import { type FreshFolder, freshFolder } from '../support/shop-folder'

let fresh: FreshFolder
let visitor: Context
beforeEach(async () => {
  fresh = await freshFolder()
  visitor = { store: fresh.store, now: testNow, who: null, deviceId: null }
})
afterEach(() => fresh.dispose())

const pin = '274951'
const firstDay = (over: Record<string, unknown> = {}) => ({
  code: 'AAAA-AAAA-AAAA',
  shopName: 'Plover Lane Motorcycles',
  currency: 'gbp',
  lengthUnit: 'mi',
  zone: 'Europe/London',
  country: 'GB',
  taxScheme: 'margin',
  taxRate: '20',
  labourCost: '52.50',
  personName: 'Mara',
  pin,
  deviceName: 'office',
  ...over,
})

const codeNow = async () => (await makeFirstDayCode(fresh.store, testNow)) ?? ''

describe('the first day', () => {
  it('makes the shop, its figures, its first manager and its first device in one go', async () => {
    const { personId, deviceId, deviceToken } = done(
      await openShop(firstDay({ code: await codeNow() }), visitor),
    )
    const { db } = fresh.store
    expect(await db.shop.findFirst()).toMatchObject({
      name: 'Plover Lane Motorcycles',
      currency: 'GBP',
      lengthUnit: 'mi',
      zone: 'Europe/London',
      figuresNo: 1,
    })
    const figures = await readFigures(db)
    expect(figures.labourCostMinor).toBe(5250)
    expect(figures.tax).toMatchObject({ scheme: 'margin', rate: 0.2 })
    expect(restingOnStartingValues(figures)).not.toContain('labourCostMinor')
    expect(restingOnStartingValues(figures)).toContain('targetMarginMinor')
    const roles = await db.personRole.findMany({ where: { personId } })
    expect(roles.map(({ role }) => role).sort()).toEqual(['dealer', 'manager'])
    expect(await deviceOf(fresh.store, deviceToken)).toBe(deviceId)
    done(await signIn({ person: personId, pin }, { ...visitor, deviceId }))
    const [event] = await db.event.findMany({ where: { verb: 'shop:open' } })
    expect(JSON.parse(event?.body ?? '')).toEqual({
      shop: 'Plover Lane Motorcycles',
      person: 'Mara',
      device: 'office',
    })
  })

  it('needs the code of the terminal, and leaves nothing behind without it', async () => {
    await codeNow()
    expect(refused(await openShop(firstDay(), visitor)).fields).toHaveProperty('code')
    const { db } = fresh.store
    expect([await db.shop.count(), await db.person.count(), await db.event.count()]).toEqual([0, 0, 0])
  })

  it('lets a code live for a day, and a newer one end it', async () => {
    const old = await codeNow()
    const newer = await codeNow()
    expect(refused(await openShop(firstDay({ code: old }), visitor)).fields).toHaveProperty('code')
    const tomorrow = { ...visitor, now: new Date(testNow.getTime() + 24 * 3600 * 1000) }
    expect(refused(await openShop(firstDay({ code: newer }), tomorrow)).fields).toHaveProperty('code')
    done(await openShop(firstDay({ code: newer }), visitor))
  })

  it('happens once: the shop is open from then on, and no further code is made', async () => {
    done(await openShop(firstDay({ code: await codeNow() }), visitor))
    expect(await makeFirstDayCode(fresh.store, testNow)).toBeNull()
    expect(refused(await openShop(firstDay(), visitor)).kind).toBe('rule')
    expect(await fresh.store.db.shop.count()).toBe(1)
  })

  it('of two who open it at the same moment lets one', async () => {
    const code = await codeNow()
    const both = await Promise.all([
      openShop(firstDay({ code }), visitor),
      openShop(firstDay({ code }), visitor),
    ])
    expect(both.map(({ ok }) => ok).sort()).toEqual([false, true])
    expect(await fresh.store.db.person.count()).toBe(1)
  })

  it('without tax keeps a rate of nothing', async () => {
    done(await openShop(firstDay({ code: await codeNow(), taxScheme: 'none', taxRate: '20' }), visitor))
    expect((await readFigures(fresh.store.db)).tax).toMatchObject({ scheme: 'none', rate: 0 })
  })

  it.each([
    ['currency', 'pounds'],
    ['currency', 'JPY'],
    ['currency', 'XQQ'],
    ['lengthUnit', 'leagues'],
    ['zone', 'Europe/Nowhere'],
    ['country', 'XX'],
    ['taxScheme', 'mine'],
    ['taxRate', ''],
    ['taxRate', '120'],
    ['labourCost', ''],
    ['labourCost', 'a lot'],
    ['shopName', '   '],
    ['shopName', 'nul\u0000byte'],
    ['pin', '12345'],
    ['pin', '111111'],
    ['pin', '234567'],
    ['pin', '987654'],
  ])('%s "%s" is refused at its field in plain words, and the code is not used up', async (field, value) => {
    const code = await codeNow()
    const refusal = refused(await openShop(firstDay({ code, [field]: value }), visitor))
    expect(Object.keys(refusal.fields)).toEqual([field])
    expect(refusal.fields[field]).not.toMatch(/invalid/i)
    done(await openShop(firstDay({ code }), visitor))
  })
})
