import type { Uncertain } from '../../core/quantity/three-point'
import type { EstimateInput } from '../../core/work/estimate.input'
import { chanceFrom } from './chance'

/**
 * The estimate the plain way, as a reference: outcomes drawn one by one, names turned into places beforehand and
 * nothing else done to be fast or exact. It shares no line with the calculations.
 * Draws of hours and cost (minor units), in the order they were drawn.
 */
export function simulate(
  input: EstimateInput,
  { draws, seed }: { draws: number; seed: number },
): { hours: Float64Array; cost: Float64Array } {
  const random = chanceFrom(seed)
  const work = placesOf(input)
  const hours = new Float64Array(draws)
  const cost = new Float64Array(draws)
  const done = new Int32Array(work.operations.length).fill(-1)
  for (let n = 0; n < draws; n++) {
    const { factor } = input.fasteners[pick(work.fasteners, random)]!
    const state = work.states[pick(work.care, random)]!
    let time = 0
    let money = 0
    const happens = (job: (typeof work.jobs)[number]) => {
      time += draw(job.hours, random) * (job.fasteners ? factor : 1)
      for (const { qty, unitCost } of job.parts) money += qty * draw(unitCost, random)
      money += draw(job.outsideWork, random)
      for (const place of job.union) {
        if (done[place] === n) continue
        done[place] = n
        const operation = work.operations[place]!
        time += draw(operation.hours, random) * (operation.fasteners ? factor : 1)
      }
    }
    state.alone.forEach((chance, at) => {
      if (chance === 1 || random() < chance) happens(work.alone[at]!)
    })
    state.groups.forEach((chance, at) => {
      const group = work.groups[at]!
      if (random() < chance) happens(group.jobs[pick(group.shares, random)]!)
    })
    hours[n] = time
    cost[n] = input.labourRate * time + money
  }
  return { hours, cost }
}

/** The same draws in rising order, each kind for itself: for quantiles. */
export function simulatedSorted(
  input: EstimateInput,
  how: { draws: number; seed: number },
): { hours: Float64Array; cost: Float64Array } {
  const { hours, cost } = simulate(input, how)
  return { hours: hours.sort(), cost: cost.sort() }
}

/** The smallest draw that at least this share of the draws does not exceed. */
export function drawnQuantile(sorted: Float64Array, level: number): number {
  return sorted[Math.min(sorted.length, Math.max(1, Math.ceil(level * sorted.length))) - 1]!
}

function placesOf(input: EstimateInput) {
  const placeOf = new Map(Object.keys(input.operations).map((key, place) => [key, place]))
  const unionOf = (names: readonly string[]) => {
    const union = new Set<number>()
    const add = (name: string) => {
      union.add(placeOf.get(name)!)
      input.operations[name]!.needs.forEach(add)
    }
    names.forEach(add)
    return [...union]
  }
  const jobs = input.jobs.map((job) => ({ ...job, union: unionOf(job.operations) }))
  const grouped = new Set(input.oneOf.flatMap((group) => Object.keys(group.jobs)))
  const alone = jobs.filter(({ key }) => !grouped.has(key))
  const care = input.care ?? [{ name: '', chance: 1 }]
  const inState = (chance: number | Record<string, number>, name: string) =>
    typeof chance === 'number' ? chance : chance[name]!
  return {
    operations: Object.values(input.operations),
    jobs,
    alone,
    groups: input.oneOf.map((group) => ({
      jobs: Object.keys(group.jobs).map((key) => jobs.find((job) => job.key === key)!),
      shares: Object.values(group.jobs),
    })),
    fasteners: input.fasteners.map(({ chance }) => chance),
    care: care.map(({ chance }) => chance),
    states: care.map(({ name }) => ({
      alone: alone.map(({ chance }) => inState(chance ?? 1, name)),
      groups: input.oneOf.map(({ chance }) => inState(chance, name)),
    })),
  }
}

function pick(chances: readonly number[], random: () => number): number {
  let left = random()
  for (let place = 0; place < chances.length - 1; place++) {
    left -= chances[place]!
    if (left < 0) return place
  }
  return chances.length - 1
}

/** A beta-PERT variable: beta as the share of one of two gamma variables. */
export function draw(value: Uncertain, random: () => number): number {
  if (typeof value === 'number') return value
  const width = value.high - value.low
  if (width === 0) return value.low
  const alpha = 1 + (4 * (value.likely - value.low)) / width
  const first = gamma(alpha, random)
  return value.low + (width * first) / (first + gamma(6 - alpha, random))
}

/** For shapes from 1 up: Marsaglia & Tsang 2000, from memory; the tests hold its mean, deviation and tails. */
function gamma(shape: number, random: () => number): number {
  const d = shape - 1 / 3
  const c = 1 / Math.sqrt(9 * d)
  for (;;) {
    const normal = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
    const root = 1 + c * normal
    if (root <= 0) continue
    const v = root * root * root
    if (Math.log(1 - random()) < (normal * normal) / 2 + d - d * v + d * Math.log(v)) return d * v
  }
}
