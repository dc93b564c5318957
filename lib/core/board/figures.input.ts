import { z } from 'zod'
import { careStates } from '../checks/catalogue'
import { taxTermsInput } from '../deal/tax.input'
import { threePointOf } from '../quantity/three-point.input'

const minor = z.number().int().min(0).max(2_000_000_000)
const share = z.number().min(0).max(1)
const days = z.number().min(0).max(3650)

const addsUp = (chances: readonly number[]) => Math.abs(chances.reduce((a, b) => a + b, 0) - 1) <= 1e-9

/** What a shop calculates with, in the shop's currency; every key can be set by a manager. */
export const figuresInput = z.strictObject({
  labourCostMinor: minor.describe('What an hour of a technician costs the shop, minor units'),
  tax: taxTermsInput.describe('Tax scheme and rate; what a single bike adds to it comes with the bike'),
  dayPrice: z
    .strictObject({
      perDayMinor: minor.describe('Space, insurance and fall in price of a bike that stands, a day'),
      moneyPerYear: share.describe('What money costs a year, as a share'),
    })
    .describe('What a day of a bike standing costs'),
  daysToSell: threePointOf(days).describe('From ready to sold'),
  targetMarginMinor: minor.describe('Average margin a bike should leave, minor units'),
  maxChanceOfLoss: share.describe('The most that the chance of a loss may be'),
  reserveShareOfSale: share.describe('Kept back for what comes after the sale, share of the sale price'),
  standingCostsMinor: minor.describe(
    'What every bike costs: registers, collection, certificate, valet, final check',
  ),
  sellingCostsMinor: minor.describe('Advert and handing over, minor units'),
  buyingCosts: z.strictObject({ fixedMinor: minor, shareOfPrice: share }),
  fasteners: z
    .array(
      z.strictObject({
        name: z.string().trim().min(1),
        chance: share,
        factor: z.number().positive().max(20),
      }),
    )
    .min(1)
    .max(10)
    .refine((states) => addsUp(states.map((s) => s.chance)), {
      message: 'The chances of the fasteners must add up to 1.',
    })
    .describe('How stuck a whole bike is, and how much slower that makes undoing work'),
  care: z
    .record(z.enum(careStates), share)
    .refine((chances) => addsUp(Object.values(chances)), {
      message: 'The chances of kept, average and neglected must add up to 1.',
    })
    .describe('How often a bike that comes in was kept, average, neglected'),
  tyreAges: z
    .strictObject({
      guidance: z.number().positive().max(50),
      saleLine: z.number().positive().max(50),
    })
    .describe('Years from the date code: the general guidance, and the line the shop sells to'),
  workshop: z.strictObject({
    benchHoursPerDay: z.number().positive().max(240),
    daysBeforeStart: days,
  }),
  owned: z
    .array(z.string())
    .describe('Keys that the shop has set itself; all others rest on starting values'),
})

export type Figures = z.infer<typeof figuresInput>
export type FigureKey = Exclude<keyof Figures, 'owned'>
