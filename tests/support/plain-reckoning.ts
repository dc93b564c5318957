import { meanOf, type Uncertain, varianceOf } from '../../lib/core/quantity/three-point'
import type { EstimateInput } from '../../lib/core/work/estimate.input'

/**
 * The estimate reckoned the long way, as a reference for the tests: every outcome of every choice in a list. Nothing is
 * merged and nothing shared with the way it is done in the core but mean and variance of a three-point value. A plain
 * simulation and a list of whole distributions stand in `lib/desk/bench/`.
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
