import type { Catalogue } from '../checks/catalogue'
import { meanOf } from '../quantity/three-point'
import type { Estimate } from '../work/estimate'
import type { EstimateInput } from '../work/estimate.input'
import type { JobLine } from '../work/propose-jobs'

/** One operation done once for several jobs. */
export type SharedOperation = {
  operation: string
  title: string
  /** Titles of the jobs in the estimate that need it. */
  jobs: readonly string[]
  /** Expected hours not spent a second time. */
  hoursSavedMean: number
  /** The same in minor units, not rounded. */
  costSavedMeanMinor: number
}

/**
 * What doing an operation once saves: the jobs that need it would each do it for themselves, so with chances
 * c of the jobs and P that it is done at all, (Σc − P) times its mean hours, stuck fasteners included. Over all
 * operations this is what the estimate says is saved by sharing. Largest saving first.
 */
export function savingsOf(asked: {
  estimateInput: EstimateInput
  estimate: Estimate
  jobs: readonly JobLine[]
  catalogue: Pick<Catalogue, 'operations'>
}): SharedOperation[] {
  const { estimateInput, estimate } = asked
  const titles = new Map(asked.jobs.map(({ key, title }) => [key, title]))
  const chances = new Map(estimate.lines.map(({ key, chance }) => [key, chance]))
  const meanFactor = estimateInput.fasteners.reduce((sum, { chance, factor }) => sum + chance * factor, 0)
  return estimate.operations
    .filter(({ sharedBy }) => sharedBy.length > 1)
    .map(({ key, chance, sharedBy }) => {
      const operation = estimateInput.operations[key]!
      const alone = sharedBy.reduce((sum, job) => sum + (chances.get(job) ?? 0), 0)
      const hours = meanOf(operation.hours) * (operation.fasteners ? meanFactor : 1)
      const hoursSavedMean = Math.max(0, alone - chance) * hours
      return {
        operation: key,
        title: asked.catalogue.operations.find((known) => known.key === key)?.title ?? key,
        jobs: sharedBy.map((job) => titles.get(job) ?? job),
        hoursSavedMean,
        costSavedMeanMinor: hoursSavedMean * estimateInput.labourRate,
      }
    })
    .sort((a, b) => b.hoursSavedMean - a.hoursSavedMean)
}
