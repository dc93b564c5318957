import { type ThreePrices, threePrices } from '../deal/three-prices'
import type { WaysOut } from '../deal/ways-out'
import type { AddableJob } from '../deal/what-if'
import { outsideToPay, partsToPay } from '../work/parts'
import { closureOf } from '../work/union'
import type { BikeResult, BikeToWorkOut } from './bike-result'
import { type NextCheck, nextChecksOf } from './next-checks'
import { type ScopeOfWork, scopeOfWork } from './scope-of-work'
import { type OtherWaysNoted, waysOutOfBike } from './ways-out-of-bike'

/** What the dealer decides with, beyond the deal itself. */
export type DealDesk = {
  prices: ThreePrices | null
  scope: ScopeOfWork | null
  /** Null without any price: then nothing can be compared. */
  waysOut: WaysOut | null
  /** Optional jobs that are not in, for trying them out. */
  addable: readonly AddableJob[]
  /** Worked out when asked for, which takes longest. */
  nextChecks: () => NextCheck[] | null
}

/** The dealer's desk for one bike that was worked out. */
export function dealDeskOf(
  bike: BikeToWorkOut,
  { result, noted, bestPrice }: { result: BikeResult; noted: OtherWaysNoted; bestPrice: number | null },
): DealDesk {
  const { figures, price } = bike
  const { faults, jobs, estimate, deal, dealInput } = result
  const asking = price?.basis === 'asking' ? price.amountMinor : null
  return {
    prices: threePrices({ walkAway: deal?.walkAway ?? null, asking }, figures.bargaining),
    scope: scopeOfWork(bike, { faults, jobs, dealInput, costMean: estimate.cost.mean, bestPrice }),
    addable: addableJobs(bike, result),
    waysOut: waysOutOfBike(bike, { result, noted }),
    nextChecks: () => nextChecksOf(bike, result),
  }
}

/** What is left and could be done, as the estimate would take it. */
function addableJobs(
  { catalogue, told }: BikeToWorkOut,
  { jobs, faults, left }: Pick<BikeResult, 'jobs' | 'faults' | 'left'>,
): AddableJob[] {
  const known = new Map(catalogue.operations.map((operation) => [operation.key, operation]))
  const needs = new Map(
    catalogue.operations.map(({ key, needs: of = [] }) => [
      key,
      { needs: of.filter((one) => known.has(one)) },
    ]),
  )
  return jobs
    .filter(({ state, key }) => state === 'left' && left.some(({ job }) => job === key))
    .map((line) => {
      const cured = faults.filter((fault) => line.faults.some((one) => one.fault === fault.fault))
      const operations = line.operations.filter((key) => known.has(key))
      return {
        job: {
          key: line.key,
          operations,
          hours: line.hours,
          parts: partsToPay(line, told?.parts ?? []),
          outsideWork: outsideToPay(line, told?.outside ?? []),
          fasteners: line.fasteners,
          chance: 1,
        },
        operations: Object.fromEntries(
          [...closureOf(operations, needs)].map((key) => {
            const { hours, fasteners = true } = known.get(key)!
            return [key, { hours, needs: [...needs.get(key)!.needs], fasteners }]
          }),
        ),
        saleOffMinor: cured.reduce((sum, { saleOffMinor }) => sum + saleOffMinor, 0),
        slowerDays: cured.reduce((sum, { slowerDays }) => sum + slowerDays, 0),
      }
    })
}
