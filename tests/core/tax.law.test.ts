import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { tax, taxUnrounded } from '../../lib/core/deal/tax'
import { taxInput } from '../../lib/core/deal/tax.input'

const amount = fc.nat(5_000_000)
const rate = fc.nat(300).map((thousandths) => thousandths / 1000)
const scheme = fc.constantFrom('none', 'margin', 'standard', 'sales-tax-on-top')

describe('for all prices, rates and schemes', () => {
  it('paying more for the bike leaves less margin', () => {
    fc.assert(
      fc.property(
        scheme,
        rate,
        amount,
        amount,
        fc.integer({ min: 2, max: 100_000 }),
        (s, r, sale, p, more) => {
          const at = (purchase: number) => tax(taxInput.parse({ scheme: s, rate: r, purchase, sale })).margin
          expect(at(p + more)).toBeLessThan(at(p))
        },
      ),
    )
  })

  it('repairs change the margin by what they cost and the tax not at all', () => {
    fc.assert(
      fc.property(scheme, rate, amount, amount, amount, (s, r, sale, purchase, repairs) => {
        const without = tax(taxInput.parse({ scheme: s, rate: r, purchase, sale }))
        const withThem = tax(taxInput.parse({ scheme: s, rate: r, purchase, sale, repairs }))
        expect(withThem).toEqual({
          ...without,
          margin: without.margin - repairs,
        })
      }),
    )
  })

  it('the tax within a price and the rest make the price, the tax being the rate of the rest', () => {
    fc.assert(
      fc.property(rate, amount, (r, sale) => {
        const inside = tax(taxInput.parse({ scheme: 'standard', rate: r, purchase: 0, sale })).tax
        expect(Math.abs(inside - r * (sale - inside))).toBeLessThanOrEqual(0.5 * (1 + r) + 1e-6)
      }),
    )
  })

  it('the rounded tax is the unrounded one to half a minor unit', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('none', 'margin', 'standard'),
        rate,
        amount,
        amount,
        (s, r, purchase, sale) => {
          const input = taxInput.parse({ scheme: s, rate: r, purchase, sale })
          expect(Math.abs(tax(input).tax - taxUnrounded(input, input))).toBeLessThanOrEqual(0.5 + 1e-6)
        },
      ),
    )
  })
})
