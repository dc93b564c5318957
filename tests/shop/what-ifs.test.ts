import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { whatIf } from '../../lib/core/deal/what-if'
import { readDeal } from '../../lib/shop/read-deal'
import { readStory, storyAsked } from '../../lib/shop/read-story'
import { dropWhatIf, keepWhatIf } from '../../lib/shop/what-ifs'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { answer, takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  bike = (await takenIn(shop)).bike
})
afterEach(() => shop.dispose())

const keep = (rest: object = {}) =>
  keepWhatIf({ id: uuidv7(), bike, name: 'Cheaper', asking: '900', ...rest }, shop.dealer)
const kept = async () => (await readDeal(shop.manager, '1')).desk!.kept

describe('a what-if', () => {
  test('is kept under its name with what differs, for every dealer and manager', async () => {
    done(await keep({ sale: { low: '2000', likely: '2300', high: '2500' }, maxChanceOfLoss: '5' }))
    done(await keep({ name: 'Dearer hours', asking: '', labourCost: '60', out: ['tank-reseal'] }))
    expect(await kept()).toMatchObject([
      { name: 'Dearer hours', changes: { labourCost: 6000, out: ['tank-reseal'] } },
      {
        name: 'Cheaper',
        changes: {
          asking: 90000,
          sale: { low: 200000, likely: 230000, high: 250000 },
          maxChanceOfLoss: 0.05,
        },
        person: shop.dealer.who!.name,
        version: 1,
      },
    ])
    expect((await kept())[0]!.changes).not.toHaveProperty('asking')
  })

  test('opened again follows the bike in everything that was not changed', async () => {
    done(await keep())
    const cost = async () => {
      const { dealInput, addable, kept } = (await readDeal(shop.dealer, '1')).desk!
      return whatIf(dealInput, { changes: kept[0]!.changes, addable })
    }
    const before = await cost()
    await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
    const after = await cost()
    expect(after.costMean).toBeGreaterThan(before.costMean)
    expect(after.walkAway).toBeLessThan(before.walkAway!)
  })

  test('moves nothing that is worked out of the bike', async () => {
    const before = await readDeal(shop.dealer, '1')
    done(await keep())
    const after = await readDeal(shop.dealer, '1')
    expect({ ...after, desk: { ...after.desk, kept: [] } }).toEqual({
      ...before,
      desk: { ...before.desk, kept: [] },
    })
  })

  test('is taken away, and its name is free again; the story of the bike knows both', async () => {
    const { whatIf: id } = done(await keep())
    expect(refused(await keep()).fields).toEqual({
      name: 'One of this name is kept already: give another name.',
    })
    done(await dropWhatIf({ bike, whatIf: id, version: 1 }, shop.manager))
    expect(await kept()).toEqual([])
    expect(refused(await dropWhatIf({ bike, whatIf: id, version: 2 }, shop.manager)).kind).toBe('stale')
    done(await keep())
    const told = JSON.stringify(
      await readStory({ ...shop.dealer, who: shop.dealer.who! }, { viewingNo: '1', asked: storyAsked({}) }),
    )
    expect(told).toContain('Kept a what-if: Cheaper')
    expect(told).toContain('Took a what-if away: Cheaper')
    const toTechnician = JSON.stringify(
      await readStory(
        { ...shop.technician, who: shop.technician.who! },
        { viewingNo: '1', asked: storyAsked({}) },
      ),
    )
    expect(toTechnician).not.toContain('what-if')
  })

  test.each([
    ['without a name', { name: '  ' }, 'name'],
    ['that changes nothing', { asking: '' }, 'name'],
    ['with half a sale price', { sale: { low: '2000', likely: '', high: '' } }, 'sale.likely'],
    ['with a chance above all', { maxChanceOfLoss: '101' }, 'maxChanceOfLoss'],
    ['with a price that is none', { asking: '9oo' }, 'asking'],
  ])('%s is refused at the field', async (_what, rest, field) => {
    expect(Object.keys(refused(await keep(rest)).fields)).toEqual([field])
    expect(await kept()).toEqual([])
  })

  test('of another bike is not taken away from here', async () => {
    const { whatIf: id } = done(await keep())
    const other = (await takenIn(shop)).bike
    expect(refused(await dropWhatIf({ bike: other, whatIf: id, version: 1 }, shop.dealer)).kind).toBe(
      'not-found',
    )
    expect(await kept()).toHaveLength(1)
  })
})
