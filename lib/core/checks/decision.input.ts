import { z } from 'zod'
import { uncertain } from '../quantity/three-point.input'
import { calls } from './catalogue'

const minor = z.number().int().min(0).max(2_000_000_000)
const hours = z.number().min(0).max(1000)

export const hoursInput = uncertain(hours)
export const moneyInput = uncertain(minor)

export const partInput = z.strictObject({
  name: z.string().trim().min(1, 'Name the part.').max(200),
  qty: z.number().positive('A part line needs a quantity above nothing.').max(1000),
  unitCost: moneyInput,
})

const ownJob = z.strictObject({
  title: z.string().trim().min(1, 'Name the job.').max(200),
  hours: hoursInput,
  parts: z.array(partInput).max(50),
  outsideWork: moneyInput.optional(),
})

const ownFault = z.strictObject({
  title: z.string().trim().min(1, 'Name the fault.').max(200),
  call: z.enum(calls),
  /** Key of a job in the catalogue that cures it, or null where none is known yet. */
  job: z.string().min(1).nullable(),
  saleOffMinor: minor.optional(),
})

const base = {
  id: z.string().min(1),
  /** What it is about: the key of a fault or of a job; an own fault or job gets its key from the screen. */
  key: z.string().min(1).max(200),
  reason: z.string().trim().min(1, 'Say why, in a few words.').max(2000),
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
    call: z.enum(calls),
  }),
  /** `key` is the fault; `job` one of its alternatives, or the cause that a person names. */
  z.strictObject({
    kind: z.literal('choose-job'),
    ...base,
    job: z.string().min(1),
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
