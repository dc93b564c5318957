import { z } from 'zod'
import { checkBikes } from './check-bikes'
import { checkResources } from './check-resources'

const name = z.string().min(1)
const time = z.int().min(0).max(1e9)
const amount = z.int().min(0).max(1e6)
const money = z.number().min(0).max(1e12)
const clock = name.optional().describe('The calendar it keeps to; without one it is always open')

const resource = z.union([
  amount.describe('How many there are'),
  z.strictObject({ capacity: amount.describe('How many there are'), clock }),
])

const task = z.strictObject({
  id: name,
  duration: time.describe('Time units of work'),
  uses: z.record(name, amount).default({}).describe('How much of each resource, for the whole duration'),
  by: z.array(name).min(1).optional().describe('Exactly one of these resources of capacity 1 does it'),
  after: z.array(name).default([]).describe('Tasks of any bike that must have ended'),
  release: time.default(0).describe('Not before'),
  clock,
  pausable: z.boolean().default(false).describe('May stop at closing and go on at opening'),
})

const hold = z.strictObject({
  resource: name.describe('One unit of it stays taken'),
  from: name.describe('from the start of this task'),
  to: name.describe('to the end of this one'),
})

const bike = z.strictObject({
  id: name,
  weight: money.default(1).describe('What a time unit until it is ready costs'),
  release: time.default(0).describe('No task of it before'),
  due: time.optional().describe('Promised for'),
  latePerUnit: money.default(0).describe('What each time unit past due costs besides'),
  tasks: z.array(task).default([]),
  holds: z.array(hold).default([]),
})

const openTime = z.tuple([time, time]).describe('From, to')

const pin = z.strictObject({
  start: time.optional(),
  by: name.optional(),
})

/** What `calc plan` reads. */
export const planInput = z
  .strictObject({
    resources: z.record(name, resource).default({}),
    bikes: z.array(bike),
    objective: z.enum(['weighted-ready', 'makespan']),
    seed: z.int().min(0).max(0xffffffff).default(1),
    effort: z.int().min(1).max(1e7).default(5000).describe('Schedules generated at most'),
    calendars: z.record(name, z.array(openTime)).default({}).describe('Open times, ascending'),
    pace: z.record(name, z.number().min(0.01).max(100)).default({}).describe('Factor on durations, by who'),
    fixed: z.record(name, pin).default({}).describe('Tasks whose start, or whose person, is settled'),
  })
  .superRefine((input, context) => {
    const problem = (path: PropertyKey[], message: string, hint: string) =>
      context.addIssue({ code: 'custom', path, message, params: { hint } })
    checkResources(input, problem)
    checkBikes(input, problem)
  })

export type PlanInput = z.output<typeof planInput>
export type PlanRawInput = z.input<typeof planInput>
