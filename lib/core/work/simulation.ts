import { sequence } from '../quantity/sequence'
import type { Spread } from '../quantity/spread'
import { cdfOf, highOf, isCertain, lowOf, type Uncertain } from '../quantity/three-point'
import type { Moments } from './moments'
import type { Unit, Work } from './work'

const drawsOfAll = 200_000
const bins = 4096

/**
 * The distributions of a work whose outcomes are too many to go through: drawn at random from a fixed seed, so that
 * the same input always gives the same answer.
 */
export function simulatedSpreads(
  work: Work,
  { labourRate, moments }: { labourRate: number; moments: Moments },
): { cost: Spread; hours: Spread } {
  const random = sequence(20_250_301)
  const hours = new Float64Array(drawsOfAll)
  const cost = new Float64Array(drawsOfAll)
  const draw = drawersOf([...work.operations, ...work.jobs])
  const jobsAt = work.operations.length
  const done = new Uint8Array(jobsAt)
  for (let n = 0; n < drawsOfAll; n++) {
    const chances = work.chances[placeBy(work.care, random())]!
    const factor =
      work.fasteners[
        placeBy(
          work.fasteners.map((state) => state.chance),
          random(),
        )
      ]!.factor
    let fastened = 0
    let other = 0
    let money = 0
    const take = (place: number) => {
      const unit = draw[place]!
      const took = unit.hours(random)
      if (unit.fastened) fastened += took
      else other += took
      for (const amount of unit.money) money += amount(random)
    }
    done.fill(0)
    for (const choice of work.choices) {
      let left = random()
      for (const job of choice.jobs) {
        left -= chances[job]!
        if (left >= 0) continue
        take(jobsAt + job)
        for (const operation of work.closures[job]!) {
          if (done[operation]) continue
          done[operation] = 1
          take(operation)
        }
        break
      }
    }
    hours[n] = factor * fastened + other
    cost[n] = labourRate * hours[n]! + money
  }
  return { cost: spreadOfDraws(cost, moments.cost), hours: spreadOfDraws(hours, moments.hours) }
}

function spreadOfDraws(draws: Float64Array, moments: { mean: number; sd: number }): Spread {
  draws.sort()
  const min = draws[0]!
  const max = draws[draws.length - 1]!
  const step = (max - min) / bins || 1
  const below = new Float64Array(bins + 1)
  for (const value of draws) below[Math.min(bins, Math.floor((value - min) / step) + 1)]! += 1 / draws.length
  for (let bin = 1; bin <= bins; bin++) below[bin]! += below[bin - 1]!
  return { ...moments, min, max, atoms: [], body: { from: min, step, below } }
}

type Draw = (random: () => number) => number

function drawersOf(units: readonly Unit[]): { hours: Draw; fastened: boolean; money: Draw[] }[] {
  return units.map(({ hours, fastened, money }) => ({
    hours: drawOf(hours, 1),
    fastened,
    money: money.map(({ amount, times }) => drawOf(amount, times)),
  }))
}

/** Draws by the inverse of the distribution function, read off a table of 256 steps. */
function drawOf(value: Uncertain, times: number): Draw {
  const low = lowOf(value) * times
  if (isCertain(value)) return () => low
  const steps = 256
  const width = highOf(value) - lowOf(value)
  const step = (width * times) / steps
  const below = Float64Array.from({ length: steps + 1 }, (_, i) =>
    cdfOf(value, lowOf(value) + (width * i) / steps),
  )
  below[steps] = 1
  return (random) => {
    const level = random()
    let from = 0
    let to = steps
    while (to - from > 1) {
      const middle = (from + to) >> 1
      if (below[middle]! > level) to = middle
      else from = middle
    }
    const inStep = below[to]! - below[from]!
    return low + step * (from + (inStep > 0 ? (level - below[from]!) / inStep : 0.5))
  }
}

function placeBy(chances: readonly number[], level: number): number {
  let left = level
  for (let place = 0; place < chances.length - 1; place++) {
    left -= chances[place]!
    if (left < 0) return place
  }
  return chances.length - 1
}
