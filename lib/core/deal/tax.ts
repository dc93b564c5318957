import { type Minor, roundFractionHalfAway } from '../quantity/money'
import type { TaxInput, TaxTerms } from './tax.input'

export interface Tax {
  /** Whole minor units, a half rounded away from zero; negative where more is reclaimed than owed. */
  tax: Minor
  /** Sale less purchase. */
  grossMargin: Minor
  /** Gross margin less repairs and less the tax; a tax on top is the buyer's and takes nothing from it. */
  margin: Minor
}

interface Prices {
  purchase: number
  sale: number
}

interface Scheme {
  /** The amount that the rate is applied to. */
  taxed(terms: TaxTerms, prices: Prices): number
  /** within: the amount contains the tax, its part is rate / (1 + rate); onTop: the buyer pays rate × amount more. */
  tax: 'within' | 'onTop'
  /** Tax already paid that is taken off. */
  reclaimed(terms: TaxTerms): number
}

const nothing = () => 0

/**
 * - margin: tax within the positive difference of the two prices, at 20 % a sixth of it; repairs do not reduce
 *   it and a loss is not set off (HMRC VAT Notice 718/1 §3.3; EU: articles 313, 315, 318 of 2006/112/EC).
 * - standard: tax within the sale price, less the tax of the purchase invoice. Where that price is only known
 *   to contain tax at the same rate, both parts are the same share and the difference of the prices is taxed.
 * - sales-tax-on-top: on the price less what is allowed for a bike taken in exchange (as several of the
 *   United States do; whether the credit is given differs by state).
 */
const schemes: Record<TaxTerms['scheme'], Scheme> = {
  none: { taxed: nothing, tax: 'within', reclaimed: nothing },
  margin: {
    taxed: (_, { purchase, sale }) => Math.max(0, sale - purchase),
    tax: 'within',
    reclaimed: nothing,
  },
  standard: {
    taxed: (terms, { purchase, sale }) => sale - (onlyKnownToBeTaxed(terms) ? purchase : 0),
    tax: 'within',
    reclaimed: (terms) => terms.purchaseTax,
  },
  'sales-tax-on-top': {
    taxed: (terms, { sale }) => Math.max(0, sale - terms.tradeInCredit),
    tax: 'onTop',
    reclaimed: nothing,
  },
}

/** Tax and margin of a bike bought and sold, in whole minor units, rounded once at the end. */
export function tax(input: TaxInput): Tax {
  const scheme = schemes[input.scheme]
  const [by, over] = shareOf(scheme, input.rate ?? 0)
  const numerator = BigInt(scheme.taxed(input, input)) * by - BigInt(scheme.reclaimed(input)) * over
  const rounded = roundFractionHalfAway(numerator, over)
  const grossMargin = input.sale - input.purchase
  const fromMargin = scheme.tax === 'onTop' ? 0 : rounded
  return {
    tax: rounded,
    grossMargin,
    margin: grossMargin - fromMargin - input.repairs,
  }
}

/**
 * The tax that comes out of the dealer's margin at any two prices (minor units, need not be whole), not
 * rounded; 0 where the tax is the buyer's on top.
 */
export function taxUnrounded(terms: TaxTerms, prices: Prices): number {
  const scheme = schemes[terms.scheme]
  if (scheme.tax === 'onTop') return 0
  const rate = terms.rate ?? 0
  return scheme.taxed(terms, prices) * (rate / (1 + rate)) - scheme.reclaimed(terms)
}

function onlyKnownToBeTaxed(terms: TaxTerms): boolean {
  return terms.purchaseTaxed && terms.purchaseTax === 0
}

/** The share of the taxed amount as an exact fraction: a rate of 0.2 is 2/10, so within a price it is 2/12. */
function shareOf(scheme: Scheme, rate: number): [by: bigint, over: bigint] {
  const [by, over] = decimalFraction(rate)
  return [by, scheme.tax === 'within' ? over + by : over]
}

/** The rate as it was written, not as the binary number nearest to it: 0.2 is 2/10, 7e-3 is 7/1000. */
function decimalFraction(rate: number): [by: bigint, over: bigint] {
  const [digits = '0', exponent = '0'] = String(rate).split('e')
  const [whole = '0', places = ''] = digits.split('.')
  return [BigInt(whole + places), 10n ** BigInt(places.length - Number(exponent))]
}
