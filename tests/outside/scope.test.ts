import fc from 'fast-check'
import highsLoader from 'highs'
import { beforeAll, describe, expect, it } from 'vitest'
import { CalcProblem } from '../../lib/core/quantity/problem'
import { scope } from '../../lib/core/work/scope'
import { type ScopeInput, scopeInput } from '../../lib/core/work/scope.input'
import { scopeInputs, worthOf } from '../support/random-scope'

/*
 * Choosing projects that share costs. Source of the worked case: a published example of project selection (+10
 * needs −4; +8 needs the +10 and −3), read; the answer computed. Reference for many cases: the HiGHS solver
 * through its npm package, as a 0/1 model written here.
 */

describe('a published example of choosing projects', () => {
  it('takes all of them: +11', () => {
    const input = scopeInput.parse({
      operations: { 'costs 4': { cost: 4 }, 'costs 3': { cost: 3 } },
      jobs: [
        { key: 'plus 10', uplift: 10, operations: ['costs 4'] },
        { key: 'plus 8', uplift: 8, operations: ['costs 3'], requires: ['plus 10'] },
      ],
    })
    expect(scope(input)).toEqual({ chosen: ['plus 10', 'plus 8'], value: 11, left: [], optimal: true })
  })
})

type Highs = Awaited<ReturnType<typeof highsLoader>>

describe('1,000 bikes against a general solver', () => {
  let highs: Highs
  beforeAll(async () => {
    highs = await highsLoader()
  })

  it('every value is the same, and every choice is worth it', () => {
    const bikes = fc.sample(scopeInputs({ jobs: 14, operations: 9, groups: 3 }), {
      numRuns: 1000,
      seed: 20261125,
    })
    let possible = 0
    for (const bike of bikes) {
      const reference = bestByHighs(highs, bike)
      const answer = solved(bike)
      expect(answer === null).toBe(reference === null)
      if (!answer || reference === null) continue
      possible += 1
      expect(answer.value).toBe(reference)
      expect(worthOf(bike, new Set(answer.chosen))).toEqual({ value: answer.value, keeps: true })
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

/** The best value, or null where nothing keeps the rules. Any other ending of the solver is an error. */
function bestByHighs(highs: Highs, input: ScopeInput): number | null {
  if (input.jobs.length === 0) return 0
  const { Status, Columns } = highs.solve(modelOf(input))
  if (Status === 'Infeasible') return null
  if (Status !== 'Optimal') throw new Error(`the solver ended with ${Status}`)
  const chosen = new Set(
    input.jobs
      .filter((_, at) => Math.round((Columns[`j${at}`] as { Primal: number }).Primal) === 1)
      .map(({ key }) => key),
  )
  const { value, keeps } = worthOf(input, chosen)
  if (!keeps) throw new Error('the solver answered a set that breaks the rules')
  return value
}

/** In the LP format: jobs j0…, operations o0…, all 0 or 1. */
function modelOf(input: ScopeInput): string {
  const operations = Object.keys(input.operations)
  const o = (key: string) => `o${operations.indexOf(key)}`
  const j = (key: string) => `j${input.jobs.findIndex((job) => job.key === key)}`
  const terms = [
    ...input.jobs.map(
      ({ uplift, cost }, at) => `${uplift - cost >= 0 ? '+' : '-'} ${Math.abs(uplift - cost)} j${at}`,
    ),
    ...operations.map((key) => `- ${input.operations[key]!.cost} ${o(key)}`),
  ]
  const rows = [
    ...input.jobs.flatMap((job) => [
      ...job.operations.map((key) => `${j(job.key)} - ${o(key)} <= 0`),
      ...job.requires.map((key) => `${j(job.key)} - ${j(key)} <= 0`),
      ...(job.must ? [`${j(job.key)} >= 1`] : []),
    ]),
    ...operations.flatMap((key) =>
      input.operations[key]!.needs.map((needed) => `${o(key)} - ${o(needed)} <= 0`),
    ),
    ...input.alternatives.map((group) => `${group.map(j).join(' + ')} <= 1`),
    ...input.mustOneOf.map((group) => `${group.map(j).join(' + ')} = 1`),
  ]
  const names = [...input.jobs.map((_, at) => `j${at}`), ...operations.map(o)]
  return [
    'Maximize',
    ` obj: ${terms.join(' ')}`,
    'Subject To',
    ` all: ${names.join(' + ')} >= 0`,
    ...rows.map((row, at) => ` r${at}: ${row}`),
    'Binary',
    ` ${names.join(' ')}`,
    'End',
  ].join('\n')
}
