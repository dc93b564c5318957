import { z } from 'zod'
import { uncertain } from '../quantity/three-point.input'
import { estimateInput } from '../work/estimate.input'
import { taxTermsInput } from './tax.input'

const minor = z.int().min(0)
const share = z.number().min(0).max(1)
const days = uncertain(z.number().min(0).max(1e6))
const margin = z.int()

/** What `calc deal` reads. Amounts are whole minor units. */
export const dealInput = z.strictObject({
  sale: uncertain(minor).describe('What the bike would sell at with everything right'),
  saleOff: minor.default(0).describe('What the faults that are left take off it'),
  estimate: estimateInput.describe('The input of estimate'),
  standingCosts: minor.default(0).describe('What every bike costs, whatever is wrong with it'),
  holding: z
    .strictObject({
      perDay: minor.default(0),
      moneyPerYear: share.default(0).describe('What money costs a year: 0.08 is 8 %'),
    })
    .default({ perDay: 0, moneyPerYear: 0 })
    .describe('What a day costs'),
  daysToReady: days.default(0),
  daysToSell: days.default(0),
  sellingCosts: minor.default(0),
  buyingCosts: z
    .strictObject({ fixed: minor.default(0), shareOfPrice: share.default(0) })
    .default({ fixed: 0, shareOfPrice: 0 }),
  reserveShareOfSale: share.default(0).describe('Kept back of the sale price for what comes after the sale'),
  tax: taxTermsInput,
  rule: z
    .discriminatedUnion('kind', [
      z.strictObject({
        kind: z.literal('average'),
        targetMargin: margin.describe('The mean margin must reach it'),
        maxChanceOfLoss: share,
      }),
      z.strictObject({
        kind: z.literal('confidence'),
        targetMargin: margin,
        confidence: z.number().gt(0).max(1).describe('The chance that the margin reaches it'),
      }),
    ])
    .describe('What a price must keep to'),
  asking: minor.optional(),
})

export type DealInput = z.output<typeof dealInput>
/** Before the defaults are filled in. */
export type DealRawInput = z.input<typeof dealInput>
