import { z } from 'zod'

export const chemistries = ['flooded', 'agm', 'gel', 'lifepo4'] as const

/** What `calc battery` reads. */
export const batteryInput = z.strictObject({
  restVolts: z.number().min(0).max(1000).describe('Volts at the poles with everything switched off'),
  restHours: z.number().min(0).max(1_000_000).describe('Hours since it was last charged or used'),
  temperatureC: z.number().min(-100).max(100).describe('Of the battery, degrees Celsius'),
  chemistry: z
    .enum(chemistries)
    .describe('flooded, agm and gel are lead-acid; lifepo4 is lithium iron phosphate'),
  nominalVolts: z.literal(12).default(12).describe('Only batteries of 12 V have tables here'),
})
export type BatteryInput = z.output<typeof batteryInput>
export type BatteryRawInput = z.input<typeof batteryInput>
