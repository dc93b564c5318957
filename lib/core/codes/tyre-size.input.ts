import { z } from 'zod'

/** What `calc tyre-size` reads. */
export const tyreSizeInput = z.strictObject({
  marking: z
    .string()
    .max(80)
    .describe('Size as it stands on the side wall, such as 190/50 ZR17 M/C (73W), 3.50-18 56P or MT90B16'),
})
export type TyreSizeInput = z.output<typeof tyreSizeInput>
