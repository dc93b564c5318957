import { describe, expect, it } from 'vitest'
import { reweighed } from '../../lib/core/checks/care-signs'
import { afterCleanAnswer, timesOdds } from '../../lib/core/checks/chance'
import { posteriorMean } from '../../lib/core/checks/learned'

/*
 * Gelman, Carlin, Stern, Dunson, Vehtari & Rubin, Bayesian Data Analysis, section 2.4 (third edition): of 980
 * births with placenta previa 437 were girls. With a uniform prior the posterior is Beta(438, 544), mean 0.446;
 * table 2.1 gives medians for Beta priors of mean 0.485 that weigh as much as so many births. The figures here are
 * from memory. A median and a mean of so many births differ by less than the last digit that is printed.
 */
describe('girls among births with placenta previa', () => {
  const births = { found: 437, looked: 980 }

  it('with a uniform prior, which weighs as much as two births, have the mean 438/982', () => {
    const mean = posteriorMean({ mean: 0.5, weight: 2, ...births })
    expect(mean).toBeCloseTo(438 / 982, 12)
    expect(mean.toFixed(3)).toBe('0.446')
  })

  it.each([
    [2, '0.446'],
    [5, '0.446'],
    [10, '0.446'],
    [20, '0.447'],
    [100, '0.450'],
    [200, '0.453'],
  ])('with a prior of mean 0.485 that weighs as much as %i births are %s', (weight, printed) => {
    expect(posteriorMean({ mean: 0.485, weight, ...births }).toFixed(3)).toBe(printed)
  })
})

/*
 * Eddy, "Probabilistic reasoning in clinical medicine", 1982: 1 % of women have the illness, the picture shows it
 * in 80 % of those and in 9.6 % of the others; of those whose picture shows it 7.8 % have it. From memory; 7.76 %
 * is what the three figures give.
 */
describe('the picture that shows an illness', () => {
  it('leaves 7.8 %, by weights as by odds', () => {
    const before = { kept: 0.99, average: 0, neglected: 0.01 }
    const after = reweighed(before, [{ likelihood: { kept: 0.096, average: 0, neglected: 0.8 } }])
    expect((after.neglected * 100).toFixed(1)).toBe('7.8')
    expect(timesOdds(0.01, 0.8 / 0.096)).toBeCloseTo(after.neglected, 12)
  })

  it('that shows nothing leaves what a test without false alarms would, where it has none', () => {
    const before = { kept: 0.99, average: 0, neglected: 0.01 }
    const after = reweighed(before, [{ likelihood: { kept: 1, average: 0, neglected: 0.2 } }])
    expect(after.neglected).toBeCloseTo(afterCleanAnswer(0.01, 0.8) as number, 12)
  })
})
