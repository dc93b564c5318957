import { z } from 'zod'
import type { Day } from '../quantity/days'
import { dayInput } from '../quantity/days.input'

/** What `calc tyre-date` reads. */
export const tyreDateInput = z.strictObject({
  code: z
    .string()
    .describe(
      'Last group of the identification number on the side wall: four digits, or three before mid-2000',
    ),
  asOf: dayInput.optional().describe('The day the age is told for; the command takes today'),
})
/** The calculation itself has no clock: its caller says the day. */
export type TyreDateInput = z.output<typeof tyreDateInput> & { asOf: Day }
export type TyreDateRawInput = z.input<typeof tyreDateInput>
