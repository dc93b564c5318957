import { z } from 'zod'
import type { Day } from '../quantity/days'
import { dayInput } from '../quantity/days.input'
import { conditions, markets } from './comparables'

const share = z.number().min(0).max(1)
const market = z.strictObject({
  weight: z.number().min(0).max(10),
  toRetail: z.number().positive().max(10),
})

/** How prices noted elsewhere become a sale price: the shop's own figures. */
export const notedPricesTerms = z.strictObject({
  soldToAsked: z.number().positive().max(1.5).describe('What is paid, as a share of what was asked'),
  longStandingPerMonth: share.describe('Off for each month that an advert has stood'),
  halfLifeDays: z.number().positive().max(36_500).describe('After so many days a note counts half'),
  yearScale: z.number().positive().max(100).describe('Years of difference at which a note counts 0.6'),
  distanceScaleKm: z.number().positive().max(1e6).describe('Kilometres of difference at which it does'),
  conditionStep: share.describe('What a note counts for each step of condition apart'),
  markets: z.strictObject({ private: market, trade: market, auction: market }),
})

/** Sale price by the month, January first, as a share of the usual one. */
export const seasonTerms = z.array(z.number().positive().max(3)).length(12)

const year = z.int().min(1885).max(2100)
const condition = z.enum(conditions)

export const notedPriceInput = z
  .strictObject({
    id: z.string().describe('Named again in the answer'),
    market: z.enum(markets),
    asked: z.boolean().describe('Asked in an advert; false where it was sold at this price'),
    price: z.int().min(1).describe('Minor units'),
    firstSeenOn: dayInput,
    lastSeenOn: dayInput.describe('The day of the sale, where it was sold'),
    year: year.nullable().default(null),
    distance: z.number().min(0).max(2_000_000).nullable().default(null),
    distanceUnit: z.enum(['mi', 'km']).default('mi'),
    condition: condition.nullable().default(null),
  })
  .refine(({ firstSeenOn, lastSeenOn }) => firstSeenOn <= lastSeenOn, {
    path: ['lastSeenOn'],
    message: 'It was last seen before it was first seen.',
    params: { hint: 'Give the earlier day as firstSeenOn.' },
  })

/** What `calc sale-price` reads. */
export const salePriceInput = z.strictObject({
  notes: z.array(notedPriceInput),
  bike: z
    .strictObject({
      year: year.nullable().default(null),
      distanceKm: z.number().min(0).max(4_000_000).nullable().default(null),
      condition: condition.nullable().default(null).describe('With everything right'),
    })
    .describe('The bike that is to be sold'),
  terms: notedPricesTerms,
  season: seasonTerms,
  asOf: dayInput.optional().describe('The day the ages of the notes are told for; the command takes today'),
  readyOn: dayInput.describe('The day the bike will be ready to be sold'),
})

export type NotedPrice = z.output<typeof notedPriceInput>
export type NotedPricesTerms = z.output<typeof notedPricesTerms>
/** The calculation itself has no clock: its caller says the day. */
export type SalePriceInput = z.output<typeof salePriceInput> & { asOf: Day }
