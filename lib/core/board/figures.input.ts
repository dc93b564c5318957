import { z } from 'zod'
import { careStates } from '../checks/catalogue'
import { notedPricesTerms, seasonTerms } from '../deal/comparables.input'
import { taxTermsInput } from '../deal/tax.input'
import { threePointOf } from '../quantity/three-point.input'
import { startingFigures } from './starting-figures'

const minor = z.number().int().min(0).max(2_000_000_000)
const share = z.number().min(0).max(1)
const days = z.number().min(0).max(3650)

const minuteOfDay = z
  .int()
  .min(0)
  .max(24 * 60)

const odds = z.number().positive().max(100)
/** By age of a bike: under 10 years, 10 to 20, 20 to 30, over 30. */
const byAge = z.array(odds).length(4)

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
  bench: z
    .strictObject({
      lifts: z.int().min(1).max(100).describe('Places where a bike can be worked on off the ground'),
      weekdays: z
        .array(z.int().min(0).max(6))
        .min(1)
        .describe('Days on which the bench is worked at, Sunday is 0'),
      fromMinute: minuteOfDay.describe('When work begins, minutes from midnight'),
      toMinute: minuteOfDay.describe('When it ends'),
      atTheBike: z.number().min(0.05).max(1).describe('Part of that time that is spent at a bike'),
      awayDays: days.describe('Days that work given to others is away where nobody has said'),
      orderDays: days.describe('Days until parts come that nobody has ordered yet'),
    })
    .refine(({ fromMinute, toMinute }) => fromMinute < toMinute, {
      message: 'Work must end after it begins.',
      path: ['toMinute'],
    })
    .default(() => startingFigures.bench)
    .describe('Where and when bikes are worked on'),
  benchHourPriceMinor: minor
    .default(() => startingFigures.benchHourPriceMinor)
    .describe('What a bench hour could earn on other work, minor units; 0 on an idle bench'),
  bargaining: z
    .strictObject({
      openShare: share.describe('First figure said, as a share of the walk-away price'),
      aimShare: share.describe('Figure hoped for, as a share of the walk-away price'),
      talkedOffShare: share.describe('Part of what a fault costs that can be talked off the price'),
    })
    .refine((given) => given.openShare <= given.aimShare, {
      message: 'The first figure must not be above the one hoped for.',
      path: ['openShare'],
    })
    .default(() => startingFigures.bargaining)
    .describe('How a price is talked about'),
  hiddenFaults: z
    .strictObject({
      refusedOdds: odds.describe('Times the odds of a hidden fault where the seller refused the look'),
      ageOdds: z
        .strictObject({ slow: byAge, fast: byAge })
        .describe('Times the odds, for what ages slowly and what ages fast'),
      priorBikes: z
        .number()
        .positive()
        .max(10_000)
        .describe('So many bikes weigh as much as the starting chance of a hidden fault'),
      learned: z
        .record(
          z.string(),
          z.strictObject({ found: z.int().min(0), looked: z.int().min(1), until: z.string() }),
        )
        .describe('By fault: of so many bikes looked at, so many had it'),
    })
    .default(() => startingFigures.hiddenFaults)
    .describe('Chances of faults that nobody has looked for'),
  learnedHours: z
    .strictObject({
      priorJobs: z
        .number()
        .positive()
        .max(1000)
        .describe('So many jobs done weigh as much as the hours of the catalogue'),
      learned: z
        .record(
          z.string(),
          z.strictObject({ factor: z.number().positive().max(100), jobs: z.int().min(1), until: z.string() }),
        )
        .describe('By job: what its own hours are multiplied by'),
    })
    .default(() => startingFigures.learnedHours)
    .describe('What hours of jobs done here say of the hours expected'),
  notedPrices: notedPricesTerms
    .default(() => startingFigures.notedPrices)
    .describe('How prices noted elsewhere become a sale price'),
  season: seasonTerms
    .default(() => startingFigures.season)
    .describe('Sale price by the month it is ready, January first, as a share of the usual one'),
  owned: z
    .array(z.string())
    .describe('Keys that the shop has set itself; all others rest on starting values'),
})

export type Figures = z.infer<typeof figuresInput>
export type FigureKey = Exclude<keyof Figures, 'owned'>
