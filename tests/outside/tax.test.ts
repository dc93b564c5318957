import { describe, expect, test } from 'vitest'
import { tax } from '../../lib/core/deal/tax'
import { type TaxRawInput, taxInput } from '../../lib/core/deal/tax.input'

describe('tax agrees with published cases', () => {
  test.each<[string, TaxRawInput, Partial<ReturnType<typeof tax>>]>([
    [
      'United Kingdom, GOV.UK example, read in a copy: buy 1,500, sell 2,000, margin 500, tax 83.33',
      { scheme: 'margin', rate: 0.2, purchase: 150000, sale: 200000 },
      { tax: 8333, grossMargin: 50000 },
    ],
    [
      'the same with 200 of repairs, computed (repairs do not reduce the margin: GOV.UK guidance, read in copies)',
      {
        scheme: 'margin',
        rate: 0.2,
        purchase: 150000,
        sale: 200000,
        repairs: 20000,
      },
      { tax: 8333, margin: 21667 },
    ],
    [
      'a trade-in allowed at 5,000 and resold at 4,000 bears no tax (HMRC VATMARG13350 and worked case, read)',
      { scheme: 'margin', rate: 0.2, purchase: 500000, sale: 400000 },
      { tax: 0, grossMargin: -100000 },
    ],
    [
      'the fraction at 20 % is one sixth (HMRC VAT Notice 718/1 §3.3, read in a copy)',
      { scheme: 'margin', rate: 0.2, purchase: 0, sale: 600 },
      { tax: 100 },
    ],
    [
      'Florida: 6 % on the price less the trade-in (state page, read; amounts computed; county surtax left out)',
      {
        scheme: 'sales-tax-on-top',
        rate: 0.06,
        purchase: 300000,
        sale: 500000,
        tradeInCredit: 200000,
      },
      { tax: 18000, margin: 200000 },
    ],
  ])('%s', (_, input, expected) => {
    expect(tax(taxInput.parse(input))).toMatchObject(expected)
  })

  test('a purchase with tax on its invoice is refused the margin scheme (VAT Notice 718/1, read)', () => {
    const taxed = {
      scheme: 'margin',
      rate: 0.2,
      purchase: 120000,
      sale: 150000,
      purchaseTax: 20000,
    }
    expect(taxInput.safeParse(taxed).success).toBe(false)
    expect(taxInput.safeParse({ ...taxed, scheme: 'standard' }).success).toBe(true)
  })
})
