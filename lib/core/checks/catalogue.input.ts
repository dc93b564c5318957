import { z } from 'zod'
import { uncertain } from '../quantity/three-point.input'
import { units } from '../quantity/units'
import { type BikeKind, bikeKindValues } from './bike-kind'
import {
  ageings,
  type Check,
  calls,
  careStates,
  conditions,
  countries,
  type Fault,
  type Job,
  lockKinds,
  type Operation,
  rounds,
  shortPlaces,
  standPlaces,
} from './catalogue'

/*
 * One entry of each kind of the catalogue as it is let in from outside: from a shop's form, from a table, or out
 * of the store. Whether what an entry names is there is the business of `catalogueProblems`.
 */

const noNul = (text: string) => !text.includes('\u0000')
const line = (most: number, missing: string) =>
  z
    .string({ error: missing })
    .trim()
    .min(1, missing)
    .max(most, `Keep it to ${most} characters.`)
    .refine(noNul, 'Take the unreadable character out.')

/** What an entry is named by in every other entry; it never changes. */
export const keyInput = z
  .string()
  .max(80)
  .regex(/^[a-z]+(-[a-z0-9]+)*$/, 'A key is small letters, figures and single hyphens.')

const title = line(120, 'Give it a title.')
const sentence = line(400, 'Say it in one sentence.')
const finite = z
  .number('Give a number.')
  .min(-1e12, 'Give a smaller figure.')
  .max(1e12, 'Give a smaller figure.')
const hours = z.number().min(0, 'Hours are not below nothing.').max(1000, 'Give at most 1000 hours.')
const minor = z.number().int('Give whole pence or cents.').min(0).max(2_000_000_000, 'Give a smaller amount.')
const chance = z.number().min(0, 'A chance is 0 to 100 %.').max(1, 'A chance is 0 to 100 %.')
const unit = z.enum(units)

const source = z.strictObject({
  kind: z.enum(['stamped', 'maker', 'shop', 'law', 'standard', 'common practice', 'starting value']),
  says: line(1000, 'Say where it comes from.'),
})

const kindShape = Object.fromEntries(
  Object.entries(bikeKindValues).map(([part, values]) => [part, z.array(z.enum(values)).min(1).optional()]),
) as unknown as { [K in keyof BikeKind]: z.ZodOptional<z.ZodType<BikeKind[K][]>> }
const appliesTo = z.strictObject(kindShape)

type BoundsRead = { min?: number; max?: number }

function checkBounds({ min, max }: BoundsRead, context: z.RefinementCtx): void {
  if (min === undefined && max === undefined)
    context.addIssue({ code: 'custom', path: ['min'], message: 'Give a least value, a most value or both.' })
  if (min !== undefined && max !== undefined && min > max)
    context.addIssue({ code: 'custom', path: ['max'], message: 'The most must not be below the least.' })
}

const boundsShape = {
  min: finite.optional(),
  max: finite.optional(),
  asNew: finite.optional(),
  unit,
  source,
}
const bounds = z.strictObject(boundsShape).superRefine(checkBounds)
const law = z
  .strictObject({
    ...boundsShape,
    country: z.enum(countries).exclude(['other']),
    appliesTo: appliesTo.optional(),
  })
  .superRefine(checkBounds)

const range = z
  .strictObject({ min: finite, max: finite })
  .refine(({ min, max }) => min < max, { path: ['max'], message: 'The highest must be above the lowest.' })

const when = z.discriminatedUnion('on', [
  z.strictObject({ on: z.literal('outside') }),
  z.strictObject({ on: z.literal('above-limit') }),
  z.strictObject({ on: z.literal('below-limit') }),
  z.strictObject({ on: z.literal('below-sale-line') }),
  z.strictObject({ on: z.literal('answer'), answer: keyInput }),
  z.strictObject({ on: z.literal('over'), than: finite }),
  z.strictObject({ on: z.literal('under'), than: finite }),
  z.strictObject({ on: z.literal('older-than'), years: z.enum(['guidance', 'sale-line']) }),
])
const cause = z.strictObject({ fault: keyInput, cause: keyInput })
const raise = z.union([
  z.strictObject({ when, fault: keyInput }),
  z.strictObject({ when, settles: cause }),
  z.strictObject({ when, rulesOut: cause }),
])

const checkShape = {
  key: keyInput,
  round: z.enum(rounds, { error: 'Choose the round it belongs to.' }),
  title,
  how: z
    .array(sentence)
    .min(1, 'Say how it is done, a sentence a line.')
    .max(12, 'Keep it to twelve sentences.'),
  needs: z.array(line(80, 'Name the tool.')).max(20),
  minutes: z.number().positive('Give the minutes it takes.').max(240, 'Give at most 240 minutes.'),
  appliesTo: appliesTo.optional(),
  short: z.enum(shortPlaces).optional(),
  standAt: z.enum(standPlaces).optional(),
  staleAfterDays: z.int('Give whole days.').min(1).max(3660, 'Give at most 3660 days.').optional(),
  gate: z
    .strictObject({
      opens: z.array(z.enum(['running', 'road'])).min(1),
      hours: z.number().positive(),
      noReason: z.literal(true).optional(),
    })
    .optional(),
  conditions: z.array(z.enum(conditions)).optional(),
  safety: z.boolean().optional(),
  cautions: z.array(keyInput).optional(),
  detects: z.number().gt(0).max(1).optional(),
  raises: z.array(raise).max(40),
  source,
}

const position = z.strictObject({ key: keyInput, label: line(80, 'Name the position.') })
const instrument = z.strictObject({
  key: keyInput,
  name: line(120, 'Name the instrument.'),
  resolution: finite.gt(0),
  unit,
  standardUncertainty: finite.min(0),
  calibrationDue: z.iso.date().nullable().optional(),
})

const measuredCheck = z.strictObject({
  ...checkShape,
  sort: z.literal('measured'),
  unit,
  units: z.array(unit).min(1),
  positions: z.array(position).min(1).max(40),
  judgedOn: z.enum(['lowest', 'highest', 'each', 'mean'], { error: 'Say which reading counts.' }),
  fastener: z.enum(['brake', 'wheel', 'steering']).optional(),
  needsEngineSpeed: z.boolean().optional(),
  plausible: range,
  instruments: z.array(instrument).min(1),
  limit: bounds.nullable(),
  law: z.array(law).optional(),
  saleLine: bounds.optional(),
})

const lookCheck = z.strictObject({
  ...checkShape,
  sort: z.literal('look'),
  answers: z
    .array(
      z.strictObject({
        key: keyInput,
        label: line(80, 'Word the answer.'),
        tone: z.enum(['good', 'note', 'bad']),
        denies: z.enum(conditions).optional(),
      }),
    )
    .min(2, 'Give at least two answers.')
    .max(12, 'Keep it to twelve answers.'),
})

const numberCheck = z.strictObject({
  ...checkShape,
  sort: z.literal('number'),
  unitWord: line(80, 'Say what is counted.'),
  plausible: range,
})

const codeCheck = z.union([
  z.strictObject({ ...checkShape, sort: z.literal('code'), code: z.enum(['tyre-date', 'tyre-size']) }),
  z.strictObject({
    ...checkShape,
    sort: z.literal('code'),
    code: z.literal('done-on'),
    overYears: z.number().positive('Give the years after which it is due.').max(50, 'Give at most 50 years.'),
  }),
])

/** One schema a sort of check, so that a message stands at the field that is wrong. */
export const checkInputs = {
  measured: measuredCheck,
  look: lookCheck,
  number: numberCheck,
  code: codeCheck,
} as const

export const checkInput: z.ZodType<Check> = z.union([measuredCheck, lookCheck, numberCheck, codeCheck])

const hidden = z.strictObject(
  Object.fromEntries(careStates.map((state) => [state, chance])) as Record<
    (typeof careStates)[number],
    typeof chance
  >,
)

export const faultInput: z.ZodType<Fault> = z.strictObject({
  key: keyInput,
  title,
  means: sentence,
  call: z.enum(calls, { error: 'Choose what it asks for.' }),
  appliesTo: appliesTo.optional(),
  locks: z.array(z.enum(lockKinds)).optional(),
  clearedBy: z.enum(['job', 'reason']).optional(),
  jobs: z.array(keyInput).max(20),
  causes: z
    .array(z.strictObject({ job: keyInput, share: chance }))
    .max(20)
    .optional(),
  diagnosis: keyInput.optional(),
  noJobBecause: sentence.optional(),
  rechecks: z.array(keyInput).max(20),
  hidden: hidden.optional(),
  nonRunner: hidden.optional(),
  ages: z.enum(ageings).optional(),
  saleOffMinor: minor.optional(),
  slowerDays: z.number().min(0, 'Days are not below 0.').max(365, 'Keep it within a year.').optional(),
  source,
})

const part = z.strictObject({
  name: line(200, 'Name the part.'),
  qty: z.number().positive('Say how many are needed.').max(1000),
  unitCost: uncertain(minor),
})

export const jobInput: z.ZodType<Job> = z.strictObject({
  key: keyInput,
  title,
  appliesTo: appliesTo.optional(),
  operations: z.array(keyInput).max(40),
  hours: uncertain(hours),
  parts: z.array(part).max(50, 'Keep it to fifty parts.'),
  outsideWork: uncertain(minor).optional(),
  fasteners: z.boolean().optional(),
  cautions: z.array(keyInput).optional(),
  source,
})

export const operationInput: z.ZodType<Operation> = z.strictObject({
  key: keyInput,
  title,
  hours: uncertain(hours),
  needs: z.array(keyInput).max(40).optional(),
  disturbs: z.array(keyInput).optional(),
  fasteners: z.boolean().optional(),
})
