import { z } from 'zod'

const minor = z.int().min(0)

export const taxSchemes = ['none', 'margin', 'standard', 'sales-tax-on-top'] as const

/** The keys of a tax scheme that do not depend on the prices. A price calculation takes them with its own prices. */
export const taxTermsShape = {
  scheme: z
    .enum(taxSchemes)
    .describe(
      'none; margin: within the difference of the prices; standard: within the sale price; or on top',
    ),
  rate: z
    .number()
    .min(0)
    .max(1)
    .optional()
    .describe('Share of the price before tax: 0.2 is 20 %. Needed by every scheme but none'),
  purchaseTax: minor
    .default(0)
    .describe('Tax shown on the purchase invoice and reclaimed, minor units: scheme standard'),
  purchaseTaxed: z
    .boolean()
    .default(false)
    .describe('The purchase price contains tax at the same rate, its amount not given: scheme standard'),
  tradeInCredit: minor
    .default(0)
    .describe('Allowed for a bike taken in exchange, minor units: scheme sales-tax-on-top'),
}

/** What the keys must keep to between them; for `superRefine` on a schema that is made of the shape. */
export function checkTaxTerms(terms: z.output<typeof taxTerms>, context: z.RefinementCtx): void {
  if (terms.rate === undefined && terms.scheme !== 'none') {
    context.addIssue({
      code: 'custom',
      path: ['rate'],
      message: `The scheme ${terms.scheme} needs a rate.`,
      params: { hint: 'Give the rate as a share: 0.2 is 20 %.' },
    })
  }
  if (terms.scheme === 'margin' && (terms.purchaseTax > 0 || terms.purchaseTaxed)) {
    context.addIssue({
      code: 'custom',
      path: ['scheme'],
      message: 'A bike bought with tax on its invoice may not be sold under the margin scheme.',
      params: {
        hint: 'Use the scheme standard, which reclaims that tax, or take the purchase tax out.',
      },
    })
  }
}

const taxTerms = z.strictObject(taxTermsShape)
/** The terms alone, as a price calculation takes them. */
export const taxTermsInput = taxTerms.superRefine(checkTaxTerms)
export type TaxTerms = z.output<typeof taxTermsInput>

/** What `calc tax` reads. Amounts are whole minor units. */
export const taxInput = z
  .strictObject({
    ...taxTermsShape,
    purchase: minor.describe('Price paid for the bike, minor units'),
    sale: minor.describe('Price it is sold at, minor units'),
    repairs: minor.default(0).describe('Spent on it in between, minor units'),
  })
  .superRefine(checkTaxTerms)
export type TaxInput = z.output<typeof taxInput>
export type TaxRawInput = z.input<typeof taxInput>
