import type { Uncertain } from '../quantity/three-point'
import { meanOf, varianceOf } from '../quantity/three-point'
import type { EstimateInput } from './estimate.input'
import { closureOf } from './union'

/** An operation or a job: what it adds when it is done. */
export interface Unit {
  hours: Uncertain
  /** Stuck fasteners slow it. */
  fastened: boolean
  /** Amounts in minor units, each drawn once and taken so many times. */
  money: readonly { amount: Uncertain; times: number }[]
  /** Jobs (by place) of which any one brings it about. For a job that is itself. */
  jobs: readonly number[]
}

/** One thing that is settled by chance: a job happens or not, or at most one job of a group does. */
export interface Choice {
  /** Jobs by place. */
  jobs: readonly number[]
}

/** The input as the calculation wants it: names become places, states without chance are gone. */
export interface Work {
  operations: readonly Unit[]
  jobs: readonly Unit[]
  /** Of each job, by place: its operations by place, with all that they need. */
  closures: readonly (readonly number[])[]
  choices: readonly Choice[]
  /** Chances of the states of care. */
  care: readonly number[]
  /** By state of care, then by job. */
  chances: readonly (readonly number[])[]
  fasteners: readonly { chance: number; factor: number }[]
}

export function workOf(input: EstimateInput): Work {
  const named = new Map(Object.entries(input.operations))
  const placeOf = new Map([...named.keys()].map((key, place) => [key, place]))
  const closures = input.jobs.map((job) =>
    [...closureOf(job.operations, named)].map((key) => placeOf.get(key)!).sort((a, b) => a - b),
  )
  const jobsOf: number[][] = [...named].map(() => [])
  closures.forEach((operations, job) => {
    for (const operation of operations) jobsOf[operation]!.push(job)
  })
  const care = (input.care ?? [{ name: '', chance: 1 }]).filter((state) => state.chance > 0)
  return {
    operations: [...named.values()].map(({ hours, fasteners }, place) => ({
      hours,
      fastened: fasteners,
      money: [],
      jobs: jobsOf[place]!,
    })),
    jobs: input.jobs.map((job, place) => ({
      hours: job.hours,
      fastened: job.fasteners,
      money: [
        ...job.parts.map(({ unitCost, qty }) => ({ amount: unitCost, times: qty })),
        { amount: job.outsideWork, times: 1 },
      ].filter(({ amount, times }) => times > 0 && amount !== 0),
      jobs: [place],
    })),
    closures,
    ...choicesOf(input, care),
    care: weights(care),
    fasteners: merged(input.fasteners),
  }
}

function choicesOf(
  input: EstimateInput,
  care: readonly { name: string }[],
): Pick<Work, 'choices' | 'chances'> {
  const placeOf = new Map(input.jobs.map((job, place) => [job.key, place]))
  const inGroup = new Set(input.oneOf.flatMap((group) => Object.keys(group.jobs)))
  const in_ = (chance: number | Record<string, number>, state: string) =>
    typeof chance === 'number' ? chance : chance[state]!
  const chances = care.map(({ name }) => {
    const ofJobs = input.jobs.map((job) => in_(job.chance ?? 1, name))
    for (const group of input.oneOf) {
      for (const [key, share] of Object.entries(group.jobs)) {
        ofJobs[placeOf.get(key)!] = in_(group.chance, name) * share
      }
    }
    return ofJobs
  })
  const alone = input.jobs.map((job) => job.key).filter((key) => !inGroup.has(key))
  const choices = [...alone.map((key) => [key]), ...input.oneOf.map((group) => Object.keys(group.jobs))]
  return {
    chances,
    choices: choices.map((keys) => ({ jobs: keys.map((key) => placeOf.get(key)!) })),
  }
}

/** Chances that sum to 1 within 1e-9 by the schema, made to sum to 1 within rounding. */
function weights(states: readonly { chance: number }[]): number[] {
  const sum = states.reduce((total, state) => total + state.chance, 0)
  return states.map((state) => state.chance / sum)
}

/** States of the fasteners with the same factor make no difference. */
function merged(states: readonly { chance: number; factor: number }[]): { chance: number; factor: number }[] {
  const byFactor = new Map<number, number>()
  const chances = weights(states)
  states.forEach(({ factor }, place) => {
    if (chances[place]! > 0) byFactor.set(factor, (byFactor.get(factor) ?? 0) + chances[place]!)
  })
  return [...byFactor].map(([factor, chance]) => ({ factor, chance }))
}

/** Fastened hours, other hours and money: the three kinds that a total is made of. */
export type Kinds<T> = [fastened: T, other: T, money: T]

export function meansOf(unit: Unit): Kinds<number> {
  const hours = meanOf(unit.hours)
  const money = unit.money.reduce((sum, { amount, times }) => sum + times * meanOf(amount), 0)
  return unit.fastened ? [hours, 0, money] : [0, hours, money]
}

export function variancesOf(unit: Unit): Kinds<number> {
  const hours = varianceOf(unit.hours)
  const money = unit.money.reduce((sum, { amount, times }) => sum + times * times * varianceOf(amount), 0)
  return unit.fastened ? [hours, 0, money] : [0, hours, money]
}
