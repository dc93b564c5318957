import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { cdf, quantile, type SpreadSource, spreadFrom } from '../../lib/core/quantity/spread'
import { cdfOf, meanOf, sdOf, varianceOf } from '../../lib/core/quantity/three-point'
import {
  complexes,
  dampingAt,
  type Frequencies,
  timesAboveLow,
  timesFixed,
} from '../../lib/core/quantity/transform'
import { estimate } from '../../lib/core/work/estimate'
import { chanceFrom } from '../../lib/desk/bench/chance'
import { draw, drawnQuantile, simulatedSorted } from '../../lib/desk/bench/plain-simulation'
import { listed } from '../../lib/desk/bench/truth'
import { everyOutcome, momentsOfOutcome } from '../support/plain-reckoning'
import { plainWork, smallWork, workOf } from '../support/works'

describe('three points', () => {
  it('5, 8, 14 have the mean 8.5 of the published PERT example, and √2.75 where its rule of thumb says 1.5', () => {
    // Published PERT example, read; the deviation follows from the variance of the beta distribution.
    const value = { low: 5, likely: 8, high: 14 }
    expect(meanOf(value)).toBe(8.5)
    expect(sdOf(value)).toBeCloseTo(Math.sqrt(2.75), 12)
    expect(sdOf(value)).toBeCloseTo(1.6583, 4)
  })

  // For any variable on [a, b] with the distribution function F: mean b − ∫ F dx, variance ∫ 2(b − x)F dx − (∫ F dx)².
  const byIntegration = (below: (x: number) => number, { low, high }: { low: number; high: number }) => {
    const steps = 4_000
    const step = (high - low) / steps
    let first = 0
    let second = 0
    for (let i = 0; i < steps; i++) {
      const x = low + step * (i + 0.5)
      first += below(x) * step
      second += 2 * (high - x) * below(x) * step
    }
    return { mean: high - first, variance: second - first ** 2 }
  }

  it('the reference itself: a triangle on 4 to 12 with its top at 5 has the mean 7 and the variance 19/6', () => {
    // Documentation of stdlib, read.
    const below = (x: number) => (x < 5 ? (x - 4) ** 2 / 8 : 1 - (12 - x) ** 2 / 56)
    const { mean, variance } = byIntegration(below, { low: 4, high: 12 })
    expect(mean).toBeCloseTo(7, 5)
    expect(variance).toBeCloseTo(19 / 6, 5)
  })

  test.each([
    [0, 0, 1],
    [0, 0.25, 1],
    [0, 0.5, 1],
    [0, 0.9, 1],
    [3, 4, 12],
    [5, 8, 14],
  ])(
    '(a + 4m + b)/6 and (μ − a)(b − μ)/7 are mean and variance of the beta variable on %d, %d, %d, by its cdf',
    (low, likely, high) => {
      // Both from memory; they follow from the moments of the beta distribution.
      const value = { low, likely, high }
      const { mean, variance } = byIntegration((x) => cdfOf(value, x), value)
      expect(mean).toBeCloseTo(meanOf(value), 5)
      expect(variance).toBeCloseTo(varianceOf(value), 5)
    },
  )
})

describe('sums of uniform variables (Irwin–Hall, exact values computed)', () => {
  test.each([
    [2, 0.5, 1 / 8],
    [2, 1, 1 / 2],
    [3, 1, 1 / 6],
    [3, 2, 5 / 6],
    [4, 2.5, 307 / 384],
  ])('the convolution of %d of them lies below %d with the exact probability', (count, x, expected) => {
    const spread = spreadFrom(sumOfUniforms(count))
    expect(Math.abs(cdf(spread, x) - expected)).toBeLessThan(2e-4)
    expect(Math.abs(quantile(spread, expected) - x)).toBeLessThan(0.0025 * count)
  })

  /** E[e^(−sU)] = (1 − e^(−s))/s on [0, 1]; the product of transforms is the transform of the sum. */
  function sumOfUniforms(count: number): SpreadSource {
    const one = (re: number, im: number) => {
      const size = Math.exp(-re)
      const top = { re: 1 - size * Math.cos(im), im: size * Math.sin(im) }
      const by = re * re + im * im
      return { re: (top.re * re + top.im * im) / by, im: (top.im * re - top.re * im) / by }
    }
    const transform = (at: Frequencies) => {
      const sum = complexes(at.count)
      for (let k = 0; k < at.count; k++) {
        let value = { re: 1, im: 0 }
        const factor = one(dampingAt(at, k), at.step * (at.first + k))
        for (let n = 0; n < count; n++) {
          value = {
            re: value.re * factor.re - value.im * factor.im,
            im: value.re * factor.im + value.im * factor.re,
          }
        }
        sum.re[k] = value.re
        sum.im[k] = value.im
      }
      timesFixed({ of: sum, start: 0 }, -at.origin, at)
      return sum
    }
    const envelope = (at: Frequencies) => {
      const { re, im } = transform({ ...at, count: 1 })
      return Math.hypot(re[0]!, im[0]!)
    }
    const sd = Math.sqrt(count / 12)
    return { transform, envelope, atoms: [], min: 0, max: count, mean: count / 2, sd, reach: 0.9 }
  }
})

test.each([
  [{ low: 0, likely: 0.5, high: 1 }, 0.3],
  [{ low: 0, likely: 0.5, high: 1 }, 26],
  [{ low: 0, likely: 0, high: 1 }, 12],
  [{ low: 0, likely: 0, high: 1 }, 60],
  [{ low: 0, likely: 0.83, high: 1 }, 19.9],
  [{ low: 0, likely: 0.83, high: 1 }, 20.1],
  [{ low: 0, likely: 0.83, high: 1 }, 200],
])('the transform of the beta variable %j at frequency %d is that of its density', (value, frequency) => {
  // Definition of the transform, integrated over the density by parts: E[e^(−tB)] = e^(−t) + t ∫ e^(−tx) F dx.
  const damping = 0.7
  // One frequency by itself, and the first of two that lie close together, which are read off a table.
  const rows = [
    { step: frequency, first: 1, count: 1 },
    { step: frequency / 400, first: 400, count: 2 },
  ].map((at) => {
    const row = complexes(at.count)
    row.re.fill(1)
    timesAboveLow({ of: row, start: 0 }, { value, scale: 1 }, { origin: 0, damping, ...at })
    return row
  })
  const steps = 2_000 + 200 * frequency
  let re = 0
  let im = 0
  for (let i = 0; i < steps; i++) {
    const x = (i + 0.5) / steps
    const size = Math.exp(-damping * x) * cdfOf(value, x) * (1 / steps)
    re += size * Math.cos(frequency * x)
    im -= size * Math.sin(frequency * x)
  }
  const end = Math.exp(-damping)
  for (const row of rows) {
    expect(row.re[0]).toBeCloseTo(end * Math.cos(frequency) + damping * re - frequency * im, 5)
    expect(row.im[0]).toBeCloseTo(-end * Math.sin(frequency) + damping * im + frequency * re, 5)
  }
})

describe('against the list of all outcomes', () => {
  it('means, deviations, chances of operations, lines and saved hours are exact', () => {
    fc.assert(
      fc.property(smallWork, (raw) => {
        const input = workOf(raw)
        const result = estimate(input)
        const outcomes = everyOutcome(input).map((outcome) => ({
          ...outcome,
          ...momentsOfOutcome(input, outcome),
        }))
        const mean = (of: (outcome: (typeof outcomes)[number]) => number) =>
          outcomes.reduce((sum, outcome) => sum + outcome.chance * of(outcome), 0)
        const close = (value: number, expected: number, scale = 1) =>
          expect(Math.abs(value - expected)).toBeLessThanOrEqual(1e-6 * Math.abs(expected) + 1e-9 * scale)

        for (const kind of ['hours', 'cost'] as const) {
          const expected = mean((outcome) => outcome[kind])
          close(result[kind].mean, expected)
          const variance = mean((outcome) => outcome[`${kind}Variance`] + (outcome[kind] - expected) ** 2)
          close(result[kind].sd, Math.sqrt(variance), 1e3)
        }
        for (const { key, chance } of result.operations) {
          close(
            chance,
            mean(({ operations }) => (operations.has(key) ? 1 : 0)),
          )
        }
        const meanFactor = input.fasteners.reduce((sum, { chance, factor }) => sum + chance * factor, 0)
        const hoursOf = (key: string) => {
          const { hours, fasteners } = input.operations[key]!
          return meanOf(hours) * (fasteners ? meanFactor : 1)
        }
        const needs = new Map(result.operations.map(({ key, sharedBy }) => [key, sharedBy]))
        for (const line of result.lines) {
          close(
            line.chance,
            mean(({ jobs }) => (jobs.includes(line.key) ? 1 : 0)),
          )
          const job = input.jobs.find(({ key }) => key === line.key)!
          const own = meanOf(job.hours) * (job.fasteners ? meanFactor : 1)
          close(
            line.hoursMean,
            mean(({ jobs, operations }) => {
              if (!jobs.includes(line.key)) return 0
              let hours = own
              for (const operation of operations) {
                const bearing = needs.get(operation)!.filter((key) => jobs.includes(key))
                if (bearing.includes(line.key)) hours += hoursOf(operation) / bearing.length
              }
              return hours
            }),
          )
        }
        close(
          result.hoursSavedBySharing.mean,
          mean(({ jobs }) =>
            result.operations.reduce((sum, { key, sharedBy }) => {
              const times = sharedBy.filter((job) => jobs.includes(job)).length
              return sum + hoursOf(key) * Math.max(0, times - 1)
            }, 0),
          ),
        )
      }),
    )
  })

  it('with plain values every quantile is one of the outcomes, the smallest that reaches its level', () => {
    const levels = [0.01, 0.1, 0.25, 0.5, 0.75, 0.9, 0.99]
    fc.assert(
      fc.property(plainWork, (raw) => {
        const input = workOf({ ...raw, quantiles: levels })
        const result = estimate(input)
        const costs = everyOutcome(input)
          .map((outcome) => ({ chance: outcome.chance, cost: momentsOfOutcome(input, outcome).cost }))
          .sort((a, b) => a.cost - b.cost)
        for (const level of levels) {
          const upTo = (cost: number) =>
            costs.reduce((sum, outcome) => (outcome.cost <= cost + 1e-7 ? sum + outcome.chance : sum), 0)
          const expected = costs.find(({ cost }) => upTo(cost) >= level - 1e-9)!.cost
          expect(result.cost.quantiles[String(level)]).toBeCloseTo(expected, 4)
        }
      }),
    )
  })
})

describe('against every outcome listed, convolved on a grid', () => {
  it('each quantile reaches its level, and none does that lies 0.25 % of the range below', () => {
    // None that the chances of these works, whole hundredths, add up to: where nothing lies just above a level it has
    // no one place, and a millionth decides.
    const levels = [0.0113, 0.0537, 0.1171, 0.2613, 0.5173, 0.7391, 0.8937, 0.9519, 0.9887]
    fc.assert(
      fc.property(smallWork, (raw) => {
        const input = workOf({ ...raw, quantiles: levels })
        const result = estimate(input)
        for (const kind of ['hours', 'cost'] as const) {
          // A single value, which a grid can only smear.
          if (result[kind].sd === 0) {
            for (const level of levels) expect(result[kind].quantiles[String(level)]).toBe(result[kind].mean)
            continue
          }
          const { upTo, quantile, step } = listed(input, kind, 2 ** 11)
          const near = 0.0025 * (quantile(0.9995) - quantile(0.0005)) + 2 * step
          for (const level of levels) {
            const found = result[kind].quantiles[String(level)]!
            // A millionth for what cannot be told from the level by either.
            expect(upTo(found + near)).toBeGreaterThanOrEqual(level - 1e-6)
            expect(upTo(found - near)).toBeLessThanOrEqual(level + 1e-6)
          }
        }
      }),
      { numRuns: 40, endOnFailure: true },
    )
  })
})

describe('against a plain simulation with a fixed seed', () => {
  const draws = 20_000
  /** Five standard errors of a share of the draws. */
  const error = (level: number) => 5 * Math.sqrt((level * (1 - level)) / draws)

  it('draws three points with their mean, deviation and tails', () => {
    const random = chanceFrom(3)
    const value = { low: 2, likely: 3, high: 12 }
    const drawn = Float64Array.from({ length: draws }, () => draw(value, random)).sort()
    const mean = drawn.reduce((sum, one) => sum + one / draws, 0)
    expect(Math.abs(mean - meanOf(value))).toBeLessThan((5 * sdOf(value)) / Math.sqrt(draws))
    for (const level of [0.01, 0.1, 0.5, 0.9, 0.99]) {
      expect(Math.abs(cdfOf(value, drawnQuantile(drawn, level)) - level)).toBeLessThan(error(level))
    }
  })

  it('each quantile lies where the draws put it, within the error of the draws and 0.25 % of the range', () => {
    const levels = [0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.99]
    let seed = 0
    fc.assert(
      fc.property(smallWork, (raw) => {
        seed += 1
        const input = workOf({ ...raw, quantiles: levels })
        const result = estimate(input)
        const drawn = simulatedSorted(input, { draws, seed })
        for (const kind of ['hours', 'cost'] as const) {
          const at = (level: number) => drawnQuantile(drawn[kind], level)
          const near = 0.0025 * (at(0.9995) - at(0.0005)) + 1e-6
          for (const level of levels) {
            const found = result[kind].quantiles[String(level)]!
            expect(found).toBeGreaterThanOrEqual(at(level - error(level)) - near)
            expect(found).toBeLessThanOrEqual(at(level + error(level)) + near)
          }
        }
      }),
      { numRuns: 15, seed: 20250301 },
    )
  })
})
