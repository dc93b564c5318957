import { z } from 'zod'
import type { Problem } from '../work/operations.input'
import { dealInput } from './deal.input'

const open = z.strictObject({
  key: z.string().min(1),
  jobs: z
    .array(z.string())
    .min(1)
    .describe('The job it speaks of; all jobs of one group of oneOf; or one job of such a group'),
  detects: z.number().min(0).max(1).default(1).describe('Chance that it finds what is there'),
  minutes: z.number().positive().max(100_000),
  safety: z.boolean().default(false).describe('Asked first, whatever it is worth'),
})

/** What `calc next-check` reads. */
export const nextCheckInput = z
  .strictObject({
    deal: dealInput.describe('The input of deal, with asking'),
    priceShare: z
      .number()
      .min(0)
      .max(1)
      .describe('The part of a fault found that can be talked off the price'),
    open: z.array(open).describe('Checks not done yet'),
  })
  .superRefine((input, context) => {
    const problem: Problem = (path, message, hint) =>
      context.addIssue({ code: 'custom', path, message, params: { hint } })
    if (input.deal.asking === undefined) {
      problem(
        ['deal', 'asking'],
        'There is no asking price.',
        'Give what is asked: a check is worth what it changes there.',
      )
    }
    checkOpen(input, problem)
  })

export type NextCheckInput = z.output<typeof nextCheckInput>
export type NextCheckRawInput = z.input<typeof nextCheckInput>

function checkOpen(
  {
    deal: { estimate },
    open,
  }: { deal: { estimate: NextCheckInput['deal']['estimate'] }; open: { key: string; jobs: string[] }[] },
  problem: Problem,
): void {
  const jobs = new Set(estimate.jobs.map(({ key }) => key))
  const keys = new Set<string>()
  open.forEach((check, index) => {
    if (keys.has(check.key)) {
      problem(['open', index, 'key'], `The check ${check.key} stands twice.`, 'Give each its own key.')
    }
    keys.add(check.key)
    const unknown = check.jobs.findIndex((job) => !jobs.has(job))
    if (unknown >= 0) {
      const path = ['open', index, 'jobs', unknown]
      problem(path, `There is no job ${check.jobs[unknown]}.`, 'Name a job of the estimate.')
      return
    }
    const twice = check.jobs.findIndex((job, at) => check.jobs.indexOf(job) < at)
    if (twice >= 0) {
      problem(['open', index, 'jobs', twice], `The job ${check.jobs[twice]} stands twice.`, 'Name each once.')
      return
    }
    if (check.jobs.length === 1) return
    const group = estimate.oneOf.find((one) => Object.hasOwn(one.jobs, check.jobs[0]!))
    const members = Object.keys(group?.jobs ?? {})
    if (members.length !== check.jobs.length || check.jobs.some((job) => !members.includes(job))) {
      problem(
        ['open', index, 'jobs'],
        'These jobs are not one group of oneOf.',
        'Name one job, all jobs of one group, or one job of a group.',
      )
    }
  })
}
