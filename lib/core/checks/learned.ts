import { careStates } from './catalogue'
import { type CareChance, type CareChances, meanChance, timesOdds } from './chance'

/** Of so many bikes looked at as a matter of routine, so many had the fault. */
export type Counted = { found: number; looked: number }

/**
 * Mean of a beta distribution after a count: with prior mean q, 0 to 1, that weighs as much as n₀ > 0 bikes, i.e.
 * Beta(q·n₀, (1 − q)·n₀), it is (q·n₀ + found)/(n₀ + looked). Always between q and found/looked. Gelman et al.,
 * Bayesian Data Analysis, section 2.4.
 */
export function posteriorMean({
  mean,
  weight,
  found,
  looked,
}: { mean: number; weight: number } & Counted): number {
  return (mean * weight + found) / (weight + looked)
}

/** Odds factors looked for lie between e^-40 and e^40: far beyond any that a count could ask for. */
const furthest = 40

/**
 * The one factor k on the odds of all care states at which their mean, weighed by `care`, is `mean`. The states
 * keep their ratios of odds. The mean grows with k, so halving a bracket of ln k finds it to the last bit; where a
 * state of chance 0 or 1 keeps it out of reach the answer is the end of the bracket.
 */
export function oddsFactorTo({
  chance,
  care,
  mean,
}: {
  chance: CareChance
  care: CareChances
  mean: number
}): number {
  let low = -furthest
  let high = furthest
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2
    if (meanChance(timesOdds(chance, Math.exp(middle)), care) < mean) low = middle
    else high = middle
  }
  return Math.exp((low + high) / 2)
}

/**
 * What a count makes of the starting chance of a fault: the posterior mean, all care states taken together, and
 * the factor on the odds that leads there. A factor of 1 where nothing can be learned, because the chance is 0 or
 * 1 in every state.
 */
export function learnedFrom(asked: {
  chance: CareChance
  care: CareChances
  priorBikes: number
  counted: Counted
}): { before: number; after: number; factor: number } {
  const { chance, care, priorBikes, counted } = asked
  const before = meanChance(chance, care)
  const each = typeof chance === 'number' ? [chance] : careStates.map((state) => chance[state])
  if (each.every((q) => q <= 0 || q >= 1)) return { before, after: before, factor: 1 }
  const after = posteriorMean({ mean: before, weight: priorBikes, ...counted })
  return { before, after, factor: oddsFactorTo({ chance, care, mean: after }) }
}
