import { z } from 'zod'
import { units } from '../quantity/units'

// Far beyond anything a workshop measures, and squares of it stay finite.
const measured = z.number().min(-1e12).max(1e12)
const unit = z.enum(units)

const boundsShape = {
  min: measured.optional().describe('Smallest value that is still good'),
  max: measured.optional().describe('Largest value that is still good'),
  unit,
}

function checkBounds(bounds: { min?: number; max?: number }, context: z.RefinementCtx): void {
  if (bounds.min === undefined && bounds.max === undefined) {
    context.addIssue({
      code: 'custom',
      path: [],
      message: 'This says neither a smallest nor a largest good value.',
      params: { hint: 'Give min, max or both; without any limit leave the whole key out.' },
    })
  }
  if (bounds.min !== undefined && bounds.max !== undefined && bounds.min > bounds.max) {
    context.addIssue({
      code: 'custom',
      path: ['min'],
      message: `min (${bounds.min}) is above max (${bounds.max}).`,
      params: { hint: 'Exchange the two, or correct the one that was mistyped.' },
    })
  }
}

/** What `calc verdict` reads. */
export const verdictInput = z
  .strictObject({
    readings: z.array(measured).min(1).describe('Values as taken, in `unit`, one a position'),
    unit: unit.describe('Unit of the readings'),
    limit: z
      .strictObject({
        ...boundsShape,
        asNew: measured.optional().describe('The value of a new part, for the wear that is left'),
      })
      .superRefine(checkBounds)
      .optional()
      .describe('Without it nothing is judged'),
    judgedOn: z
      .enum(['lowest', 'highest', 'each', 'mean'])
      .describe('Which value counts; each: the one nearest to, or furthest past, a bound'),
    instrument: z
      .strictObject({
        resolution: measured.min(0).describe('The smallest step it shows'),
        unit,
        standardUncertainty: measured.min(0).default(0).describe('All else, as one standard deviation'),
      })
      .optional()
      .describe('Without it the readings are taken as exact'),
    rule: z
      .enum(['simple', 'guarded'])
      .optional()
      .describe(
        'simple: inside is within; guarded: within needs two standard uncertainties to spare. Needed with a limit',
      ),
    positions: z.int().min(1).optional().describe('How many readings are needed for within'),
    saleLine: z
      .strictObject(boundsShape)
      .superRefine(checkBounds)
      .optional()
      .describe('What the shop wants of a bike it sells, beyond the limit'),
  })
  .superRefine((input, context) => {
    if (input.limit && !input.rule) {
      context.addIssue({
        code: 'custom',
        path: ['rule'],
        message: 'With a limit there must be a rule to judge by.',
        params: { hint: 'Give "simple", or "guarded" where the uncertainty is to count.' },
      })
    }
  })
export type VerdictInput = z.output<typeof verdictInput>
export type VerdictRawInput = z.input<typeof verdictInput>
