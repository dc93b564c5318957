import { meanOf, type Uncertain, varianceOf } from '../../lib/core/quantity/three-point'
import type { EstimateInput } from '../../lib/core/work/estimate.input'

/**
 * The estimate reckoned the long way, as references for the tests: every outcome of every choice in a list, or a plain
 * simulation. Nothing is merged and nothing shared with the way it is done in the core but mean and variance of a
 * three-point value.
 */
export interface ListedOutcome {
  chance: number
  jobs: string[]
  operations: Set<string>
  factor: number
}

export function everyOutcome(input: EstimateInput): ListedOutcome[] {
  const grouped = new Set(input.oneOf.flatMap((group) => Object.keys(group.jobs)))
  return (input.care ?? [{ name: '', chance: 1 }]).flatMap((state) =>
    input.fasteners.flatMap(({ chance, factor }) => {
      let outcomes: { chance: number; jobs: string[] }[] = [{ chance: chance * state.chance, jobs: [] }]
      const settle = (options: { chance: number; job: string | null }[]) => {
        outcomes = outcomes.flatMap((outcome) =>
          options
            .filter((option) => option.chance > 0)
            .map((option) => ({
              chance: outcome.chance * option.chance,
              jobs: option.job === null ? outcome.jobs : [...outcome.jobs, option.job],
            })),
        )
      }
      const inState = (value: number | Record<string, number>) =>
        typeof value === 'number' ? value : value[state.name]!
      for (const job of input.jobs) {
        if (grouped.has(job.key)) continue
        const here = inState(job.chance ?? 1)
        settle([
          { chance: 1 - here, job: null },
          { chance: here, job: job.key },
        ])
      }
      for (const group of input.oneOf) {
        const here = inState(group.chance)
        settle([
          { chance: 1 - here, job: null },
          ...Object.entries(group.jobs).map(([job, share]) => ({ chance: here * share, job })),
        ])
      }
      return outcomes.map((outcome) => ({ ...outcome, factor, operations: unionFor(input, outcome.jobs) }))
    }),
  )
}

export function unionFor(input: EstimateInput, jobs: readonly string[]): Set<string> {
  const union = new Set<string>()
  const add = (operation: string) => {
    union.add(operation)
    for (const needed of input.operations[operation]!.needs) add(needed)
  }
  for (const job of input.jobs) if (jobs.includes(job.key)) job.operations.forEach(add)
  return union
}

/** Mean and variance of one outcome; hours first, then cost. */
export function momentsOfOutcome(input: EstimateInput, { jobs, operations, factor }: ListedOutcome) {
  let hours = 0
  let hoursVariance = 0
  let money = 0
  let moneyVariance = 0
  const addHours = (value: Uncertain, slowed: boolean) => {
    const by = slowed ? factor : 1
    hours += by * meanOf(value)
    hoursVariance += by * by * varianceOf(value)
  }
  for (const operation of operations) {
    addHours(input.operations[operation]!.hours, input.operations[operation]!.fasteners)
  }
  for (const job of input.jobs) {
    if (!jobs.includes(job.key)) continue
    addHours(job.hours, job.fasteners)
    for (const { qty, unitCost } of job.parts) {
      money += qty * meanOf(unitCost)
      moneyVariance += qty * qty * varianceOf(unitCost)
    }
    money += meanOf(job.outsideWork)
    moneyVariance += varianceOf(job.outsideWork)
  }
  const rate = input.labourRate
  return {
    hours,
    hoursVariance,
    cost: rate * hours + money,
    costVariance: rate * rate * hoursVariance + moneyVariance,
  }
}

/** Sorted draws of hours and cost. The seed is fixed by the caller. */
export function simulate(input: EstimateInput, { draws, seed }: { draws: number; seed: number }) {
  const random = randomFrom(seed)
  const grouped = new Set(input.oneOf.flatMap((group) => Object.keys(group.jobs)))
  const hours = new Float64Array(draws)
  const cost = new Float64Array(draws)
  for (let n = 0; n < draws; n++) {
    const { factor } = pick(input.fasteners, random)
    const state = pick(input.care ?? [{ name: '', chance: 1 }], random).name
    const inState = (value: number | Record<string, number>) =>
      typeof value === 'number' ? value : value[state]!
    const jobs = input.jobs
      .filter((job) => !grouped.has(job.key) && random() < inState(job.chance ?? 1))
      .map((job) => job.key)
    for (const group of input.oneOf) {
      if (random() >= inState(group.chance)) continue
      jobs.push(
        pick(
          Object.entries(group.jobs).map(([name, chance]) => ({ name, chance })),
          random,
        ).name,
      )
    }
    let money = 0
    for (const operation of unionFor(input, jobs)) {
      const { hours: value, fasteners } = input.operations[operation]!
      hours[n]! += draw(value, random) * (fasteners ? factor : 1)
    }
    for (const job of input.jobs) {
      if (!jobs.includes(job.key)) continue
      hours[n]! += draw(job.hours, random) * (job.fasteners ? factor : 1)
      for (const { qty, unitCost } of job.parts) money += qty * draw(unitCost, random)
      money += draw(job.outsideWork, random)
    }
    cost[n] = input.labourRate * hours[n]! + money
  }
  return { hours: hours.sort(), cost: cost.sort() }
}

/** A beta variable as the share of one of two gamma variables (Marsaglia & Tsang 2000). */
export function draw(value: Uncertain, random: () => number): number {
  if (typeof value === 'number') return value
  const width = value.high - value.low
  if (width === 0) return value.low
  const alpha = 1 + (4 * (value.likely - value.low)) / width
  const first = gamma(alpha, random)
  return value.low + (width * first) / (first + gamma(6 - alpha, random))
}

function gamma(shape: number, random: () => number): number {
  const d = shape - 1 / 3
  const c = 1 / Math.sqrt(9 * d)
  for (;;) {
    const normal = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
    const v = (1 + c * normal) ** 3
    if (v > 0 && Math.log(1 - random()) < normal ** 2 / 2 + d - d * v + d * Math.log(v)) return d * v
  }
}

function pick<T extends { chance: number }>(states: readonly T[], random: () => number): T {
  let left = random()
  for (const state of states) {
    left -= state.chance
    if (left < 0) return state
  }
  return states[states.length - 1]!
}

/** Two 32-bit words of state, added and stirred; independent of the generator in the core. */
export function randomFrom(seed: number): () => number {
  let a = seed | 0
  let b = 0x9e3779b9
  const next = () => {
    a = (Math.imul(a, 1664525) + 1013904223) | 0
    b ^= b << 13
    b ^= b >>> 17
    b ^= b << 5
    return (a ^ b) >>> 0
  }
  return () => ((next() >>> 6) * 2 ** 26 + (next() >>> 6)) / 2 ** 52
}
