import { z } from 'zod'

type NumberSchema = z.ZodType<number, number>

/** A value that is guessed as lowest, most likely and highest; each of the three as `number` allows. */
export function threePointOf(number: NumberSchema) {
  return z
    .strictObject({ low: number, likely: number, high: number })
    .superRefine(({ low, likely, high }, context) => {
      if (low > likely) {
        context.addIssue({
          code: 'custom',
          path: ['likely'],
          message: `likely (${likely}) is below low (${low}).`,
          params: { hint: 'Give low, likely and high in rising order; two of them may be the same.' },
        })
      } else if (likely > high) {
        context.addIssue({
          code: 'custom',
          path: ['high'],
          message: `high (${high}) is below likely (${likely}).`,
          params: { hint: 'Give low, likely and high in rising order; two of them may be the same.' },
        })
      }
    })
}

/** A certain value or one that is guessed by three points. */
export function uncertain(number: NumberSchema) {
  return z.union([number, threePointOf(number)])
}

export type ThreePoint = { low: number; likely: number; high: number }
export type Uncertain = z.output<ReturnType<typeof uncertain>>
