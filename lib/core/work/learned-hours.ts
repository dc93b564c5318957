import type { Catalogue, Job } from '../checks/catalogue'
import { mapUncertain } from '../quantity/three-point'
import { estimate } from './estimate'
import { closureOf } from './union'

/** A job that was done, in the order of its bike's work. Hours are those of all who were at it. */
export type DoneJob = { bike: string; job: string; hours: number; endedOn: string }

/** The same beside what the hours of the catalogue say of it. */
export type DoneBeside = DoneJob & {
  title: string
  /** Mean hours expected, with the steps that no earlier job of the bike had opened, and with stuck fasteners. */
  expected: number
  /** One in ten takes less, one in ten more. */
  low: number
  high: number
  isInside: boolean
  /** Continuous ranked probability score, hours: how far off the whole spread was; smaller is better. */
  crps: number
}

/** As many places of the spread are looked at for its score. */
const places = 50
const levels = Array.from({ length: places }, (_, at) => (at + 0.5) / places)

/**
 * What done jobs took beside what was expected of them. A step that several jobs of a bike share is counted at the first
 * of them. Jobs and steps that the catalogue does not know any more are left out, as is a job without any time noted.
 */
export function besideEstimate(asked: {
  done: readonly DoneJob[]
  catalogue: Pick<Catalogue, 'jobs' | 'operations'>
  fasteners: readonly { name: string; chance: number; factor: number }[]
}): DoneBeside[] {
  const { done, catalogue, fasteners } = asked
  const steps = new Map(
    catalogue.operations.map(({ key, needs = [], hours, fasteners: slow = true }) => [
      key,
      { needs, hours, fasteners: slow },
    ]),
  )
  const opened = new Map<string, Set<string>>()
  const known = new Map<string, Pick<DoneBeside, 'expected'> & { quantiles: Record<string, number> }>()
  const spreadOf = (job: Job, fresh: readonly string[]) => {
    const key = JSON.stringify([job.key, fresh])
    const before = known.get(key)
    if (before) return before
    const { hours } = estimate({
      labourRate: 0,
      operations: Object.fromEntries(
        fresh.map((step) => {
          const { hours, fasteners } = steps.get(step)!
          return [step, { hours, fasteners, needs: [] }]
        }),
      ),
      jobs: [
        {
          ...{ key: job.key, operations: [...fresh], hours: job.hours, parts: [], outsideWork: 0 },
          ...{ chance: 1, fasteners: job.fasteners ?? true },
        },
      ],
      fasteners: fasteners.map((state) => ({ ...state })),
      oneOf: [],
      quantiles: [0.1, 0.9, ...levels],
    })
    const made = { expected: hours.mean, quantiles: hours.quantiles }
    known.set(key, made)
    return made
  }
  return done.flatMap((one): DoneBeside[] => {
    const job = catalogue.jobs.find(({ key }) => key === one.job)
    if (!job || one.hours <= 0) return []
    const open = opened.get(one.bike) ?? new Set()
    opened.set(one.bike, open)
    const needed = closureOf(
      job.operations.filter((step) => steps.has(step)),
      steps,
    )
    const fresh = [...needed].filter((step) => !open.has(step)).sort()
    for (const step of fresh) open.add(step)
    const { expected, quantiles } = spreadOf(job, fresh)
    if (expected <= 0) return []
    const [low, high] = [quantiles['0.1']!, quantiles['0.9']!]
    return [
      {
        ...one,
        title: job.title,
        expected,
        low,
        high,
        isInside: low <= one.hours && one.hours <= high,
        crps: crpsOf(
          levels.map((level) => quantiles[String(level)]!),
          one.hours,
        ),
      },
    ]
  })
}

/**
 * Continuous ranked probability score of a spread, told by its quantiles at the even levels (k − ½)/n, for what came: twice
 * the mean of the quantile losses (Laio and Tamea 2007, equation 9; Gneiting and Ranjan 2011). In the unit of the values;
 * 0 only for a certain value that came.
 */
export function crpsOf(quantiles: readonly number[], came: number): number {
  const losses = quantiles.map((quantile, at) => {
    const level = (at + 0.5) / quantiles.length
    return (came < quantile ? 1 - level : -level) * (quantile - came)
  })
  return (2 * losses.reduce((sum, loss) => sum + loss, 0)) / quantiles.length
}

/**
 * By how much the hours of a job are to be multiplied: the logarithms of took/expected are normal around that of the
 * factor, which beforehand is 1 and weighs as much as `priorJobs` > 0 jobs. The posterior mean is Σ ln r / (n₀ + n)
 * (Gelman et al., Bayesian Data Analysis, section 2.5), so few jobs move little. 1 without any; ratios above 0.
 */
export function hoursFactor({ ratios, priorJobs }: { ratios: readonly number[]; priorJobs: number }): number {
  const sum = ratios.reduce((total, ratio) => total + Math.log(ratio), 0)
  return Math.exp(sum / (priorJobs + ratios.length))
}

/** Factors in force, by job. */
export type LearnedHours = Readonly<Record<string, { factor: number }>>

/** The catalogue with the hours of its jobs as they were learned; steps keep theirs. */
export function withLearnedHours<C extends Pick<Catalogue, 'jobs'>>(catalogue: C, learned: LearnedHours): C {
  if (Object.keys(learned).length === 0) return catalogue
  return {
    ...catalogue,
    jobs: catalogue.jobs.map((job) => {
      const { [job.key]: own } = learned
      return own ? { ...job, hours: mapUncertain(job.hours, (hours) => hours * own.factor) } : job
    }),
  }
}
