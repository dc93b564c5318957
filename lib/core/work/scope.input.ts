import { z } from 'zod'
import { checkNames, checkOperations, type Problem } from './operations.input'

const minor = z.int().min(0).max(1e12)
const name = z.string().min(1)

const operation = z.strictObject({
  cost: minor.describe('What it costs once, minor units'),
  needs: z.array(name).default([]).describe('Operations that must be done for this one'),
})

const job = z.strictObject({
  key: name,
  cost: minor.default(0).describe('Of its own, without the shared operations, minor units'),
  uplift: minor.default(0).describe('What it adds to what the bike brings, minor units'),
  operations: z.array(name).default([]).describe('Shared operations; what those need comes with them'),
  must: z.boolean().default(false).describe('Done in any case'),
  requires: z.array(name).default([]).describe('Jobs that must be done with this one'),
})

const group = z.array(name).min(1)

/** What `calc scope` reads. */
export const scopeInput = z
  .strictObject({
    operations: z.record(name, operation).default({}),
    jobs: z.array(job),
    alternatives: z.array(group).default([]).describe('Of each group at most one job is done'),
    mustOneOf: z.array(group).default([]).describe('Of each group exactly one job is done'),
  })
  .superRefine((input, context) => {
    const problem = (path: PropertyKey[], message: string, hint: string) =>
      context.addIssue({ code: 'custom', path, message, params: { hint } })
    checkOperations(input, problem)
    checkJobs(input, problem)
    for (const key of ['alternatives', 'mustOneOf'] as const) checkGroups(input, { key, problem })
  })

export type ScopeInput = z.output<typeof scopeInput>

type Checked = {
  operations: Record<string, { needs: string[] }>
  jobs: { key: string; operations: string[]; requires: string[] }[]
  alternatives: string[][]
  mustOneOf: string[][]
}

function checkJobs({ operations, jobs }: Checked, problem: Problem): void {
  const keys = new Set<string>()
  jobs.forEach(({ key, operations: named }, index) => {
    if (keys.has(key))
      problem(['jobs', index, 'key'], `The job ${key} stands twice.`, 'Give each its own key.')
    keys.add(key)
    checkNames(named, { operations, path: ['jobs', index, 'operations'], problem })
  })
  jobs.forEach(({ requires }, index) => {
    requires.forEach((required, at) => {
      if (keys.has(required)) return
      const path = ['jobs', index, 'requires', at]
      problem(path, `There is no job ${required}.`, 'Add it to jobs, or correct the key.')
    })
  })
}

function checkGroups(
  input: Checked,
  { key, problem }: { key: 'alternatives' | 'mustOneOf'; problem: Problem },
): void {
  const keys = new Set(input.jobs.map((one) => one.key))
  input[key].forEach((group, index) => {
    group.forEach((member, at) => {
      const path = [key, index, at]
      if (!keys.has(member))
        problem(path, `There is no job ${member}.`, 'Add it to jobs, or correct the key.')
      if (group.indexOf(member) < at)
        problem(path, `The job ${member} stands twice in this group.`, 'Name each job once.')
    })
  })
}
