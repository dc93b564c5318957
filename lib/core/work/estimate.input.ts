import { z } from 'zod'
import { uncertain } from '../quantity/three-point.input'
import { checkNames, checkOperations, type Problem } from './operations.input'

const hours = uncertain(z.number().min(0).max(1e6))
const minor = z.int().min(0)
const money = uncertain(minor)
const share = z.number().min(0).max(1)
const name = z.string().min(1)
const byState = z.union([share, z.record(name, share)])

const operation = z.strictObject({
  hours: hours.default(0).describe('Hours it takes once, three-point or plain'),
  needs: z.array(name).default([]).describe('Operations that must be done for this one'),
  fasteners: z.boolean().default(true).describe('false: stuck fasteners do not slow it'),
})

const part = z.strictObject({
  name,
  qty: z.number().min(0).max(1e6).default(1),
  unitCost: money.describe('Cost of one, minor units; all of the line have the same drawn price'),
})

const job = z.strictObject({
  key: name,
  operations: z.array(name).default([]).describe('Shared operations; what those need comes with them'),
  hours: hours.default(0).describe('Hours of its own, without the shared operations'),
  parts: z.array(part).default([]),
  outsideWork: money.default(0).describe('Paid to others, minor units'),
  chance: byState
    .optional()
    .describe('That it is needed: one chance, or one for each state of care. Left out it is 1'),
  fasteners: z.boolean().default(true).describe('false: stuck fasteners do not slow its own hours'),
})

const group = z.strictObject({
  name,
  chance: byState.default(1).describe('That the symptom is real'),
  jobs: z.record(name, share).describe('Which job then cures it: shares that sum to 1'),
})

/** What `calc estimate` reads. */
export const estimateInput = z
  .strictObject({
    labourRate: minor.describe('What an hour costs the shop, minor units'),
    operations: z.record(name, operation).default({}),
    jobs: z.array(job),
    fasteners: z
      .array(z.strictObject({ name, chance: share, factor: z.number().positive().max(1000) }))
      .min(1)
      .default([{ name: 'free', chance: 1, factor: 1 }])
      .describe('How stuck the whole bike is; the factor multiplies labour hours'),
    care: z
      .array(z.strictObject({ name, chance: share }))
      .min(1)
      .optional()
      .describe('How the whole bike was looked after; chances of jobs may depend on it'),
    oneOf: z.array(group).default([]).describe('Symptoms that exactly one of several jobs cures'),
    quantiles: z.array(z.number().gt(0).max(1)).default([0.1, 0.5, 0.9]),
  })
  .superRefine((input, context) => {
    const problem = (path: PropertyKey[], message: string, hint: string) =>
      context.addIssue({ code: 'custom', path, message, params: { hint } })
    checkOperations(input, problem)
    checkStates(input, problem)
    checkJobs(input, problem)
    checkGroups(input, problem)
  })

export type EstimateInput = z.output<typeof estimateInput>
/** Before the defaults are filled in. */
export type EstimateRawInput = z.input<typeof estimateInput>

type Checked = {
  operations: Record<string, { needs: string[] }>
  jobs: { key: string; operations: string[]; chance?: number | Record<string, number> }[]
  fasteners: { name: string; chance: number }[]
  care?: { name: string; chance: number }[]
  oneOf: { chance: number | Record<string, number>; jobs: Record<string, number> }[]
}

function checkStates({ fasteners, care }: Checked, problem: Problem): void {
  for (const [key, states] of Object.entries({ fasteners, care: care ?? [] })) {
    if (states.length === 0) continue
    const twice = firstTwice(states.map((state) => state.name))
    if (twice >= 0) {
      problem([key, twice, 'name'], `${states[twice]!.name} stands twice.`, 'Give each state its own name.')
    }
    const sum = sumOf(states.map((state) => state.chance))
    if (!isOne(sum)) {
      problem([key], `The chances of the states sum to ${sum}, not to 1.`, 'Make them sum to 1.')
    }
  }
}

function checkJobs(input: Checked, problem: Problem): void {
  const twice = firstTwice(input.jobs.map((job) => job.key))
  if (twice >= 0) {
    problem(
      ['jobs', twice, 'key'],
      `The job ${input.jobs[twice]!.key} stands twice.`,
      'Give each its own key.',
    )
  }
  input.jobs.forEach((job, index) => {
    checkNames(job.operations, { operations: input.operations, path: ['jobs', index, 'operations'], problem })
    if (job.chance !== undefined) checkChance(job.chance, ['jobs', index, 'chance'], { input, problem })
  })
}

function checkGroups(input: Checked, problem: Problem): void {
  const jobs = new Map(input.jobs.map((job, index) => [job.key, { job, index }]))
  const taken = new Set<string>()
  input.oneOf.forEach((group, index) => {
    const path = ['oneOf', index]
    checkChance(group.chance, [...path, 'chance'], { input, problem })
    for (const key of Object.keys(group.jobs)) {
      const found = jobs.get(key)
      if (!found) {
        problem([...path, 'jobs', key], `There is no job ${key}.`, 'Add it to jobs, or correct the key.')
      } else if (taken.has(key)) {
        problem([...path, 'jobs', key], `The job ${key} stands in two groups.`, 'Leave it in one of them.')
      } else if (found.job.chance !== undefined) {
        problem(
          ['jobs', found.index, 'chance'],
          `The job ${key} has a chance of its own and stands in a group of oneOf.`,
          'Leave its chance out: the group says how likely it is.',
        )
      }
      taken.add(key)
    }
    const sum = sumOf(Object.values(group.jobs))
    if (!isOne(sum)) {
      problem(
        [...path, 'jobs'],
        `The shares sum to ${sum}, not to 1.`,
        'Make the shares of a group sum to 1.',
      )
    }
  })
}

function checkChance(
  chance: number | Record<string, number>,
  path: PropertyKey[],
  { input, problem }: { input: Checked; problem: Problem },
): void {
  if (typeof chance === 'number') return
  const states = (input.care ?? []).map((state) => state.name)
  const unknown = Object.keys(chance).find((state) => !states.includes(state))
  const missing = states.find((state) => !Object.hasOwn(chance, state))
  if (unknown !== undefined) {
    const known = states.length > 0 ? `They are ${states.join(', ')}.` : 'There are no states of care here.'
    problem([...path, unknown], `${unknown} is no state of care.`, `${known} Give one chance for each.`)
  } else if (missing !== undefined || states.length === 0) {
    problem(
      path,
      `A chance for ${missing ?? 'any state'} is missing.`,
      'Give one chance for each state of care.',
    )
  }
}

function firstTwice(names: readonly string[]): number {
  return names.findIndex((name, index) => names.indexOf(name) < index)
}

function sumOf(numbers: readonly number[]): number {
  return numbers.reduce((sum, number) => sum + number, 0)
}

function isOne(sum: number): boolean {
  return Math.abs(sum - 1) <= 1e-9
}
