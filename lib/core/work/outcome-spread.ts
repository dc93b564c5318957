import type { SpreadSource } from '../quantity/spread'
import { highOf, isCertain, lowOf, type Uncertain } from '../quantity/three-point'
import { atomsOf, extremesOf } from './outcome-atoms'
import { envelopeOf, transformOf } from './outcome-transform'
import type { Outcomes } from './outcomes'
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

/** All outcomes with their amounts. */
export interface Measured {
  work: Work
  outcomes: Outcomes
  certain: Sums
  /** By part, then by unit. */
  parts: readonly (readonly Sums[])[]
  /** States of the fasteners: a single one where they make no difference. */
  fasteners: readonly { chance: number; factor: number }[]
}

/** What a spread of all outcomes is made from. */
export function sourceOf(
  { work, outcomes, measure }: { work: Work; outcomes: Outcomes; measure: Measure },
  moments: { mean: number; sd: number; reach: number },
): SpreadSource {
  const certain = sumsOf(outcomes.certain, measure)
  const parts = outcomes.parts.map((part) => part.units.map((units) => sumsOf(units, measure)))
  const slowed = [certain, ...parts.flat()].some(({ fastened }) => fastened.high > 0)
  const fasteners = slowed ? work.fasteners : [{ chance: 1, factor: 1 }]
  const measured = { work, outcomes, certain, parts, fasteners }
  return {
    ...moments,
    ...extremesOf(measured),
    atoms: atomsOf(measured),
    transform: (at) => transformOf(measured, at),
    envelope: (at) => envelopeOf(measured, at),
  }
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
