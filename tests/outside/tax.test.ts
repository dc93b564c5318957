import { describe, expect, test } from 'vitest'
import { deal } from '../../lib/core/deal/deal'
import { dealInput } from '../../lib/core/deal/deal.input'
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
      'the selling price is the full amount charged, whatever is taken in exchange (HMRC VATMARG13350, read; amounts computed)',
      { scheme: 'margin', rate: 0.2, purchase: 150000, sale: 210000, tradeInCredit: 100000 },
      { tax: 10000, grossMargin: 60000, margin: 50000 },
    ],
    [
      'European Union: the tax within the margin, articles 313, 315, 318 of 2006/112/EC, read; at 19 % computed',
      { scheme: 'margin', rate: 0.19, purchase: 100000, sale: 159500 },
      { tax: 9500, margin: 50000 },
    ],
    [
      'European Union: a sale at or below the purchase price bears none (article 315, read; computed)',
      { scheme: 'margin', rate: 0.19, purchase: 100000, sale: 100000 },
      { tax: 0 },
    ],
    [
      'Virginia gives no credit for a trade-in, Ohio none on used vehicles (state pages, read; rate of 6 % and amounts computed)',
      { scheme: 'sales-tax-on-top', rate: 0.06, purchase: 300000, sale: 500000 },
      { tax: 30000, margin: 200000 },
    ],
    [
      'Texas deducts the trade-in (state page, read; its rate of 6.25 % from memory; amounts computed)',
      { scheme: 'sales-tax-on-top', rate: 0.0625, purchase: 300000, sale: 500000, tradeInCredit: 100000 },
      { tax: 25000, margin: 200000 },
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

  test('the GOV.UK example as a deal: of 500, tax of 83.33 and repairs of 200 leave 216.67', () => {
    // Read in a copy; the repairs and what is left computed.
    const input = dealInput.parse({
      sale: 200000,
      estimate: { labourRate: 0, jobs: [{ key: 'repairs', outsideWork: 20000 }] },
      tax: { scheme: 'margin', rate: 0.2 },
      rule: { kind: 'average', targetMargin: 0, maxChanceOfLoss: 1 },
      asking: 150000,
    })
    const { atAsking, walkAway } = deal(input)
    expect(atAsking?.expectedMargin).toBeCloseTo(50000 - 50000 / 6 - 20000, 6)
    // Nothing is left at the price p with (2,000 − p) · 5/6 = 200: p = 1,760.
    expect(walkAway).toBe(176000)
  })
})
