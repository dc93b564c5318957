import { beforeAll, describe, expect, it } from 'vitest'
import { type Plan, plan } from '../../lib/core/plan/plan'
import type { PlanInput } from '../../lib/core/plan/plan.input'
import { type Project, projects } from '../../lib/desk/bench/project-library'
import { expectKept } from '../support/plan-checker'

/*
 * Projects of the project scheduling problem library (R. Kolisch, A. Sprecher, "PSPLIB – A project scheduling problem
 * library", European Journal of Operational Research 96, 1996, 205–216) with their best known makespans. They are no
 * part of the project; without the folder ../shared/check-values/psplib these tests are skipped.
 */
const all = projects()
const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length

describe.skipIf(all === null)(
  'published projects (skipped where ../shared/check-values/psplib is missing)',
  () => {
    let answers: (Project & { runs: { input: PlanInput; answer: Plan }[] })[] = []
    beforeAll(() => {
      answers = all!.map((project) => {
        const inputs = [1, 2, 3].map((seed) => ({ ...project.input, seed, effort: 2000 }))
        return { ...project, runs: inputs.map((input) => ({ input, answer: plan(input) })) }
      })
    })
    const over = (some: typeof answers) =>
      mean(some.map(({ best, runs }) => mean(runs.map(({ answer }) => answer.objective / best - 1))))

    it('keep all they ask for, and their bounds are not above the best known', () => {
      for (const { best, runs } of answers) {
        for (const { input, answer } of runs) {
          expectKept(input, answer)
          expect(answer.lowerBound).toBeLessThanOrEqual(best)
        }
      }
    })

    it('none is shorter than what is proven for 30 tasks', () => {
      for (const { tasks, best, runs } of answers)
        if (tasks === 30) for (const { answer } of runs) expect(answer.objective).toBeGreaterThanOrEqual(best)
    })

    it('are near the best known after 2,000 schedules: 3 % with 30 tasks, 6 % with 60 and 120', () => {
      expect(over(answers.filter(({ tasks }) => tasks === 30))).toBeLessThan(0.03)
      expect(over(answers.filter(({ tasks }) => tasks > 30))).toBeLessThan(0.06)
    })

    it('have bounds that are at most 10 % below the best known on average', () => {
      expect(mean(answers.map(({ best, runs }) => 1 - runs[0]!.answer.lowerBound / best))).toBeLessThan(0.1)
    })
  },
)
