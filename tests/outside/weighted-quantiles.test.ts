import { mean, quantile, variance } from 'd3-array'
import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { effectiveSize, weightedQuantile } from '../../lib/core/deal/comparables-quantile'

/*
 * Weighted quantiles and Kish's effective size. Reference library: d3-array (`quantile`: Hyndman & Fan 1996,
 * definition 7; `mean`, `variance`). That whole-number weights count repeated values, once the sum of the weights
 * is taken for the size, is also promised of `weighted_quantile(n = "sum")` in the manual of the R package ggdist,
 * read. Worked examples: the manuals of the R packages cwhmisc (`w.median`, answers printed there) and limma
 * (`weighted.median`: the marks from Siegel 1994, "the median of the discrete distribution"), both read.
 */

const levels = [0, 0.1, 0.25, 0.5, 0.75, 0.9, 1]
const value = fc.integer({ min: -500, max: 5000 })

describe('weighted quantiles against d3-array', () => {
  it('with equal weights they are those of the plain values', () => {
    fc.assert(
      fc.property(
        fc.array(value, { minLength: 1, maxLength: 30 }),
        fc.double({ min: 0.01, max: 50, noNaN: true }),
        (values, weight) => {
          const points = values.map((value) => ({ value, weight }))
          for (const level of levels)
            expect(weightedQuantile(points, { level })).toBeCloseTo(quantile(values, level)!, 6)
        },
      ),
    )
  })

  it('with whole-number weights that count values they are those of the values repeated', () => {
    const counted = fc.record({ value, weight: fc.integer({ min: 0, max: 9 }) })
    fc.assert(
      fc.property(
        fc.array(counted, { minLength: 1, maxLength: 20 }).filter((all) => all.some((one) => one.weight > 0)),
        (points) => {
          const repeated = points.flatMap(({ value, weight }) => Array<number>(weight).fill(value))
          for (const level of levels) {
            const ours = weightedQuantile(points, { level, size: repeated.length })
            expect(ours).toBeCloseTo(quantile(repeated, level)!, 6)
          }
        },
      ),
    )
  })

  it('values of one weight that are written down apart or together come to the same, each at its size', () => {
    const points = [
      { value: 10, weight: 2 },
      { value: 30, weight: 1 },
      { value: 20, weight: 3 },
    ]
    const apart = [10, 10, 20, 20, 20, 30]
    for (const level of levels)
      expect(weightedQuantile(points, { level, size: 6 })).toBeCloseTo(quantile(apart, level)!, 12)
  })
})

describe('published weighted medians', () => {
  test.each<[string, number[], number[], number]>([
    ['cwhmisc, 7 of thirds and ones', [7, 1, 2, 4, 10], [1, 1 / 3, 1 / 3, 1 / 3, 1], 7],
    ['cwhmisc, the plain five', [7, 1, 2, 4, 10], [1, 1, 1, 1, 1], 4],
    // Cumulated 1, 6, 10 and 15 of 15: half of it, 7.5, is reached at 3.5.
    ['limma, marks by their hours', [3.7, 3.3, 3.5, 2.8], [5, 5, 4, 1], 3.5],
  ])('%s', (_source, values, weights, median) => {
    const points = values.map((value, at) => ({ value, weight: weights[at]! }))
    // Their definition has no window: at a very large size ours has none either.
    expect(weightedQuantile(points, { level: 0.5, size: 1e9 })).toBeCloseTo(median, 6)
  })

  it('values of weight 0 are not there: weights 1, 0, 1, 0 give the middle of the two (Akinshin, 2020)', () => {
    const points = [3, 5, 11, 40].map((value, at) => ({ value, weight: at % 2 === 0 ? 1 : 0 }))
    expect(weightedQuantile(points, { level: 0.5 })).toBeCloseTo(7, 12)
  })
})

describe('Kish’s effective size', () => {
  it('is n/(1 + cv²) of the weights, as his design effect of 1992 has it', () => {
    const weights = fc.array(fc.double({ min: 0.001, max: 1000, noNaN: true }), {
      minLength: 2,
      maxLength: 40,
    })
    fc.assert(
      fc.property(weights, (given) => {
        const n = given.length
        // d3's variance has n − 1 below; Kish's has n.
        const cvSquared = (variance(given)! * (n - 1)) / n / mean(given)! ** 2
        expect(effectiveSize(given)).toBeCloseTo(n / (1 + cvSquared), 6)
      }),
    )
  })

  test.each([
    ['equal weights: as many as there are', [0.3, 0.3, 0.3, 0.3, 0.3], 5],
    ['one alone', [7], 1],
    ['(1 + 2 + 3)²/(1 + 4 + 9)', [1, 2, 3], 36 / 14],
    ['weights too small to be squared', [1e-200, 1e-200], 2],
    ['none', [], 0],
  ])('%s', (_what, weights, size) => expect(effectiveSize(weights)).toBeCloseTo(size, 12))
})
