import type { Known, SpreadFamily } from '../quantity/spread'
import { highOf, isCertain, lowOf, type Uncertain } from '../quantity/three-point'
import { atomsOf, chanceOfNothing, extremesOf } from './outcome-atoms'
import { envelopeOf, transformsOf } from './outcome-transform'
import { isSure, type OutcomePart, type Outcomes, type Step } from './outcomes'
import type { Unit, Work } from './work'

/** An amount that a unit adds, in the measure that is asked for: hours, or minor units. */
export interface Amount {
  value: Uncertain
  scale: number
}

/** What a unit adds: amounts that stuck fasteners multiply, and others. */
export type Measure = (unit: Unit) => { fastened: readonly Amount[]; other: readonly Amount[] }

export function inHours({ hours, fastened }: Unit): ReturnType<Measure> {
  const amounts = [{ value: hours, scale: 1 }]
  return fastened ? { fastened: amounts, other: [] } : { fastened: [], other: amounts }
}

export function inMoney(labourRate: number): Measure {
  return ({ hours, fastened, money }) => {
    const labour = [{ value: hours, scale: labourRate }]
    const paid = money.map(({ amount, times }) => ({ value: amount, scale: times }))
    return fastened ? { fastened: labour, other: paid } : { fastened: [], other: [...labour, ...paid] }
  }
}

/** Amounts added together: the fixed ones in one number, the others one by one. */
export interface Sum {
  fixed: number
  low: number
  high: number
  uncertain: readonly Amount[]
}

export interface Sums {
  fastened: Sum
  other: Sum
}

/** How likely things are: chances of the states of care, and by state those of the jobs. */
export type Likelihood = Pick<Work, 'care' | 'chances'>

/** All outcomes with their amounts. */
export interface Measured {
  outcomes: Outcomes
  certain: Sums
  parts: readonly MeasuredPart[]
  /** States of the fasteners: a single one where they make no difference. */
  fasteners: readonly { chance: number; factor: number }[]
  /** What is asked for: the same outcomes, more or less likely. */
  likelihoods: readonly Likelihood[]
}

export interface MeasuredPart {
  part: OutcomePart
  /** By unit. */
  sums: readonly Sums[]
  /** The steps under each of the chances that differ on this part: many likelihoods and states of care have the same. */
  steps: readonly (readonly SettledStep[])[]
  /** By likelihood and state of care, which of them. */
  which: readonly (readonly number[])[]
}

/** A step with the chances put in. */
export interface SettledStep {
  links: Pick<Step, 'from' | 'to' | 'way'>
  states: number
  /** What each way multiplies by: `plain` and, for each job that it may take, `times` what it adds. */
  ways: readonly { plain: number; takes: readonly { times: number; product: number }[] }[]
}

/** The same outcomes under each of the likelihoods, as a family of spreads in one measure. */
export function familyOf(
  { work, outcomes, measure }: { work: Work; outcomes: Outcomes; measure: Measure },
  members: readonly { likelihood: Likelihood; mean: number; sd: number; reach: number }[],
): SpreadFamily {
  const certain = sumsOf(outcomes.certain, measure)
  const likelihoods = members.map(({ likelihood }) => likelihood)
  const parts = outcomes.parts.map((part) => {
    const sums = part.units.map((units) => sumsOf(units, measure))
    takeSureLows(part, { sums, certain, likelihoods })
    return { part, sums, ...stepsUnder(part, likelihoods) }
  })
  const slowed = [certain, ...parts.flatMap(({ sums }) => sums)].some(({ fastened }) => fastened.high > 0)
  const fasteners = slowed ? work.fasteners : [{ chance: 1, factor: 1 }]
  const measured = { outcomes, certain, parts, fasteners, likelihoods }
  return {
    members: members.map(({ likelihood, mean, sd, reach }): Known => {
      const atoms = atomsOf(measured, likelihood)
      return { mean, sd, reach, atoms, ...extremesOf(measured, likelihood) }
    }),
    transforms: (at, places) => transformsOf(measured, at, places),
    envelope: (at, place) => envelopeOf(measured, at, place),
  }
}

function stepsUnder(
  part: OutcomePart,
  likelihoods: readonly Likelihood[],
): Pick<MeasuredPart, 'steps' | 'which'> {
  const steps: (readonly SettledStep[])[] = []
  const placeOf = new Map<string, number>()
  const which = likelihoods.map((likelihood) =>
    likelihood.chances.map((ofJobs) => {
      const key = part.jobs.map((job) => ofJobs[job]!).join()
      const place = placeOf.get(key) ?? steps.push(part.steps.map((step) => settled(step, ofJobs))) - 1
      placeOf.set(key, place)
      return place
    }),
  )
  return { steps, which }
}

function settled(step: Step, chances: readonly number[]): SettledStep {
  const nothing = chanceOfNothing(step, chances)
  const ways = step.ways.map((way) => ({
    plain: way.nothing ? nothing : 0,
    takes: way.takes.flatMap(({ job, product }) =>
      chances[job]! > 0 ? [{ times: chances[job]!, product }] : [],
    ),
  }))
  return { links: step, states: step.states, ways }
}

/**
 * Where one job of a choice always happens, what each of them adds at the least is certain. It is counted there: a
 * part's transform is weighed against numbers near 1, and far from 0 it would come out as nothing beside them.
 */
function takeSureLows(
  part: OutcomePart,
  {
    sums,
    certain,
    likelihoods,
  }: { sums: readonly Sums[]; certain: Sums; likelihoods: readonly Likelihood[] },
): void {
  // The jobs' own units are the last ones.
  const unitOf = (job: number) => sums[sums.length - part.jobs.length + part.jobs.indexOf(job)]!
  for (const { choice } of part.steps) {
    if (!likelihoods.every(({ chances }) => isSure(choice, chances))) continue
    for (const kind of ['fastened', 'other'] as const) {
      const own = choice.jobs.map((job) => unitOf(job)[kind])
      const least = Math.min(...own.map(({ low }) => low))
      for (const sum of own) raise(sum, -least)
      raise(certain[kind], least)
    }
  }
}

function raise(sum: Sum, by: number): void {
  sum.low += by
  sum.high += by
}

function sumsOf(units: readonly Unit[], measure: Measure): Sums {
  const measures = units.map(measure)
  return {
    fastened: sumOf(measures.flatMap(({ fastened }) => fastened)),
    other: sumOf(measures.flatMap(({ other }) => other)),
  }
}

function sumOf(amounts: readonly Amount[]): Sum {
  const sum = { fixed: 0, low: 0, high: 0, uncertain: [] as Amount[] }
  for (const amount of amounts) {
    if (amount.scale === 0) continue
    sum.low += amount.scale * lowOf(amount.value)
    sum.high += amount.scale * highOf(amount.value)
    if (isCertain(amount.value)) sum.fixed += amount.scale * lowOf(amount.value)
    else sum.uncertain.push(amount)
  }
  return sum
}
