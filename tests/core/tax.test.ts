import { describe, expect, it, test } from 'vitest'
import { tax, taxUnrounded } from '../../lib/core/deal/tax'
import { type TaxRawInput, taxInput } from '../../lib/core/deal/tax.input'

const of = (input: TaxRawInput) => tax(taxInput.parse(input))

describe('tax of a bike bought and sold', () => {
  test.each<[string, TaxRawInput, ReturnType<typeof tax>]>([
    [
      'margin: the tax within the difference of the prices',
      {
        scheme: 'margin',
        rate: 0.2,
        purchase: 150000,
        sale: 220000,
        repairs: 30000,
      },
      { tax: 11667, grossMargin: 70000, margin: 28333 },
    ],
    [
      'margin: a loss gives no tax',
      { scheme: 'margin', rate: 0.2, purchase: 220000, sale: 150000 },
      { tax: 0, grossMargin: -70000, margin: -70000 },
    ],
    [
      'none: without a rate',
      { scheme: 'none', purchase: 100, sale: 300, repairs: 50 },
      { tax: 0, grossMargin: 200, margin: 150 },
    ],
    [
      'none: a rate is of no account',
      { scheme: 'none', rate: 0.2, purchase: 100, sale: 300 },
      { tax: 0, grossMargin: 200, margin: 200 },
    ],
    [
      'standard: the tax within the sale price',
      { scheme: 'standard', rate: 0.2, purchase: 100000, sale: 120000 },
      { tax: 20000, grossMargin: 20000, margin: 0 },
    ],
    [
      'standard: less the tax of the purchase, which can leave a refund',
      {
        scheme: 'standard',
        rate: 0.2,
        purchase: 240000,
        sale: 120000,
        purchaseTax: 40000,
      },
      { tax: -20000, grossMargin: -120000, margin: -100000 },
    ],
    [
      'standard: a price known to contain tax, amount not given',
      {
        scheme: 'standard',
        rate: 0.2,
        purchase: 60000,
        sale: 120000,
        purchaseTaxed: true,
      },
      { tax: 10000, grossMargin: 60000, margin: 50000 },
    ],
    [
      'standard: an amount that is given counts, not the share of the price',
      {
        scheme: 'standard',
        rate: 0.2,
        purchase: 60000,
        sale: 120000,
        purchaseTaxed: true,
        purchaseTax: 9000,
      },
      { tax: 11000, grossMargin: 60000, margin: 49000 },
    ],
    [
      'on top: the buyer pays it, the margin does not',
      {
        scheme: 'sales-tax-on-top',
        rate: 0.06,
        purchase: 100000,
        sale: 150000,
        repairs: 10000,
      },
      { tax: 9000, grossMargin: 50000, margin: 40000 },
    ],
    [
      'on top: a trade-in credit lowers it, to nothing at the least',
      {
        scheme: 'sales-tax-on-top',
        rate: 0.06,
        purchase: 0,
        sale: 150000,
        tradeInCredit: 200000,
      },
      { tax: 0, grossMargin: 150000, margin: 150000 },
    ],
  ])('%s', (_, input, expected) => {
    expect(of(input)).toEqual(expected)
  })

  test.each([
    [0.2, 3, 1],
    [0.2, 9, 2],
    [0.2, 15, 3],
    [0.2, 27, 5],
    [0.2, 2, 0],
    [0.0825, 433, 33],
  ])('half a penny goes away from zero: rate %d on a difference of %d is %d', (rate, sale, expected) => {
    expect(of({ scheme: 'margin', rate, purchase: 0, sale }).tax).toBe(expected)
    expect(
      of({
        scheme: 'standard',
        rate,
        purchase: 0,
        sale: 0,
        purchaseTax: expected,
      }).tax,
    ).toBe(0 - expected)
  })

  it('rounds a refund of half a penny away from zero, once and at the end', () => {
    // 15 × 0.2 / 1.2 = 2.5, less 5 is −2.5
    expect(
      of({
        scheme: 'standard',
        rate: 0.2,
        purchase: 0,
        sale: 15,
        purchaseTax: 5,
      }).tax,
    ).toBe(-3)
  })

  it('reads a rate of many places and a rate written with an exponent', () => {
    expect(of({ scheme: 'sales-tax-on-top', rate: 0.08875, purchase: 0, sale: 4000 }).tax).toBe(355)
    expect(of({ scheme: 'sales-tax-on-top', rate: 5e-7, purchase: 0, sale: 1000000 }).tax).toBe(1)
  })
})

describe('tax as it enters a price calculation', () => {
  test.each<[TaxRawInput, number]>([
    [{ scheme: 'margin', rate: 0.2, purchase: 150000, sale: 220000 }, 70000 / 6],
    [{ scheme: 'sales-tax-on-top', rate: 0.2, purchase: 150000, sale: 220000 }, 0],
    [{ scheme: 'none', purchase: 1, sale: 2 }, 0],
    [
      {
        scheme: 'standard',
        rate: 0.2,
        purchase: 150000,
        sale: 220000,
        purchaseTaxed: true,
      },
      70000 / 6,
    ],
  ])('%j gives %d, not rounded', (input, expected) => {
    const parsed = taxInput.parse(input)
    expect(taxUnrounded(parsed, parsed)).toBeCloseTo(expected, 8)
  })
})
