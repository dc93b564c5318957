import { z } from 'zod'
import { uncertain } from '../quantity/three-point.input'
import { calls } from './catalogue'

const minor = z.number().int().min(0).max(2_000_000_000)
const hours = z.number().min(0).max(1000)

export const hoursInput = uncertain(hours)
export const moneyInput = uncertain(minor)

/** Text that people read, without the one character that databases cut it off at. */
function textOf(max: number, missing: string) {
  return z
    .string({ error: missing })
    .trim()
    .min(1, missing)
    .max(max, `Keep it to ${max} characters.`)
    .refine((text) => !text.includes('\u0000'), 'Take the unreadable character out.')
}

const callInput = z.enum(calls, { error: 'Choose what it asks for.' })

export const partInput = z.strictObject({
  name: textOf(200, 'Name the part.'),
  qty: z.number().positive('A part line needs a quantity above nothing.').max(1000),
  unitCost: moneyInput,
})

const ownJob = z.strictObject({
  title: textOf(200, 'Name the job.'),
  hours: hoursInput,
  parts: z.array(partInput).max(50),
  outsideWork: moneyInput.optional(),
})

const ownFault = z.strictObject({
  title: textOf(200, 'Name the fault.'),
  call: callInput,
  /** Key of a job in the catalogue that cures it, or null where none is known yet. */
  job: z.string().min(1).nullable(),
  saleOffMinor: minor.optional(),
  slowerDays: z.number().min(0).max(365, 'Keep it within a year.').optional(),
})

const base = {
  id: z.string().min(1),
  /** What it is about: the key of a fault or of a job; an own fault or job gets its key from the screen. */
  key: textOf(200, 'Choose one from the list.'),
  reason: textOf(2000, 'Say why, in a few words.'),
}

/** What a person set against what the readings say. A decision that was withdrawn is not handed in. */
export const decisionInput = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('add-fault'),
    ...base,
    own: ownFault.optional(),
  }),
  z.strictObject({ kind: z.literal('drop-fault'), ...base }),
  z.strictObject({
    kind: z.literal('change-call'),
    ...base,
    call: callInput,
  }),
  /** `key` is the fault; `job` one of its alternatives, or the cause that a person names. */
  z.strictObject({
    kind: z.literal('choose-job'),
    ...base,
    job: textOf(200, 'Choose a job.'),
  }),
  z.strictObject({
    kind: z.literal('add-job'),
    ...base,
    own: ownJob.optional(),
  }),
  z.strictObject({ kind: z.literal('drop-job'), ...base }),
  z
    .strictObject({
      kind: z.literal('change-job'),
      ...base,
      hours: hoursInput.optional(),
      parts: z.array(partInput).max(50).optional(),
      outsideWork: moneyInput.optional(),
    })
    .refine((d) => d.hours !== undefined || d.parts !== undefined || d.outsideWork !== undefined, {
      message: 'Change the hours, the parts or the outside work.',
    }),
])

export type Decision = z.infer<typeof decisionInput>
export type DecisionKind = Decision['kind']
export type DecisionOf<K extends DecisionKind> = Extract<Decision, { kind: K }>
