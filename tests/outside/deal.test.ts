import { describe, expect, test } from 'vitest'
import { deal } from '../../lib/core/deal/deal'
import { type DealInput, type DealRawInput, dealInput } from '../../lib/core/deal/deal.input'
import { taxUnrounded } from '../../lib/core/deal/tax'
import { estimateMeans } from '../../lib/core/work/estimate'
import { chanceFrom } from '../../lib/desk/bench/chance'
import { draw, drawnQuantile, simulate } from '../../lib/desk/bench/plain-simulation'
import { usualDeal as usual } from '../support/usual-deal'

/*
 * The deal against a plain simulation with a fixed seed: sale, days and work drawn one by one, the margin by its formula.
 * Only the mean cost in the day's price and the tax of one sale, which have tests of their own, are the core's.
 */

const draws = 20_000
/** Five standard errors of a share of the draws. */
const errorOf = (chance: number) => 5 * Math.sqrt((chance * (1 - chance)) / draws)

test.each<[string, Partial<DealRawInput>]>([
  ['as usual', {}],
  ['faults take most off the sale', { saleOff: 225_000, asking: 2000 }],
  ['a chance of loss that binds', { rule: { kind: 'average', targetMargin: 5000, maxChanceOfLoss: 0.05 } }],
  ['a confidence', { rule: { kind: 'confidence', targetMargin: 20_000, confidence: 0.8 } }],
  ['standard, the price taxed', { tax: { scheme: 'standard', rate: 0.2, purchaseTaxed: true } }],
  ['days that matter most', { holding: { perDay: 3000, moneyPerYear: 0.3 }, asking: 60_000 }],
  ['a certain sale', { sale: 230_000 }],
  ['certain days', { daysToReady: 5, daysToSell: 20 }],
  ['only the cost open', { sale: 230_000, daysToReady: 5, daysToSell: 20 }],
  ['a price at the kink of the tax', { asking: 235_000 }],
  ['a reserve so large that a higher sale keeps less', { reserveShareOfSale: 0.95, asking: 1000 }],
])('%s: margin, chances, quantiles and walk-away price are those of the draws', (_, over) => {
  const input = dealInput.parse({ ...usual, ...over })
  const result = deal(input)
  const marginsAt = drawnMargins(input)
  const outcomes = [
    [input.asking!, result.atAsking],
    [result.walkAway, result.atWalkAway],
  ] as const
  for (const [price, outcome] of outcomes) {
    if (price === null || outcome === null) continue
    const margins = marginsAt(price)
    const { mean, error } = meanOf(margins)
    expect(Math.abs(outcome.expectedMargin - mean)).toBeLessThan(error)
    // 0.002 is what is promised of a chance.
    const loss = shareBelow(margins, 0)
    expect(Math.abs(outcome.chanceOfLoss - loss)).toBeLessThan(0.002 + errorOf(loss))
    const target = 1 - shareBelow(margins, input.rule.targetMargin)
    expect(Math.abs(outcome.chanceOfTarget - target)).toBeLessThan(0.002 + errorOf(target))
    for (const level of [0.1, 0.5, 0.9]) {
      const found = outcome.margin.quantiles[String(level)]!
      const near = 0.002 + errorOf(level)
      expect(found).toBeGreaterThanOrEqual(drawnQuantile(margins, level - near))
      expect(found).toBeLessThanOrEqual(drawnQuantile(margins, level + near))
    }
  }
  // The price up to which the draws keep the rule, were it so much stricter or milder as the draws are uncertain.
  const stricter = highest((price) => keeps(marginsAt(price), input.rule, -1))
  const milder = highest((price) => keeps(marginsAt(price), input.rule, 1))
  expect(result.walkAway ?? -100).toBeGreaterThanOrEqual(stricter * 0.998 - 100)
  expect(result.walkAway ?? -100).toBeLessThanOrEqual(milder * 1.002 + 100)
})

describe('the draws themselves', () => {
  test('tell a walk-away price that is known: half a chance of 50.00 off a sale of 1,000.00', () => {
    const input = dealInput.parse({
      sale: 100_000,
      estimate: { labourRate: 5000, jobs: [{ key: 'a', hours: 1, chance: 0.5 }] },
      tax: { scheme: 'none' },
      rule: { kind: 'average', targetMargin: 0, maxChanceOfLoss: 1 },
    })
    const marginsAt = drawnMargins(input)
    expect(Math.abs(highest((price) => keeps(marginsAt(price), input.rule, 0)) - 97_500)).toBeLessThan(150)
  })
})

/** Margins at a price in rising order: the same draws at every price. */
function drawnMargins(input: DealInput): (price: number) => Float64Array {
  const random = chanceFrom(5)
  const { cost } = simulate(input.estimate, { draws, seed: 6 })
  const costMean = estimateMeans(input.estimate).cost.mean
  const drawn = Array.from(cost, (spent) => ({
    cost: spent,
    sale: Math.max(0, draw(input.sale, random) - input.saleOff),
    days: draw(input.daysToReady, random) + draw(input.daysToSell, random),
  }))
  const { holding, buyingCosts, standingCosts, sellingCosts, reserveShareOfSale } = input
  return (price) => {
    const perDay = holding.perDay + ((price + costMean) * holding.moneyPerYear) / 365
    const out = price * (1 + buyingCosts.shareOfPrice) + buyingCosts.fixed + standingCosts + sellingCosts
    const margin = ({ cost: spent, sale, days }: (typeof drawn)[number]) =>
      sale * (1 - reserveShareOfSale) -
      out -
      spent -
      days * perDay -
      taxUnrounded(input.tax, { purchase: price, sale })
    return Float64Array.from(drawn, margin).sort()
  }
}

function meanOf(margins: Float64Array): { mean: number; error: number } {
  const mean = margins.reduce((sum, margin) => sum + margin / draws, 0)
  const sd = Math.sqrt(margins.reduce((sum, margin) => sum + (margin - mean) ** 2 / draws, 0))
  return { mean, error: (5 * sd) / Math.sqrt(draws) }
}

/** Rounding puts a margin of exactly the bound on either side of it. */
function shareBelow(margins: Float64Array, bound: number): number {
  return margins.filter((margin) => margin < bound - 1e-6).length / draws
}

/** Whether the draws keep the rule, made milder (1) or stricter (−1) by what they are uncertain by. */
function keeps(margins: Float64Array, rule: DealInput['rule'], milder: -1 | 0 | 1): boolean {
  if (rule.kind === 'confidence') {
    const chance = 1 - shareBelow(margins, rule.targetMargin)
    return chance >= rule.confidence - milder * (0.002 + errorOf(rule.confidence))
  }
  const { mean, error } = meanOf(margins)
  const most = rule.maxChanceOfLoss
  return (
    mean >= rule.targetMargin - milder * error &&
    shareBelow(margins, 0) <= most + milder * (0.002 + errorOf(most))
  )
}

/** The largest whole amount from 0 at which something holds that does up to some amount; −100 where nowhere. */
function highest(holds: (price: number) => boolean): number {
  if (!holds(0)) return -100
  let [good, bad] = [0, 1_000_000]
  while (bad - good > 50) {
    const middle = (good + bad) / 2
    if (holds(middle)) good = middle
    else bad = middle
  }
  return good
}
