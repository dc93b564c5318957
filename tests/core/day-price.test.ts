import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { leftAfterKeep } from '../../lib/core/board/left-after-keep'
import { hoursValue } from '../../lib/core/deal/bench-hour'
import { dayPrice } from '../../lib/core/deal/day-price'
import { type DealInput, type DealRawInput, dealInput } from '../../lib/core/deal/deal.input'
import { meanMarginAt } from '../../lib/core/deal/margin'
import { marginSteps } from '../../lib/core/deal/steps'
import { estimateMeans } from '../../lib/core/work/estimate'
import { smallWork } from '../support/works'

const bike = (over: Partial<DealRawInput> = {}) =>
  dealInput.parse({
    sale: { low: 200_000, likely: 235_000, high: 260_000 },
    estimate: {
      labourRate: 5200,
      jobs: [{ key: 'reseal', hours: { low: 1, likely: 2, high: 4 }, outsideWork: 4800, chance: 0.4 }],
    },
    holding: { perDay: 150, moneyPerYear: 0.08 },
    daysToReady: 6,
    daysToSell: { low: 7, likely: 21, high: 60 },
    tax: { scheme: 'margin', rate: 0.2 },
    rule: { kind: 'average', targetMargin: 40_000, maxChanceOfLoss: 0.1 },
    ...over,
  })

const expectedMargin = (input: DealInput, price: number) =>
  meanMarginAt(input, { price, costMean: estimateMeans(input.estimate).cost.mean })

describe('the day’s price', () => {
  test.each([
    ['what the place costs', { perDay: 150, moneyPerYear: 0 }, 150],
    ['the money in price and work', { perDay: 0, moneyPerYear: 0.0365 }, 16],
    ['what a full stand would earn', { perDay: 0, moneyPerYear: 0, fullStandPerDay: 900 }, 900],
    ['all of them', { perDay: 150, moneyPerYear: 0.0365, fullStandPerDay: 900 }, 1066],
  ])('is %s', (_, terms, expected) => {
    expect(dayPrice(terms, { price: 140_000, costMean: 20_000 })).toBeCloseTo(expected, 10)
  })

  it('is what a further day takes off the margin, in the deal and in its steps', () => {
    const sooner = bike()
    const later = bike({ daysToReady: 7 })
    const { cost } = estimateMeans(sooner.estimate)
    const at = { price: 140_000, costMean: cost.mean }
    const price = dayPrice(sooner.holding, at)
    expect(expectedMargin(sooner, at.price) - expectedMargin(later, at.price)).toBeCloseTo(price, 6)
    expect(marginSteps(later, at).days - marginSteps(sooner, at).days).toBeCloseTo(price, 6)
  })
})

describe('what bench hours are worth', () => {
  test.each([
    ['the labour cost where nothing else is said', null, 10_400],
    ['nothing while the bench is idle', 0, 0],
    ['what they could earn elsewhere', 6000, 12_000],
  ])('%s', (_, benchHourPrice, expected) => {
    expect(hoursValue({ hours: 2, labourCost: 5200, benchHourPrice })).toBe(expected)
  })
})

describe('what is left after its keep', () => {
  const keep = (marginMean: number | null, benchHourPrice: number | null) =>
    leftAfterKeep({ marginMean, hoursMean: 3 }, { labourCost: 5000, benchHourPrice })

  test.each([
    ['the margin where no price of a bench hour is given', 40_000, null, 40_000],
    ['the margin where an hour could earn just what it costs', 40_000, 5000, 40_000],
    ['more on an idle bench: the hours are paid anyway', 40_000, 0, 55_000],
    ['less where other work pays better', 40_000, 8000, 31_000],
    ['nothing known without a margin', null, 8000, null],
  ])('is %s', (_, marginMean, benchHourPrice, expected) => {
    expect(keep(marginMean, benchHourPrice)).toBe(expected)
  })

  it('is the margin of the same bike whose labour costs what a bench hour could earn', () => {
    // Without money in the days, in which the work stays at what it costs to pay.
    fc.assert(
      fc.property(smallWork, fc.nat(12_000), (estimate, benchHourPrice) => {
        const paid = bike({ estimate, holding: { perDay: 150 } })
        const elsewhere = bike({
          estimate: { ...estimate, labourRate: benchHourPrice },
          holding: { perDay: 150 },
        })
        const { hours } = estimateMeans(paid.estimate)
        const left = leftAfterKeep(
          { marginMean: expectedMargin(paid, 140_000), hoursMean: hours.mean },
          { labourCost: paid.estimate.labourRate, benchHourPrice },
        )
        expect(left).toBeCloseTo(expectedMargin(elsewhere, 140_000), 4)
      }),
      { numRuns: 50 },
    )
  })
})
