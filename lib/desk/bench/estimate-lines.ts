import { deal } from '../../core/deal/deal'
import type { DealInput } from '../../core/deal/deal.input'
import { estimate } from '../../core/work/estimate'
import type { EstimateInput } from '../../core/work/estimate.input'
import { dealOf, randomBike, type Size } from './bikes'
import { medianOf, took } from './measure'
import { drawnQuantile, simulatedSorted } from './plain-simulation'
import { type Extent, type Line, simulation } from './table'
import { type Kind, listed } from './truth'

const twelveOpen = { jobs: 40, uncertain: 12, operations: 25 }
const allOpen = { jobs: 40, uncertain: 40, operations: 25 }
const justSeen = { jobs: 45, uncertain: 40, operations: 25 }
const small = { jobs: 10, uncertain: 5, operations: 8 }

/** Estimates of bikes from the same seeds, each against the simulation of the same bikes. */
export function* estimateLines(extent: Extent): Generator<Line> {
  yield {
    what: 'estimate, 40 jobs, 12 uncertain, 25 operations, 3 × 3 states',
    ...estimateBesideSimulation(twelveOpen, extent),
    truth: distances(randomBike(1, twelveOpen), everyOutcome, extent),
  }
  yield {
    what: 'the same, all 40 jobs uncertain',
    ...estimateBesideSimulation(allOpen, extent),
    ...(extent.longRun && { truth: distances(randomBike(1, allOpen), longRun(extent.longRun), extent) }),
  }
  yield {
    what: 'estimate, 45 jobs, 40 uncertain, 25 operations, 3 × 3 states',
    ...estimateBesideSimulation(justSeen, extent),
  }
}

function estimateBesideSimulation(size: Size, { runs, bikes, draws }: Extent): Omit<Line, 'what'> {
  const works = Array.from({ length: bikes }, (_, at) => randomBike(at + 1, size))
  const inTurn = (run: number) => works[run % bikes]!
  // A copy each time: of one and the same input the distributions are kept.
  const ours = medianOf((run) => structuredClone(inTurn(run)), estimate, {
    warm: 20,
    runs: runs * bikes,
  })
  const simulate = (work: EstimateInput) => simulatedSorted(work, { draws, seed: 7 })
  return { ours, reference: { name: simulation, took: medianOf(inTurn, simulate, { warm: 1, runs: bikes }) } }
}

interface Reference {
  name: string
  quantilesOf(work: EstimateInput, kind: Kind): (level: number) => number
}

const everyOutcome: Reference = {
  name: 'every outcome listed',
  quantilesOf: (work, kind) => listed(work, kind).quantile,
}

/** The same plain simulation with another seed and many more draws. */
function longRun(draws: number): Reference {
  let drawn: ReturnType<typeof simulatedSorted> | null = null
  return {
    name: `a simulation of ${draws.toLocaleString('en')} outcomes`,
    quantilesOf(work, kind) {
      drawn ??= simulatedSorted(work, { draws, seed: 8 })
      const sorted = drawn[kind]
      return (level) => drawnQuantile(sorted, level)
    },
  }
}

/** Between 0.9 and 0.99 begins what seized fasteners bring, 5 % of all: next to nothing lies at that step. */
const levels = [0.01, 0.1, 0.25, 0.5, 0.75, 0.9, 0.99]

/** How far quantiles of hours and cost lie from the truth at most, as shares of the range that holds 99.9 %. */
function distances(bike: EstimateInput, truth: Reference, { draws }: Extent): NonNullable<Line['truth']> {
  const work = { ...bike, quantiles: levels }
  const ours = estimate(work)
  const drawn = simulatedSorted(work, { draws, seed: 7 })
  const furthest = { ours: 0, reference: 0 }
  for (const kind of ['hours', 'cost'] as const) {
    const right = truth.quantilesOf(work, kind)
    const range = right(0.9995) - right(0.0005)
    const off = (value: number, level: number) => Math.abs(value - right(level)) / range
    for (const level of levels) {
      furthest.ours = Math.max(furthest.ours, off(ours[kind].quantiles[String(level)]!, level))
      furthest.reference = Math.max(furthest.reference, off(drawnQuantile(drawn[kind], level), level))
    }
  }
  return { name: truth.name, ...furthest }
}

/** The deal of the same bikes beside their estimates alone, and many small bikes one after another. */
export function* dealLines({ runs, bikes, many, draws }: Extent): Generator<Line> {
  const deals = Array.from({ length: bikes }, (_, at) => dealOf(randomBike(at + 1, twelveOpen)))
  const copy = (run: number) => structuredClone(deals[run % bikes]!)
  const how = { warm: 20, runs: runs * bikes }
  yield {
    what: 'deal, 40 jobs, 12 uncertain, 25 operations, 3 × 3 states, with the estimate in it',
    ours: medianOf(copy, deal, how),
    reference: { name: 'estimate of the same', took: medianOf(copy, (one) => estimate(one.estimate), how) },
    told: 'as long',
  }

  const manyDeals = Array.from({ length: many }, (_, at) => dealOf(randomBike(at + 1, small)))
  const both = (input: DealInput) => {
    estimate(input.estimate)
    deal(input)
  }
  structuredClone(manyDeals.slice(0, 50)).forEach(both)
  const some = Math.min(5, many)
  const oneDrawn = medianOf(
    (run) => manyDeals[run % many]!.estimate,
    (work) => simulatedSorted(work, { draws, seed: 7 }),
    { warm: 1, runs: some },
  )
  yield {
    what: `${many.toLocaleString('en')} bikes (10 jobs, 5 uncertain, 8 operations, 3 × 3), estimate and deal`,
    ours: took(() => manyDeals.forEach(both)),
    reference: {
      name: `${simulation} of the estimates alone (by the median of ${some})`,
      took: { cpu: many * oneDrawn.cpu, wall: many * oneDrawn.wall },
    },
  }
}
