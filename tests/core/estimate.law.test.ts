import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { estimate, estimateMeans } from '../../lib/core/work/estimate'
import { smallWork, workOf } from '../support/works'

const upTo = (limit: number) => limit * (1 + 1e-9) + 1e-9

describe('for all works', () => {
  it('the union of the operations is never above the sum of what each job needs alone', () => {
    fc.assert(
      fc.property(smallWork, (raw) => {
        const input = workOf(raw)
        const together = estimate(input)
        const alone = input.jobs.reduce((sum, job, place) => {
          const only = { ...input, jobs: [{ ...job, chance: 1 }], oneOf: [] }
          return sum + together.lines[place]!.chance * estimateMeans(only).hours.mean
        }, 0)
        expect(together.hours.mean).toBeLessThanOrEqual(upTo(alone))
        expect(together.hours.mean + together.hoursSavedBySharing.mean).toBeCloseTo(alone, 6)
      }),
      { numRuns: 60 },
    )
  })

  it('the lines sum to the mean, in hours and in money', () => {
    fc.assert(
      fc.property(smallWork, (raw) => {
        const { hours, cost, lines } = estimate(workOf(raw))
        expect(lines.reduce((sum, line) => sum + line.hoursMean, 0)).toBeCloseTo(hours.mean, 8)
        expect(lines.reduce((sum, line) => sum + line.costMean, 0)).toBeCloseTo(cost.mean, 5)
      }),
    )
  })

  it('another job never makes it cheaper, at the mean or at any level', () => {
    fc.assert(
      fc.property(smallWork, (raw) => {
        const input = workOf(raw)
        const before = estimate(input)
        const after = estimate({
          ...input,
          jobs: [
            ...input.jobs,
            {
              key: 'one more',
              operations: Object.keys(input.operations).slice(0, 2),
              hours: { low: 0.5, likely: 1, high: 2 },
              parts: [],
              outsideWork: 1000,
              chance: 0.4,
              fasteners: true,
            },
          ],
        })
        expect(after.cost.mean).toBeGreaterThan(before.cost.mean)
        for (const level of input.quantiles.map(String)) {
          // Each of the two is within 0.25 % of its range.
          const near = 0.005 * 8 * after.cost.sd
          expect(after.cost.quantiles[level]!).toBeGreaterThanOrEqual(before.cost.quantiles[level]! - near)
        }
      }),
      { numRuns: 60 },
    )
  })

  it('the order of jobs, operations and states changes nothing but the order of the answer', () => {
    fc.assert(
      fc.property(smallWork, (raw) => {
        const input = workOf(raw)
        const turned = {
          ...input,
          jobs: [...input.jobs].reverse(),
          operations: Object.fromEntries(Object.entries(input.operations).reverse()),
          fasteners: [...input.fasteners].reverse(),
          care: input.care && [...input.care].reverse(),
        }
        const one = estimate(input)
        const other = estimate(turned)
        expectClose(other.lines.reverse(), one.lines)
        expectClose(
          other.operations.reverse().map(({ key, chance }) => ({ key, chance })),
          one.operations.map(({ key, chance }) => ({ key, chance })),
        )
        expect(other.hours.mean).toBeCloseTo(one.hours.mean, 9)
        expect(other.cost.sd).toBeCloseTo(one.cost.sd, 4)
        for (const level of input.quantiles.map(String)) {
          const near = 1e-4 * one.cost.sd + 1e-6
          expect(Math.abs(other.cost.quantiles[level]! - one.cost.quantiles[level]!)).toBeLessThanOrEqual(
            near,
          )
        }
      }),
      { numRuns: 60 },
    )
  })

  it('other names change nothing but the names', () => {
    fc.assert(
      fc.property(smallWork, (raw) => {
        const renamed = JSON.parse(
          JSON.stringify(raw).replaceAll('op ', 'step ').replaceAll('job ', 'task '),
        ) as typeof raw
        const one = estimate(workOf(raw))
        const other = estimate(workOf(renamed))
        expect(other.cost).toEqual(one.cost)
        expect(other.lines.map(({ key }) => key.replace('task', 'job'))).toEqual(
          one.lines.map(({ key }) => key),
        )
      }),
      { numRuns: 40 },
    )
  })
})

function expectClose<T extends object>(found: T[], expected: T[]): void {
  expect(found).toEqual(
    expected.map((entry) =>
      Object.fromEntries(
        Object.entries(entry).map(([key, value]) => [
          key,
          typeof value === 'number' ? expect.closeTo(value, 5) : value,
        ]),
      ),
    ),
  )
}
