import { describe, expect, it, test } from 'vitest'
import { deal, expectedMarginAt, marginSpread, prospectOf } from '../../lib/core/deal/deal'
import { type DealRawInput, dealInput } from '../../lib/core/deal/deal.input'
import { usualDeal as usual } from '../support/usual-deal'

const of = (input: DealRawInput) => deal(dealInput.parse(input))

/** Everything certain but whether one job of 50.00 is needed. */
const plain: DealRawInput = {
  sale: 100_000,
  estimate: { labourRate: 5000, jobs: [{ key: 'a', hours: 1, chance: 0.5 }] },
  tax: { scheme: 'none' },
  rule: { kind: 'average', targetMargin: 0, maxChanceOfLoss: 0.5 },
}

describe('a bike of which all is known but one job', () => {
  it('is worth the sale less the mean cost where the chance of loss may be a half', () => {
    const result = of({ ...plain, asking: 95_000 })
    expect(result.walkAway).toBe(97_500)
    expect(result.atWalkAway).toEqual({
      expectedMargin: 0,
      chanceOfLoss: 0.5,
      chanceOfTarget: 0.5,
      margin: { mean: 0, quantiles: { 0.1: -2500, 0.5: -2500, 0.9: 2500 } },
    })
    // A margin of exactly 0 is no loss, and one of exactly the target reaches it.
    expect(result.atAsking).toMatchObject({ expectedMargin: 2500, chanceOfLoss: 0, chanceOfTarget: 1 })
  })

  test.each<[string, DealRawInput['rule'], number | null]>([
    ['no loss at all', { kind: 'average', targetMargin: 0, maxChanceOfLoss: 0 }, 95_000],
    ['a loss now and then', { kind: 'average', targetMargin: 0, maxChanceOfLoss: 0.49 }, 95_000],
    ['any loss', { kind: 'average', targetMargin: 0, maxChanceOfLoss: 1 }, 97_500],
    ['a higher target', { kind: 'average', targetMargin: 10_050, maxChanceOfLoss: 1 }, 87_400],
    ['a target below 0', { kind: 'average', targetMargin: -1000, maxChanceOfLoss: 1 }, 98_500],
    ['a target out of reach', { kind: 'average', targetMargin: 97_501, maxChanceOfLoss: 1 }, null],
    ['a target just in reach', { kind: 'average', targetMargin: 97_500, maxChanceOfLoss: 1 }, 0],
    ['half a chance of the target', { kind: 'confidence', targetMargin: 1000, confidence: 0.5 }, 99_000],
    ['more than half', { kind: 'confidence', targetMargin: 1000, confidence: 0.51 }, 94_000],
    ['certainty', { kind: 'confidence', targetMargin: 1000, confidence: 1 }, 94_000],
    ['certainty out of reach', { kind: 'confidence', targetMargin: 95_001, confidence: 1 }, null],
  ])('under the rule of %s the walk-away price follows', (_, rule, walkAway) => {
    const result = of({ ...plain, rule })
    expect(result.walkAway).toBe(walkAway)
    expect(result.atWalkAway === null).toBe(walkAway === null)
    expect(result.atAsking).toBeNull()
  })

  it('rounds the walk-away price down to whole major units', () => {
    expect(of({ ...plain, sale: 100_099 }).walkAway).toBe(97_500)
  })
})

describe('the mean margin, part by part', () => {
  const certain: DealRawInput = { ...plain, estimate: { labourRate: 0, jobs: [] } }

  test.each<[string, Partial<DealRawInput>, number]>([
    ['the sale less the price', {}, 40_000],
    ['less what the faults that are left take off', { saleOff: 7000 }, 33_000],
    ['a sale is never below 0', { saleOff: 170_000 }, -60_000],
    ['less standing and selling costs', { standingCosts: 500, sellingCosts: 300 }, 39_200],
    ['less what buying costs', { buyingCosts: { fixed: 100, shareOfPrice: 0.05 } }, 36_900],
    ['less the reserve', { reserveShareOfSale: 0.03 }, 37_000],
    ['less the days, ready and sold', { holding: { perDay: 150 }, daysToReady: 4, daysToSell: 6 }, 38_500],
    ['less the money in it', { holding: { moneyPerYear: 0.1 }, daysToSell: 73 }, 38_800],
    [
      'the money in the work too',
      {
        holding: { moneyPerYear: 0.1 },
        daysToSell: 73,
        estimate: { labourRate: 1000, jobs: [{ key: 'a', hours: 10 }] },
      },
      28_600,
    ],
    [
      'margin scheme: a sixth of the difference',
      { tax: { scheme: 'margin', rate: 0.2 } },
      40_000 - 40_000 / 6,
    ],
    [
      'margin scheme: repairs do not lessen the tax',
      { tax: { scheme: 'margin', rate: 0.2 }, standingCosts: 1000 },
      39_000 - 40_000 / 6,
    ],
    ['margin scheme: none on a loss', { sale: 50_000, tax: { scheme: 'margin', rate: 0.2 } }, -10_000],
    ['standard: a sixth of the sale', { tax: { scheme: 'standard', rate: 0.2 } }, 40_000 - 100_000 / 6],
    [
      'standard: less the tax on the invoice',
      { tax: { scheme: 'standard', rate: 0.2, purchaseTax: 9000 } },
      49_000 - 100_000 / 6,
    ],
    [
      'standard: less the tax within the price, its amount not known',
      { tax: { scheme: 'standard', rate: 0.2, purchaseTaxed: true } },
      40_000 - 40_000 / 6,
    ],
    ['sales tax on top is the buyer’s', { tax: { scheme: 'sales-tax-on-top', rate: 0.07 } }, 40_000],
  ])('%s', (_, over, expected) => {
    const input = { ...certain, ...over, asking: 60_000 }
    const { atAsking } = of(input)
    expect(atAsking!.expectedMargin).toBeCloseTo(expected, 7)
    // All is certain, so that every quantile is the mean.
    for (const quantile of Object.values(atAsking!.margin.quantiles))
      expect(quantile).toBeCloseTo(expected, 5)
    expect(expectedMarginAt(dealInput.parse(input), 60_000)).toBeCloseTo(expected, 7)
  })

  it('takes the tax over the whole spread of the sale, not at its mean', () => {
    // E[max(0, B − ½)] = ∫ from ½ to 1 of (x − ½)·30x²(1 − x)² dx = 5/64, since here α = β = 3; times 200,000.
    const sale = { low: 0, likely: 100_000, high: 200_000 }
    const input = dealInput.parse({ ...certain, sale, tax: { scheme: 'margin', rate: 0.2 } })
    const over = (200_000 * 5) / 64
    expect(expectedMarginAt(input, 100_000)).toBeCloseTo(-over / 6, 5)
  })
})

describe('one bike at many prices', () => {
  it('works out its cost once and answers as the whole calculation does', () => {
    const input = dealInput.parse(usual)
    const prospect = prospectOf(input)
    const whole = deal(input)
    expect(prospect.at(140_000)).toEqual(whole.atAsking)
    expect(prospect.walkAway()).toBe(whole.walkAway)
    expect(prospect.chanceOfLossAt(140_000)).toBe(whole.atAsking!.chanceOfLoss)
    expect(prospect.expectedMarginAt(140_000)).toBe(whole.atAsking!.expectedMargin)
  })

  it('is drawn with 41 points around its mean', () => {
    const input = dealInput.parse(usual)
    const shape = marginSpread(input, 140_000)
    const { mean } = deal(input).atAsking!.margin
    expect(shape.points).toHaveLength(41)
    expect(shape.from).toBeLessThan(mean)
    expect(shape.to).toBeGreaterThan(mean)
    expect(Math.max(...shape.points.map(({ y }) => y))).toBe(1)
  })

  it('is drawn as single values where only jobs are open', () => {
    expect(marginSpread(dealInput.parse(plain), 90_000).atoms).toEqual([
      { at: 5000, mass: 0.5 },
      { at: 10_000, mass: 0.5 },
    ])
  })
})
