import type { BikeResult } from '../core/board/bike-result'

/** Savings smaller than this are not worth a line, hours. */
const leastSavingHours = 0.05

/** A step of labour that is done once for several jobs. */
export type SavingShown = {
  title: string
  /** Titles, those certain to be done first. */
  certain: readonly string[]
  perhaps: readonly string[]
  hours: number
  costMinor: number
}

/** What sharing labour saves, the most first. */
export function savingsShown({
  savings,
  jobs,
  estimate,
}: Pick<BikeResult, 'savings' | 'jobs' | 'estimate'>): SavingShown[] {
  const sure = new Set(estimate.lines.filter(({ chance }) => chance >= 1 - 1e-9).map(({ key }) => key))
  const certain = new Set(jobs.filter(({ key }) => sure.has(key)).map(({ title }) => title))
  return savings
    .filter(({ hoursSavedMean }) => hoursSavedMean >= leastSavingHours)
    .map(({ title, jobs: titles, hoursSavedMean, costSavedMeanMinor }) => ({
      title,
      certain: titles.filter((one) => certain.has(one)),
      perhaps: titles.filter((one) => !certain.has(one)),
      hours: hoursSavedMean,
      costMinor: costSavedMeanMinor,
    }))
}
