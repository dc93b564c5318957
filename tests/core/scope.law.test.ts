import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { CalcProblem } from '../../lib/core/quantity/problem'
import { type Scope, scope } from '../../lib/core/work/scope'
import type { ScopeInput } from '../../lib/core/work/scope.input'
import { scopeInputs, worthOf } from '../support/random-scope'

const small = scopeInputs({ jobs: 7, operations: 5, groups: 3 })

function solved(input: ScopeInput): Scope | null {
  try {
    return scope(input)
  } catch (error) {
    if (error instanceof CalcProblem) return null
    throw error
  }
}

/** Every set of jobs that keeps the rules, best first by the rule for equals. */
function listed(input: ScopeInput): { value: number; jobs: number[] }[] {
  const keys = input.jobs.map(({ key }) => key)
  const sets = Array.from({ length: 2 ** keys.length }, (_, bits) =>
    keys.flatMap((_, at) => ((bits >> at) & 1 ? [at] : [])),
  )
  return sets
    .flatMap((jobs) => {
      const { value, keeps } = worthOf(input, new Set(jobs.map((at) => keys[at]!)))
      return keeps ? [{ value, jobs }] : []
    })
    .sort((a, b) => {
      if (a.value !== b.value) return b.value - a.value
      if (a.jobs.length !== b.jobs.length) return a.jobs.length - b.jobs.length
      const at = a.jobs.findIndex((job, place) => job !== b.jobs[place])
      return at < 0 ? 0 : a.jobs[at]! - b.jobs[at]!
    })
}

describe('the scope of work', () => {
  it('is the best of all sets that keep the rules, equals settled as stated', () => {
    fc.assert(
      fc.property(small, (input) => {
        const [best] = listed(input)
        const answer = solved(input)
        expect(answer === null).toBe(best === undefined)
        if (!answer || !best) return
        expect(answer.value).toBe(best.value)
        expect(answer.chosen).toEqual(best.jobs.map((at) => input.jobs[at]!.key))
      }),
      { numRuns: 200 },
    )
  })

  it('says by how much each job that is left would cost the whole', () => {
    fc.assert(
      fc.property(small, (input) => {
        const answer = solved(input)
        if (!answer) return
        const all = listed(input)
        for (const { key, shortBy } of answer.left) {
          const at = input.jobs.findIndex((job) => job.key === key)
          const withIt = all.find(({ jobs }) => jobs.includes(at))
          expect(shortBy, key).toBe(withIt ? answer.value - withIt.value : null)
        }
      }),
      { numRuns: 100 },
    )
  })

  it('gains nothing from a further rule and loses nothing from a further job that need not be done', () => {
    fc.assert(
      fc.property(small, (input) => {
        const answer = solved(input)
        fc.pre(answer !== null)
        const free = solved({ ...input, alternatives: [], mustOneOf: [] })
        expect(free!.value).toBeGreaterThanOrEqual(answer!.value)
        const more = { key: 'more', cost: 3, uplift: 9, operations: [], must: false, requires: [] }
        expect(solved({ ...input, jobs: [...input.jobs, more] })!.value).toBe(answer!.value + 6)
      }),
    )
  })

  it('another order changes nothing but which of equals is taken', () => {
    fc.assert(
      fc.property(small, (input) => {
        const turned: ScopeInput = {
          operations: Object.fromEntries(Object.entries(input.operations).reverse()),
          jobs: [...input.jobs].reverse(),
          alternatives: [...input.alternatives].reverse().map((group) => [...group].reverse()),
          mustOneOf: [...input.mustOneOf].reverse().map((group) => [...group].reverse()),
        }
        const one = solved(input)
        const other = solved(turned)
        expect(other === null).toBe(one === null)
        if (!one || !other) return
        expect(other.value).toBe(one.value)
        expect(other.chosen).toHaveLength(one.chosen.length)
        const shortBy = new Map(other.left.map((left) => [left.key, left.shortBy]))
        // What is left here and done there is worth the same done.
        for (const left of one.left)
          expect(left.shortBy).toBe(shortBy.has(left.key) ? shortBy.get(left.key) : 0)
      }),
    )
  })

  it('relabelling changes nothing but the names', () => {
    fc.assert(
      fc.property(small, (input) => {
        const named = (key: string) => `x-${key}`
        const renamed: ScopeInput = {
          operations: Object.fromEntries(
            Object.entries(input.operations).map(([key, of]) => [
              named(key),
              { ...of, needs: of.needs.map(named) },
            ]),
          ),
          jobs: input.jobs.map((job) => ({
            ...job,
            key: named(job.key),
            operations: job.operations.map(named),
            requires: job.requires.map(named),
          })),
          alternatives: input.alternatives.map((group) => group.map(named)),
          mustOneOf: input.mustOneOf.map((group) => group.map(named)),
        }
        expect(solved(renamed)?.chosen).toEqual(solved(input)?.chosen.map(named))
      }),
    )
  })
})
