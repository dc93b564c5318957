import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { restingOnStartingValues } from '../../lib/core/board/starting-figures'
import { changeFigures, readFigures, typedFigures } from '../../lib/shop/figures'
import { inputOf } from '../../lib/web/form-state'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

const change = (figures: Record<string, unknown>, over: Record<string, unknown> = {}) =>
  changeFigures({ version: 1, figures, ...over }, shop.manager)

describe('the figures of the shop', () => {
  it('get a new number at each save, and every earlier number keeps what it was', async () => {
    const before = await shop.store.db.figures.findUniqueOrThrow({ where: { no: 1 } })
    done(await change({ labourCost: '58.40' }, { reason: 'a new lease' }))
    expect((await readFigures(shop.store.db)).labourCostMinor).toBe(5840)
    expect(await shop.store.db.figures.findUniqueOrThrow({ where: { no: 1 } })).toEqual(before)
    expect(await shop.store.db.figures.findUniqueOrThrow({ where: { no: 2 } })).toMatchObject({
      reason: 'a new lease',
      personId: shop.manager.who?.personId,
    })
    const [event] = await shop.store.db.event.findMany({ where: { verb: 'figures:change' } })
    expect(JSON.parse(event?.body ?? '')).toEqual({ figures: 2, set: ['labourCost'], reason: 'a new lease' })
  })

  it('leave what was not sent as it was', async () => {
    const before = await readFigures(shop.store.db)
    done(await change({ dayPrice: { perDay: '2.20', moneyPerYear: '6.5' } }))
    expect(await readFigures(shop.store.db)).toEqual({
      ...before,
      dayPrice: { perDayMinor: 220, moneyPerYear: 0.065 },
      owned: ['dayPrice', 'labourCostMinor', 'tax'],
    })
  })

  it('come back from their fields exactly as they went in, all of them, and are then the shop’s own', async () => {
    const before = await readFigures(shop.store.db)
    const form = new FormData()
    for (const [name, text] of Object.entries(typedFigures(before)))
      for (const line of name.endsWith('[]') ? text.split('\n') : [text]) form.append(name, line)
    form.set('version', '1')
    done(await changeFigures(inputOf(form), shop.manager))
    const after = await readFigures(shop.store.db)
    expect({ ...after, owned: [] }).toEqual({ ...before, owned: [] })
    expect(restingOnStartingValues(after)).toEqual([])
  })

  it('of two saves from the same version the second is shown what is stored now', async () => {
    done(await change({ targetMargin: '450' }))
    const second = refused(await change({ targetMargin: '500' }))
    expect(second).toMatchObject({
      kind: 'stale',
      theirs: { 'figures.targetMargin': '450', version: '2' },
    })
    done(await change({ targetMargin: '500' }, { version: 2 }))
    expect((await readFigures(shop.store.db)).targetMarginMinor).toBe(50_000)
  })

  it('are for a manager alone', async () => {
    for (const context of [shop.dealer, shop.technician]) {
      const result = await changeFigures({ version: 1, figures: { labourCost: '1' } }, context)
      expect(refused(result).kind).toBe('not-allowed')
    }
    expect(await shop.store.db.figures.count()).toBe(1)
  })

  it('without tax keep no rate', async () => {
    done(await change({ tax: { scheme: 'none', rate: '20' } }))
    expect((await readFigures(shop.store.db)).tax).toMatchObject({ scheme: 'none', rate: 0 })
  })

  it.each([
    ['figures', {}],
    ['figures.labourCost', { labourCost: '' }],
    ['figures.labourCost', { labourCost: '-4' }],
    ['figures.tax.rate', { tax: { scheme: 'margin', rate: '200' } }],
    ['figures.daysToSell.likely', { daysToSell: { low: '30', likely: '21', high: '60' } }],
    ['figures.daysToSell.high', { daysToSell: { low: '7', likely: '21', high: '20' } }],
    ['figures.maxChanceOfLoss', { maxChanceOfLoss: 'often' }],
    ['figures.care.kept', { care: { kept: '50', average: '45', neglected: '20' } }],
    [
      'figures.fasteners.free.chance',
      {
        fasteners: {
          free: { chance: '80', factor: '1' },
          stiff: { chance: '25', factor: '1.4' },
          seized: { chance: '5', factor: '2.2' },
        },
      },
    ],
    ['figures.workshop.benchHoursPerDay', { workshop: { benchHoursPerDay: '0', daysBeforeStart: '5' } }],
  ])('a wrong %s is told at its field and saves nothing', async (field, figures) => {
    const refusal = refused(await change(figures))
    expect(Object.keys(refusal.fields)).toEqual([field])
    expect(refusal.fields[field]).not.toMatch(/invalid/i)
    expect(await shop.store.db.figures.count()).toBe(1)
    expect(await shop.store.db.shop.findFirst()).toMatchObject({ figuresNo: 1, version: 1 })
  })
})
