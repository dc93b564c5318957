import { deal } from '../../core/deal/deal'
import { type NextCheckInput, nextCheck } from '../../core/deal/next-check'
import type { EstimateInput } from '../../core/work/estimate.input'
import { dealOf, randomBike } from './bikes'
import { medianOf } from './measure'
import type { Extent, Line } from './table'

const checks = 20

/** Twenty open checks of a bike, beside as many deals worked out one by one as there are answers, and one for now. */
export function* nextCheckLines({ runs, bikes }: Extent): Generator<Line> {
  const many = 2 * checks + 1
  for (const [jobs, uncertain] of [
    [40, 20],
    [45, 40],
  ] as const) {
    const asked = Array.from({ length: bikes }, (_, at) =>
      openChecks(randomBike(at + 1, { jobs, uncertain, operations: 25 })),
    )
    const copy = (run: number) => structuredClone(asked[run % bikes]!)
    const how = { warm: 2 + bikes, runs: Math.max(3, runs) }
    const one = medianOf((run) => copy(run).deal, deal, how)
    yield {
      what: `next-check with ${checks} checks, ${jobs} jobs, ${uncertain} uncertain, 25 operations, 3 × 3 states`,
      ours: medianOf(copy, nextCheck, how),
      reference: {
        name: `${many} deals of the same bike (by the median of one)`,
        took: { cpu: many * one.cpu, wall: many * one.wall },
      },
    }
  }
}

/** One check for each of the first uncertain jobs. */
function openChecks(bike: EstimateInput): NextCheckInput {
  const uncertain = bike.jobs.filter(({ chance }) => chance !== 1)
  return {
    deal: dealOf(bike),
    priceShare: 0.5,
    open: uncertain.slice(0, checks).map(({ key }, at) => ({
      key: `check of ${key}`,
      jobs: [key],
      detects: 0.7 + 0.015 * at,
      minutes: 1 + (at % 5),
      safety: false,
    })),
  }
}
