import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { deal, prospectOf } from '../../lib/core/deal/deal'
import { type DealInput, type DealRawInput, dealInput } from '../../lib/core/deal/deal.input'
import { smallWork } from '../support/works'

const amount = (most: number) => fc.nat(most)
const hundredths = fc.nat(100).map((whole) => whole / 100)
const spreadOut = (most: number) =>
  fc.oneof(
    amount(most),
    fc.tuple(amount(most), amount(most), amount(most)).map((three) => {
      const [low, likely, high] = three.sort((a, b) => a - b)
      return { low: low!, likely: likely!, high: high! }
    }),
  )

const tax: fc.Arbitrary<DealRawInput['tax']> = fc.constantFrom(
  { scheme: 'none' },
  { scheme: 'margin', rate: 0.2 },
  { scheme: 'standard', rate: 0.2, purchaseTaxed: true },
  { scheme: 'standard', rate: 0.19, purchaseTax: 8000 },
  { scheme: 'sales-tax-on-top', rate: 0.07 },
)

const anyDeal: fc.Arbitrary<DealInput> = fc
  .record({
    sale: spreadOut(400_000),
    saleOff: fc.oneof(fc.constant(0), amount(60_000)),
    estimate: smallWork,
    holding: fc.record({ perDay: amount(500), moneyPerYear: fc.constantFrom(0, 0.08) }),
    daysToReady: spreadOut(30),
    daysToSell: spreadOut(60),
    buyingCosts: fc.record({ fixed: amount(2000), shareOfPrice: fc.constantFrom(0, 0.02) }),
    reserveShareOfSale: fc.constantFrom(0, 0.035),
    tax,
    target: amount(50_000),
    chance: fc.integer({ min: 1, max: 99 }).map((hundredths) => hundredths / 100),
    kind: fc.constantFrom('average', 'confidence'),
  })
  .map(({ target, chance, kind, ...input }) =>
    dealInput.parse({
      ...input,
      rule:
        kind === 'average'
          ? { kind, targetMargin: target, maxChanceOfLoss: chance }
          : { kind, targetMargin: target, confidence: chance },
    }),
  )

describe('for all bikes, rules and taxes', () => {
  it('a higher price leaves less margin, and no smaller chance of loss', () => {
    fc.assert(
      fc.property(anyDeal, amount(300_000), fc.integer({ min: 1, max: 50_000 }), (input, price, more) => {
        const prospect = prospectOf(input)
        const [lower, higher] = [prospect.at(price), prospect.at(price + more)]
        expect(higher.expectedMargin).toBeLessThan(lower.expectedMargin)
        expect(higher.chanceOfLoss).toBeGreaterThanOrEqual(lower.chanceOfLoss - 0.001)
        expect(higher.chanceOfTarget).toBeLessThanOrEqual(lower.chanceOfTarget + 0.001)
      }),
      { numRuns: 40 },
    )
  })

  it('the walk-away price keeps to its rule, and one major unit more does not', () => {
    fc.assert(
      fc.property(anyDeal, (input) => {
        const prospect = prospectOf(input)
        // A chance that comes out at its bound within a millionth is decided either way.
        const keeps = (price: number, near: number) => {
          const { expectedMargin, chanceOfLoss, chanceOfTarget } = prospect.at(price)
          return input.rule.kind === 'average'
            ? expectedMargin >= input.rule.targetMargin - near &&
                chanceOfLoss <= input.rule.maxChanceOfLoss + near
            : chanceOfTarget >= input.rule.confidence - near
        }
        const walkAway = prospect.walkAway()
        if (walkAway === null) {
          expect(keeps(0, -1e-6)).toBe(false)
        } else {
          expect(walkAway % 100).toBe(0)
          expect(keeps(walkAway, 1e-6)).toBe(true)
          expect(keeps(walkAway + 100, -1e-6)).toBe(false)
        }
      }),
      { numRuns: 40 },
    )
  })

  it('a stricter rule never allows a higher price: more target, less chance of loss, more confidence', () => {
    fc.assert(
      fc.property(anyDeal, amount(20_000), hundredths, (input, more, share) => {
        const walkAway = (rule: DealInput['rule']) => deal({ ...input, rule }).walkAway ?? -1
        const { rule } = input
        const loose = walkAway(rule)
        expect(walkAway({ ...rule, targetMargin: rule.targetMargin + more })).toBeLessThanOrEqual(loose)
        const surer =
          rule.kind === 'average'
            ? { ...rule, maxChanceOfLoss: rule.maxChanceOfLoss * share }
            : { ...rule, confidence: rule.confidence + (1 - rule.confidence) * share }
        expect(walkAway(surer)).toBeLessThanOrEqual(loose)
      }),
      { numRuns: 40 },
    )
  })

  it('other names in another order change nothing', () => {
    fc.assert(
      fc.property(anyDeal, (input) => {
        const renamed = JSON.parse(
          JSON.stringify(input).replaceAll('op ', 'step ').replaceAll('job ', 'task '),
        ) as DealInput
        const turned: DealInput = {
          ...renamed,
          estimate: {
            ...renamed.estimate,
            jobs: renamed.estimate.jobs.reverse(),
            operations: Object.fromEntries(Object.entries(renamed.estimate.operations).reverse()),
            fasteners: renamed.estimate.fasteners.reverse(),
            care: renamed.estimate.care?.reverse(),
          },
        }
        const [one, other] = [prospectOf(input), prospectOf(turned)]
        const [ofOne, ofOther] = [one.at(120_000), other.at(120_000)]
        expect(ofOther.expectedMargin).toBeCloseTo(ofOne.expectedMargin, 5)
        expect(ofOther.chanceOfLoss).toBeCloseTo(ofOne.chanceOfLoss, 3)
        const [price, samePrice] = [one.walkAway() ?? -100, other.walkAway() ?? -100]
        // A chance that comes out at its bound within rounding is decided either way.
        expect(Math.abs(price - samePrice)).toBeLessThanOrEqual(100)
      }),
      { numRuns: 40 },
    )
  })

  it('a bike that needs more, stands longer or sells for less is worth no more', () => {
    fc.assert(
      fc.property(anyDeal, amount(20_000), (input, more) => {
        const walkAway = deal(input).walkAway ?? -1
        const worse: DealInput[] = [
          { ...input, standingCosts: input.standingCosts + more },
          { ...input, saleOff: input.saleOff + more },
          { ...input, reserveShareOfSale: input.reserveShareOfSale + 0.05 },
          { ...input, holding: { ...input.holding, perDay: input.holding.perDay + 100 } },
        ]
        // Where only the tables differ by rounding, one major unit is what is promised.
        for (const other of worse) expect(deal(other).walkAway ?? -1).toBeLessThanOrEqual(walkAway + 100)
      }),
      { numRuns: 25 },
    )
  })

  it('the quantiles of the margin rise with their level and lie between the worst and the best', () => {
    fc.assert(
      fc.property(anyDeal, amount(300_000), (input, price) => {
        const { margin } = prospectOf(input).at(price)
        const values = ['0.1', '0.5', '0.9'].map((level) => margin.quantiles[level]!)
        expect([...values].sort((a, b) => a - b)).toEqual(values)
      }),
      { numRuns: 40 },
    )
  })
})
