import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Job, Operation } from '../../lib/core/checks/catalogue'
import { besideEstimate, crpsOf, hoursFactor, withLearnedHours } from '../../lib/core/work/learned-hours'

const source = { kind: 'starting value', says: 'invented for a test' } as const
const jobs: Job[] = [
  { key: 'boots', title: 'Boots', operations: ['carbs'], hours: 1, parts: [], source },
  {
    key: 'seal',
    title: 'Seal',
    operations: ['tank'],
    hours: { low: 1, likely: 2, high: 3 },
    parts: [],
    source,
  },
]
const operations: Operation[] = [
  { key: 'tank', title: 'Tank off', hours: 0.5 },
  { key: 'carbs', title: 'Carburettors off', hours: 1, needs: ['tank'] },
]
const free = [{ name: 'free', chance: 1, factor: 1 }]
const beside = (...done: { bike: string; job: string; hours: number }[]) =>
  besideEstimate({
    done: done.map((one) => ({ ...one, endedOn: '2026-11-20' })),
    catalogue: { jobs, operations },
    fasteners: free,
  })

describe('a job that was done', () => {
  it('is expected to take its own hours and the steps that nobody had opened before', () => {
    const done = beside(
      { bike: 'a', job: 'boots', hours: 3 },
      { bike: 'a', job: 'seal', hours: 2 },
      { bike: 'b', job: 'seal', hours: 2 },
    )
    expect(done.map(({ expected }) => expected)).toEqual([2.5, 2, 2.5])
  })

  it('is inside its range where eight of ten are', () => {
    const [inside, outside] = beside(
      { bike: 'a', job: 'seal', hours: 2.6 },
      { bike: 'b', job: 'seal', hours: 3.4 },
    )
    expect(inside).toMatchObject({ isInside: true })
    expect(outside).toMatchObject({ isInside: false })
    expect(outside!.crps).toBeGreaterThan(inside!.crps)
  })

  it('is left out where no time was noted or the catalogue knows it no more', () => {
    expect(beside({ bike: 'a', job: 'boots', hours: 0 }, { bike: 'a', job: 'gone', hours: 2 })).toEqual([])
  })
})

describe('the score of a spread', () => {
  it('of a certain value is how far off it was', () => {
    expect(crpsOf([2, 2, 2, 2], 3.5)).toBeCloseTo(1.5, 12)
    expect(crpsOf([2, 2, 2, 2], 2)).toBe(0)
  })

  it('is best where what came is the middle', () => {
    const quantiles = Array.from({ length: 50 }, (_, at) => (at + 0.5) / 50)
    for (const came of [0, 0.2, 0.8, 1.4])
      expect(crpsOf(quantiles, came)).toBeGreaterThan(crpsOf(quantiles, 0.5))
  })
})

describe('the factor on hours', () => {
  it('is 1 without any, and half the way in logarithms at as many jobs as it weighs beforehand', () => {
    expect(hoursFactor({ ratios: [], priorJobs: 4 })).toBe(1)
    expect(hoursFactor({ ratios: [4, 4, 4, 4], priorJobs: 4 })).toBeCloseTo(2, 12)
  })

  it('lies between 1 and the mean of what was seen, and nearer to it with more of the same', () => {
    const ratios = fc.array(fc.double({ min: 0.2, max: 5, noNaN: true }), { minLength: 1, maxLength: 9 })
    fc.assert(
      fc.property(ratios, fc.double({ min: 0.5, max: 50, noNaN: true }), (seen, priorJobs) => {
        const mean = Math.exp(seen.reduce((sum, one) => sum + Math.log(one), 0) / seen.length)
        const factor = hoursFactor({ ratios: seen, priorJobs })
        const [low, high] = [Math.min(1, mean), Math.max(1, mean)]
        expect(factor).toBeGreaterThanOrEqual(low - 1e-9)
        expect(factor).toBeLessThanOrEqual(high + 1e-9)
        const more = hoursFactor({ ratios: [...seen, ...seen], priorJobs })
        expect(Math.abs(Math.log(more / mean))).toBeLessThanOrEqual(Math.abs(Math.log(factor / mean)) + 1e-12)
      }),
    )
  })

  it('multiplies the own hours of its job alone', () => {
    const after = withLearnedHours({ jobs, operations }, { seal: { factor: 1.5 } })
    expect(after.jobs.map(({ hours }) => hours)).toEqual([1, { low: 1.5, likely: 3, high: 4.5 }])
    expect(after.operations).toBe(operations)
  })
})
