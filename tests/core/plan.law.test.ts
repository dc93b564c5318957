import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { boundOfMakespan, firmerBound } from '../../lib/core/plan/bound-makespan'
import { modelOf } from '../../lib/core/plan/model'
import { type Plan, plan } from '../../lib/core/plan/plan'
import type { PlanInput } from '../../lib/core/plan/plan.input'
import { CalcProblem } from '../../lib/core/quantity/problem'
import { hasCheaperPlan } from '../support/every-plan'
import { expectKept } from '../support/plan-checker'
import { planInputs } from '../support/random-plan'

const workshops = planInputs({ tasks: 20, bikes: 5, workshop: true })

function planned(input: PlanInput): Plan | null {
  try {
    return plan(input)
  } catch (error) {
    if (error instanceof CalcProblem) return null
    throw error
  }
}

describe('a plan of few tasks', () => {
  const few = planInputs({ tasks: 6, bikes: 3, workshop: true })

  it('is the best of all there are, with calendars, people, holds, promises and pins', () => {
    let looked = 0
    fc.assert(
      fc.property(few, (input) => {
        const answer = planned(input)
        const cheaper = hasCheaperPlan(input, answer?.objective ?? 200)
        if (cheaper === null) return
        looked++
        expect(cheaper).toBe(false)
        if (answer) expect(answer.lowerBound).toBe(answer.objective)
      }),
      { numRuns: 150, endOnFailure: true },
    )
    expect(looked).toBeGreaterThan(100)
  })
})

describe('the end of all that is proven to be too soon', () => {
  it.each([true, false])(
    'is never the end of a plan of few tasks (with calendars, people, holds and pins: %s)',
    (workshop) => {
      let raised = 0
      fc.assert(
        fc.property(planInputs({ tasks: 8, bikes: 3, objective: 'makespan', workshop }), (input) => {
          // Too little effort for the bound in question, so that the best is known without it.
          const answer = planned({ ...input, effort: 400 })
          fc.pre(answer !== null && answer.lowerBound === answer.objective)
          const model = modelOf(input)
          const quick = boundOfMakespan(model)
          const below = answer!.objective + 3
          const bound = firmerBound(model, { bound: quick, below, effort: 5000 })
          if (bound > quick) raised++
          expect(bound).toBeGreaterThanOrEqual(quick)
          expect(bound).toBeLessThanOrEqual(answer!.objective)
        }),
        { numRuns: 150 },
      )
      expect(raised).toBeGreaterThan(0)
    },
  )
})

describe('any plan', () => {
  it('keeps order, resources, calendars, holds and pins, and its bound is not above it', () => {
    fc.assert(
      fc.property(workshops, fc.constantFrom(1, 20, 200), (input, effort) => {
        const answer = planned({ ...input, effort })
        fc.pre(answer !== null)
        expectKept({ ...input, effort }, answer!)
      }),
      { numRuns: 300 },
    )
  })

  it('is the same for the same input and seed', () => {
    fc.assert(
      fc.property(workshops, (input) => {
        expect(planned({ ...input, effort: 100 })).toEqual(planned({ ...input, effort: 100 }))
      }),
      { numRuns: 50 },
    )
  })

  it('is never worse for more effort', () => {
    fc.assert(
      fc.property(workshops, (input) => {
        const costs = [5, 50, 300].map((effort) => planned({ ...input, effort })?.objective ?? Infinity)
        expect(costs).toEqual([...costs].sort((a, b) => b - a))
      }),
      { numRuns: 50 },
    )
  })
})
