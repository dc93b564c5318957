import { describe, expect, it } from 'vitest'
import { crpsOf } from '../../lib/core/work/learned-hours'

/*
 * The continuous ranked probability score against its closed forms, as A. Jordan, F. Krüger and S. Lerch print them
 * (Evaluating probabilistic forecasts with scoringRules, Journal of Statistical Software 90(12), 2019, appendix A), from
 * memory:
 * - uniform on [0, 1], y inside:   y² − y + 1/3
 * - exponential of rate 1, y ≥ 0:  y − 2(1 − e^−y) + 1/2
 * - logistic of mean 0 and scale 1:  y − 2 log F(y) − 1
 */

const levels = Array.from({ length: 20_000 }, (_, at) => (at + 0.5) / 20_000)

describe('the score against its closed forms', () => {
  it.each([0, 0.1, 0.5, 0.93, 1])('of a uniform spread, where %f came', (y) => {
    expect(crpsOf(levels, y)).toBeCloseTo(y * y - y + 1 / 3, 6)
  })

  it.each([0, 0.3, 1, 2.7])('of an exponential spread, where %f came', (y) => {
    const quantiles = levels.map((level) => -Math.log(1 - level))
    expect(crpsOf(quantiles, y)).toBeCloseTo(y - 2 * (1 - Math.exp(-y)) + 0.5, 3)
  })

  it('of a logistic spread, where its middle came', () => {
    const quantiles = levels.map((level) => Math.log(level / (1 - level)))
    expect(crpsOf(quantiles, 0)).toBeCloseTo(2 * Math.log(2) - 1, 3)
  })
})
