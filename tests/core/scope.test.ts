import { describe, expect, it } from 'vitest'
import { CalcProblem } from '../../lib/core/quantity/problem'
import { scope } from '../../lib/core/work/scope'
import { scopeInput } from '../../lib/core/work/scope.input'

const solve = (input: unknown) => scope(scopeInput.parse(input))
const problemOf = (input: unknown) => {
  try {
    solve(input)
  } catch (error) {
    if (error instanceof CalcProblem) return { message: error.message, path: error.path }
    throw error
  }
  return null
}
const job = (key: string, uplift: number, rest: object = {}) => ({ key, uplift, ...rest })

describe('which jobs pay', () => {
  it('the tank comes off anyway, so its repaint pays; the seat does not', () => {
    expect(
      solve({
        operations: { 'tank-off': { cost: 1560 }, 'carbs-off': { cost: 6240, needs: ['tank-off'] } },
        jobs: [
          { key: 'intake-boots', cost: 8200, operations: ['carbs-off'], must: true },
          { key: 'tank-repaint', cost: 21_000, uplift: 26_000, operations: ['tank-off'] },
          { key: 'seat-recover', cost: 9000, uplift: 7000, operations: [] },
        ],
      }),
    ).toEqual({
      chosen: ['intake-boots', 'tank-repaint'],
      value: -11_000,
      left: [{ key: 'seat-recover', shortBy: 2000 }],
      optimal: true,
    })
  })

  it('two that share a step pay together and neither alone', () => {
    const input = { operations: { strip: { cost: 10 } }, jobs: [job('a', 6, { operations: ['strip'] })] }
    expect(solve(input)).toMatchObject({ chosen: [], left: [{ key: 'a', shortBy: 4 }] })
    const both = { ...input, jobs: [...input.jobs, job('b', 6, { operations: ['strip'] })] }
    expect(solve(both)).toMatchObject({ chosen: ['a', 'b'], value: 2, left: [] })
  })

  it('what neither gains nor loses is left', () => {
    expect(solve({ jobs: [job('even', 5, { cost: 5 })] })).toMatchObject({
      chosen: [],
      left: [{ key: 'even', shortBy: 0 }],
    })
  })

  it('a job brings what it requires', () => {
    const jobs = [job('polish', 10, { requires: ['repaint'] }), job('repaint', 0, { cost: 7 })]
    expect(solve({ jobs })).toMatchObject({ chosen: ['polish', 'repaint'], value: 3 })
    expect(solve({ jobs: [job('polish', 5, { requires: ['repaint'] }), jobs[1]] })).toMatchObject({
      chosen: [],
      left: [
        { key: 'polish', shortBy: 2 },
        // With the repaint paid for, the polish pays.
        { key: 'repaint', shortBy: 2 },
      ],
    })
  })

  it('of alternatives at most one, the better', () => {
    const input = { jobs: [job('reseal', 8), job('new tank', 9)], alternatives: [['reseal', 'new tank']] }
    expect(solve(input)).toMatchObject({ chosen: ['new tank'], left: [{ key: 'reseal', shortBy: 1 }] })
  })

  it('exactly one of a group, also where each loses', () => {
    const jobs = [job('kit', 0, { cost: 5 }), job('new', 0, { cost: 4 }), job('none', 0, { cost: 9 })]
    expect(solve({ jobs, mustOneOf: [['kit', 'new', 'none']] })).toMatchObject({ chosen: ['new'], value: -4 })
  })

  it('of equals the fewer jobs, then the earlier', () => {
    const groups = { alternatives: [['a', 'b']] }
    expect(solve({ jobs: [job('a', 5), job('b', 5)], ...groups }).chosen).toEqual(['a'])
    const jobs = [job('a', 6, { requires: ['c'] }), job('b', 5), job('c', 0, { cost: 1 })]
    expect(solve({ jobs, ...groups }).chosen).toEqual(['b'])
  })

  it('what cannot be has no shortfall', () => {
    const jobs = [job('must', 0, { must: true }), job('other', 5)]
    expect(solve({ jobs, alternatives: [['must', 'other']] }).left).toEqual([{ key: 'other', shortBy: null }])
  })

  it('nothing to choose from is worth nothing', () => {
    expect(solve({ jobs: [] })).toEqual({ chosen: [], value: 0, left: [], optimal: true })
  })
})

describe('rules that clash are named', () => {
  it.each([
    [
      'two musts of one group',
      { jobs: [job('a', 0, { must: true }), job('b', 0, { must: true })], alternatives: [['a', 'b']] },
      'These rules clash: a must be done; b must be done; at most one of a, b.',
      ['jobs', 0, 'must'],
    ],
    [
      'a must that requires its alternative',
      { jobs: [job('a', 0, { must: true, requires: ['b'] }), job('b', 0)], alternatives: [['a', 'b']] },
      'These rules clash: a must be done; a requires b; at most one of a, b.',
      ['jobs', 0, 'must'],
    ],
    [
      'exactly one of two that require each other',
      { jobs: [job('a', 0, { requires: ['b'] }), job('b', 0, { requires: ['a'] })], mustOneOf: [['a', 'b']] },
      'These rules clash: a requires b; b requires a; exactly one of a, b.',
      ['jobs', 0, 'requires'],
    ],
    [
      'what does not clash is not named',
      {
        jobs: [job('a', 0, { must: true }), job('b', 0, { must: true }), job('c', 0, { must: true })],
        alternatives: [['c'], ['a', 'b']],
      },
      'These rules clash: a must be done; b must be done; at most one of a, b.',
      ['jobs', 0, 'must'],
    ],
  ])('%s', (_, input, message, path) => {
    expect(problemOf(input)).toEqual({ message, path })
  })
})
