import { z } from 'zod'

/** What `calc specific-gravity` reads. */
export const specificGravityInput = z.strictObject({
  readings: z
    .array(z.number().min(1).max(1.4))
    .min(1)
    .max(12)
    .describe('As the float shows, such as 1.265, one a cell in the order of the cells'),
  temperatureC: z.number().min(-60).max(80).describe('Of the acid, degrees Celsius'),
})
export type SpecificGravityInput = z.output<typeof specificGravityInput>
