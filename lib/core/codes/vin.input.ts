import { z } from 'zod'
import type { Day } from '../quantity/days'
import { dayInput } from '../quantity/days.input'

/** What `calc vin` reads. */
export const vinInput = z.strictObject({
  vin: z
    .string()
    .describe('Vehicle identification number or frame number as stamped; spaces and hyphens may stay'),
  claimedYear: z.int().min(1880).max(9999).optional().describe('The year the seller or the papers say'),
  asOf: dayInput
    .optional()
    .describe('Later model years than the one after this day are left out; default today'),
})
/** The calculation itself has no clock: its caller says the day. */
export type VinInput = z.output<typeof vinInput> & { asOf: Day }
export type VinRawInput = z.input<typeof vinInput>
