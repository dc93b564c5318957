import { describe, expect, it } from 'vitest'
import { deal } from '../../lib/core/deal/deal'
import { dealInput } from '../../lib/core/deal/deal.input'
import { swings } from '../../lib/core/deal/sensitivity'
import { marginSteps } from '../../lib/core/deal/steps'
import { taxUnrounded } from '../../lib/core/deal/tax'
import { seenOnly } from '../../lib/core/work/seen-only'

const terms = (over: object = {}) =>
  dealInput.parse({
    sale: { low: 200000, likely: 235000, high: 260000 },
    saleOff: 5000,
    estimate: {
      labourRate: 5200,
      operations: { 'tank-off': { hours: 0.4 } },
      jobs: [
        { key: 'reseal', operations: ['tank-off'], hours: { low: 1, likely: 2, high: 4 }, outsideWork: 4800 },
        { key: 'hoses', operations: ['tank-off'], hours: 0.5, chance: 0.3 },
      ],
    },
    standingCosts: 14500,
    sellingCosts: 4000,
    buyingCosts: { fixed: 1000, shareOfPrice: 0.01 },
    holding: { perDay: 150, moneyPerYear: 0.08 },
    daysToReady: 6,
    daysToSell: { low: 7, likely: 21, high: 60 },
    reserveShareOfSale: 0.035,
    tax: { scheme: 'margin', rate: 0.2 },
    rule: { kind: 'average', targetMargin: 40000, maxChanceOfLoss: 0.1 },
    asking: 120000,
    ...over,
  })

describe('the steps from sale price to margin', () => {
  it.each([120000, 230000, 400000])('add up to the expected margin at %i', (price) => {
    const input = terms({ asking: price })
    const { sale, margin, ...rest } = marginSteps(input, { price, costMean: 25000 })
    expect(sale - Object.values(rest).reduce((sum, step) => sum + step, 0)).toBeCloseTo(margin, 6)
  })

  it('tell by itself what has gone into the bike already, and come to the same margin', () => {
    const asked = { price: 120000, costMean: 25000 }
    const before = marginSteps(terms(), asked)
    const after = marginSteps(terms({ standingCosts: 14500 + 26000 }), { ...asked, spent: 26000 })
    expect(after).toMatchObject({ spent: 26000, standing: before.standing, work: before.work })
    expect(after.margin).toBeCloseTo(before.margin - 26000, 6)
    expect(after.tax).toBeCloseTo(before.tax, 6)
  })

  it('take the very tax off that a certain sale pays', () => {
    const input = terms({ sale: 230000, daysToSell: 20 })
    const { tax, leftFaults, sale } = marginSteps(input, { price: 120000, costMean: 25000 })
    expect(sale).toBe(230000)
    expect(leftFaults).toBe(5000)
    expect(tax).toBeCloseTo(taxUnrounded(input.tax, { sale: 225000, purchase: 120000 }), 6)
  })
})

describe('which inputs move the walk-away price', () => {
  const input = terms()
  const given = { work: { low: 10000, high: 40000 }, withoutUnseen: seenOnly(input.estimate) }

  it('are told widest first, each worse at its bad end', () => {
    const found = swings(input, given)
    expect(found.map((swing) => swing.input).sort()).toEqual(['days-to-sell', 'sale', 'unseen', 'work'])
    expect(found.map((swing) => swing.width)).toEqual(found.map((swing) => swing.width).sort((a, b) => b - a))
    for (const { walkAway } of found) expect(walkAway.good ?? 0).toBeGreaterThanOrEqual(walkAway.bad ?? 0)
  })

  it('leaves out what is certain', () => {
    const certain = terms({ sale: 230000, daysToSell: 20 })
    const found = swings(certain, { work: { low: 9000, high: 9000 }, withoutUnseen: null })
    expect(found).toEqual([])
  })

  it('works the price out with that input alone changed', () => {
    const [sale] = swings(input, given).filter((swing) => swing.input === 'sale')
    expect(sale?.walkAway.bad).toBe(deal({ ...input, sale: Math.round(sale?.at.bad ?? 0) }).walkAway)
  })
})

describe('the work that is known', () => {
  it('leaves out what rests on a chance', () => {
    expect(seenOnly(terms().estimate)?.jobs.map((job) => job.key)).toEqual(['reseal'])
  })

  it('is nothing new where all is certain', () => {
    expect(
      seenOnly(terms({ estimate: { labourRate: 5200, jobs: [{ key: 'a', hours: 1 }] } }).estimate),
    ).toBeNull()
  })
})
