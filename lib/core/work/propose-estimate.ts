import type { Catalogue } from '../checks/catalogue'
import { type CareChances, careStatesWith } from '../checks/chance'
import type { EstimateInput } from './estimate.input'
import { type AskedOutside, outsideToPay, partsToPay } from './parts'
import type { Proposal } from './propose-jobs'
import { closureOf } from './union'

/** The shop's figures that an estimate rests on. */
export type EstimateTerms = {
  labourCostMinor: number
  fasteners: readonly { name: string; chance: number; factor: number }[]
  care: CareChances
}

/** Levels that the board and the pictures show: one in ten, middle, nine in ten. */
const quantiles = [0.1, 0.5, 0.9]

/**
 * The input of the estimate for the jobs that are in. Only operations that these need are named. A job whose
 * line stands in a group has no chance of its own. What a supplier asks takes the place of the catalogue's price,
 * and what is paid already is left out.
 */
export function estimateInputOf(asked: {
  proposal: Pick<Proposal, 'jobs' | 'groups'>
  catalogue: Pick<Catalogue, 'operations'>
  terms: EstimateTerms
  /** What others said that parts and outside work cost. */
  told?: AskedOutside
}): EstimateInput {
  const { proposal, catalogue, terms, told } = asked
  const known = new Map(catalogue.operations.map((operation) => [operation.key, operation]))
  const needs = new Map(
    catalogue.operations.map(({ key, needs = [] }) => [
      key,
      { needs: needs.filter((need) => known.has(need)) },
    ]),
  )
  const lines = proposal.jobs.filter(({ state }) => state === 'in')
  const jobs = lines.map((line) => ({
    key: line.key,
    operations: line.operations.filter((operation) => known.has(operation)),
    hours: line.hours,
    parts: partsToPay(line, told?.parts ?? []),
    outsideWork: outsideToPay(line, told?.outside ?? []),
    fasteners: line.fasteners,
    ...(line.oneOf === null && { chance: line.chance }),
  }))
  const used = closureOf(
    jobs.flatMap(({ operations }) => operations),
    needs,
  )
  return {
    labourRate: terms.labourCostMinor,
    operations: Object.fromEntries(
      catalogue.operations
        .filter(({ key }) => used.has(key))
        .map(({ key, hours, fasteners = true }) => [key, { hours, needs: needs.get(key)!.needs, fasteners }]),
    ),
    jobs,
    fasteners: terms.fasteners.map((state) => ({ ...state })),
    care: careStatesWith(terms.care),
    oneOf: proposal.groups.map(({ name, chance, jobs }) => ({ name, chance, jobs: { ...jobs } })),
    quantiles,
  }
}
