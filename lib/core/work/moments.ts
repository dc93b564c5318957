import { gaussLegendre } from '../quantity/quadrature'
import { type Kinds, meansOf, type Unit, variancesOf, type Work } from './work'

export interface Moments {
  hours: { mean: number; sd: number }
  cost: { mean: number; sd: number }
}

/**
 * Exact means and standard deviations. Given the states of care and fasteners a total is a sum of units that are on
 * or off; the chances that two of them are off together are products over the choices, so no outcome is listed.
 * Between the states: variance = mean of the variances + variance of the means.
 */
export function momentsOf(work: Work, labourRate: number): Moments {
  const units = [...work.operations, ...work.jobs]
  const byCare = work.chances.map((chances) => sumsOf(units, { chances, work }))
  return {
    hours: combine(work, byCare, (factor) => [factor, 1, 0]),
    cost: combine(work, byCare, (factor) => [factor * labourRate, labourRate, 1]),
  }
}

interface Sums {
  mean: Kinds<number>
  covariance: Kinds<Kinds<number>>
}

function combine(work: Work, byCare: readonly Sums[], weigh: (factor: number) => Kinds<number>) {
  const states = work.fasteners.flatMap(({ chance, factor }) =>
    byCare.map(({ mean, covariance }, care) => {
      const weight = weigh(factor)
      let variance = 0
      for (const i of [0, 1, 2] as const) {
        for (const j of [0, 1, 2] as const) variance += weight[i] * weight[j] * covariance[i][j]
      }
      return {
        chance: chance * work.care[care]!,
        mean: weight[0] * mean[0] + weight[1] * mean[1] + weight[2] * mean[2],
        variance,
      }
    }),
  )
  const mean = states.reduce((sum, state) => sum + state.chance * state.mean, 0)
  const variance = states.reduce(
    (sum, state) => sum + state.chance * (state.variance + (state.mean - mean) ** 2),
    0,
  )
  return { mean, sd: Math.sqrt(Math.max(0, variance)) }
}

function sumsOf(units: readonly Unit[], { chances, work }: { chances: readonly number[]; work: Work }): Sums {
  const on = units.map((unit) => ({
    means: meansOf(unit),
    variances: variancesOf(unit),
    ...triggerOf(unit.jobs, { chances, work }),
  }))
  const mean: Kinds<number> = [0, 0, 0]
  const covariance: Kinds<Kinds<number>> = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ]
  const add = (first: Kinds<number>, second: Kinds<number>, times: number) => {
    for (const i of [0, 1, 2] as const) {
      for (const j of [0, 1, 2] as const) covariance[i][j] += times * first[i] * second[j]
    }
  }
  const uncertain = on.filter((unit) => unit.chance > 0 && unit.off > 0)
  for (const unit of on) {
    for (const i of [0, 1, 2] as const) {
      mean[i] += unit.chance * unit.means[i]
      covariance[i][i] += unit.chance * unit.variances[i]
    }
    add(unit.means, unit.means, unit.chance * unit.off)
  }
  uncertain.forEach((first, place) => {
    for (let next = place + 1; next < uncertain.length; next++) {
      const second = uncertain[next]!
      const together = covarianceOf(first, second)
      if (together === 0) continue
      add(first.means, second.means, together)
      add(second.means, first.means, together)
    }
  })
  return { mean, covariance }
}

/** How a unit comes about: by choice, the jobs of it that would and their chance together. */
interface Trigger {
  /** That it is done, and that it is not. */
  chance: number
  off: number
  choices: ReadonlyMap<number, { jobs: readonly number[]; chance: number }>
  jobChances: readonly number[]
}

function triggerOf(
  jobs: readonly number[],
  { chances, work }: { chances: readonly number[]; work: Work },
): Trigger {
  const wanted = new Set(jobs)
  const choices = new Map<number, { jobs: readonly number[]; chance: number }>()
  work.choices.forEach((choice, place) => {
    const here = choice.jobs.filter((job) => wanted.has(job))
    const chance = Math.min(
      1,
      here.reduce((sum, job) => sum + chances[job]!, 0),
    )
    if (chance > 0) choices.set(place, { jobs: here, chance })
  })
  return { ...chanceOfAny([...choices.values()].map(({ chance }) => chance)), choices, jobChances: chances }
}

/** The chance that any of independent things happens; small chances keep all their digits. */
function chanceOfAny(chances: readonly number[]): { chance: number; off: number } {
  if (chances.length === 1) return { chance: chances[0]!, off: 1 - chances[0]! }
  let log = 0
  for (const chance of chances) log += Math.log1p(-chance)
  return { chance: -Math.expm1(log), off: Math.exp(log) }
}

/**
 * Covariance of two units being on, which is that of their being off:
 * P(both off) − P(one off)·P(other off) = P·P·(Π r − 1), with r the ratio for each choice that both hang on.
 */
function covarianceOf(first: Trigger, second: Trigger): number {
  let ratio = 1
  for (const [place, one] of first.choices) {
    const other = second.choices.get(place)
    if (!other) continue
    const both = new Set([...one.jobs, ...other.jobs])
    let chance = 0
    for (const job of both) chance += first.jobChances[job]!
    ratio *= Math.max(0, 1 - chance) / ((1 - one.chance) * (1 - other.chance))
  }
  return first.off * second.off * (ratio - 1)
}

export interface Shares {
  /** By operation: the chance that it is done. */
  operationChances: number[]
  lines: { chance: number; hoursMean: number; costMean: number }[]
  hoursSaved: number
}

/**
 * What each job adds in expectation, a shared operation split evenly in each outcome among the jobs that happen and
 * need it. With M other such jobs the share is 1/(1 + M), and E[1/(1 + M)] = ∫₀¹ E[tᴹ] dt, where E[tᴹ] is a product
 * over the choices: a polynomial in t, which Gauss–Legendre nodes integrate exactly.
 */
export function sharesOf(work: Work, labourRate: number): Shares {
  const meanFactor = work.fasteners.reduce((sum, { chance, factor }) => sum + chance * factor, 0)
  const hoursOf = (unit: Unit) => {
    const [fastened, other] = meansOf(unit)
    return fastened * meanFactor + other
  }
  const overCare = (value: (chances: readonly number[]) => number) =>
    work.chances.reduce((sum, chances, care) => sum + work.care[care]! * value(chances), 0)

  const jobChances = work.jobs.map((_, job) => overCare((chances) => chances[job]!))
  const hours = work.jobs.map((unit, job) => jobChances[job]! * hoursOf(unit))
  let hoursSaved = 0
  const operationChances = work.operations.map((operation) => {
    const shares = operation.jobs.map(() => 0)
    const chance = overCare((chances) => triggerOf(operation.jobs, { chances, work }).chance)
    work.chances.forEach((chances, care) => {
      sharesOfOne(operation.jobs, { chances, work }).forEach((share, place) => {
        shares[place]! += work.care[care]! * share
      })
    })
    const once = hoursOf(operation)
    operation.jobs.forEach((job, place) => {
      hours[job]! += shares[place]! * once
    })
    if (operation.jobs.length > 1) {
      const alone = operation.jobs.reduce((sum, job) => sum + jobChances[job]!, 0)
      hoursSaved += once * Math.max(0, alone - chance)
    }
    return chance
  })
  return {
    operationChances,
    hoursSaved,
    lines: work.jobs.map((unit, job) => ({
      chance: jobChances[job]!,
      hoursMean: hours[job]!,
      costMean: labourRate * hours[job]! + jobChances[job]! * meansOf(unit)[2],
    })),
  }
}

/** For each of the jobs that need an operation: the expected part of it that it bears. */
function sharesOfOne(
  jobs: readonly number[],
  { chances, work }: { chances: readonly number[]; work: Work },
): number[] {
  if (jobs.length === 1) return [chances[jobs[0]!]!]
  const { choices } = triggerOf(jobs, { chances, work })
  const shares = new Map(jobs.map((job) => [job, 0]))
  for (const { at, weight } of gaussLegendre(Math.floor(choices.size / 2) + 1)) {
    let product = 1
    for (const { chance } of choices.values()) product *= 1 - chance + chance * at
    for (const choice of choices.values()) {
      const others = product / (1 - choice.chance + choice.chance * at)
      for (const job of choice.jobs) shares.set(job, shares.get(job)! + weight * others * chances[job]!)
    }
  }
  return [...shares.values()]
}
