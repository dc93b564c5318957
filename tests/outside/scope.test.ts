import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { CalcProblem } from '../../lib/core/quantity/problem'
import { scope, scopeChosen } from '../../lib/core/work/scope'
import { type ScopeInput, scopeInput } from '../../lib/core/work/scope.input'
import { scopeByHighs } from '../../lib/desk/bench/highs-scope'
import { scopeInputs, worthOf } from '../support/random-scope'

/*
 * Choosing projects that share costs. Source of the worked case: a published example of project selection (+10
 * needs −4; +8 needs the +10 and −3), read; the answer computed. Reference for many cases: the HiGHS solver
 * through its npm package, as a 0/1 model (`lib/desk/bench/highs-scope.ts`).
 */

describe('a published example of choosing projects', () => {
  const input = scopeInput.parse({
    operations: { 'costs 4': { cost: 4 }, 'costs 3': { cost: 3 } },
    jobs: [
      { key: 'plus 10', uplift: 10, operations: ['costs 4'] },
      { key: 'plus 8', uplift: 8, operations: ['costs 3'], requires: ['plus 10'] },
    ],
  })

  it('takes all of them: +11', () => {
    expect(scope(input)).toEqual({ chosen: ['plus 10', 'plus 8'], value: 11, left: [], optimal: true })
  })

  it('by a minimum cut of 7: what could be gained at most, less what is', () => {
    // Of a maximum closure: the sum of all that gains, less the cut, is its value (Picard 1976, from memory).
    const gains = input.jobs.reduce((sum, { uplift, cost }) => sum + Math.max(0, uplift - cost), 0)
    expect(gains - scope(input).value).toBe(7)
  })
})

describe('1,000 bikes against a general solver', () => {
  it('every value is the same, and every choice is worth it', async () => {
    const byHighs = await scopeByHighs()
    const bikes = fc.sample(scopeInputs({ jobs: 14, operations: 9, groups: 3 }), {
      numRuns: 1000,
      seed: 20261125,
    })
    let possible = 0
    for (const bike of bikes) {
      const reference = byHighs(bike)
      const answer = solved(bike)
      expect(answer === null).toBe(reference === null)
      if (!answer || reference === null) continue
      possible += 1
      expect(worthOf(bike, reference)).toEqual({ value: answer.value, keeps: true })
      expect(worthOf(bike, new Set(answer.chosen))).toEqual({ value: answer.value, keeps: true })
      expect(scopeChosen(bike)).toEqual({ chosen: answer.chosen, value: answer.value })
    }
    expect(possible).toBeGreaterThan(500)
  })
})

function solved(input: ScopeInput) {
  try {
    return scope(input)
  } catch (error) {
    if (error instanceof CalcProblem) return null
    throw error
  }
}
