import type { Uncertain } from '../../core/quantity/three-point'
import type { EstimateInput } from '../../core/work/estimate.input'
import { type Amount, gridUpTo, type Listed, readBack, spectrumOf, times } from './grid'

export type Kind = 'hours' | 'cost'

/**
 * The distribution of hours or cost by listing, as a reference: every outcome of every choice one by one, none merged
 * with another; each amount as probabilities on a grid of so many `steps` (a power of two) from 0 to the most that is
 * possible, split between neighbouring points so that its mean is kept; added up by their discrete Fourier transforms.
 * The time doubles with each open choice: a dozen take some seconds. It shares nothing with the calculations but a
 * library's incomplete beta function and Fourier transform.
 */
export function listed(input: EstimateInput, kind: Kind, steps = 2 ** 14): Listed {
  // A little room above the most, so that no rounding comes round again at the low end.
  const grid = gridUpTo(mostOf(input, kind) / 0.98, steps)
  const choices = choicesOf(input)
  const unions = input.jobs.map((job) => [...unionOf(input, job.operations)])
  const sum = new Float64Array(steps + 2)
  for (const { chance, factor } of input.fasteners) {
    const asked = { input, kind, factor }
    const operations = new Map(
      Object.entries(input.operations).map(([key, operation]) => [
        key,
        spectrumOf([hoursOf(operation, asked)], grid),
      ]),
    )
    const jobs = input.jobs.map((job) => spectrumOf(amountsOf(job, asked), grid))
    const withJob = (outcome: Outcome, job: number | null): Outcome => {
      if (job === null) return outcome
      const work = outcome.work.slice()
      const done = new Set(outcome.done)
      times(work, jobs[job]!)
      for (const key of unions[job]!) {
        if (done.has(key)) continue
        done.add(key)
        times(work, operations.get(key)!)
      }
      return { ...outcome, work, done }
    }
    const list = (at: number, outcome: Outcome): void => {
      const choice = choices[at]
      if (!choice) {
        const weight = chance * outcome.chances.reduce((all, one) => all + one, 0)
        for (let k = 0; k < sum.length; k++) sum[k]! += weight * outcome.work[k]!
        return
      }
      for (const option of choice) {
        const chances = outcome.chances.map((one, state) => one * option.chances[state]!)
        if (chances.every((one) => one === 0)) continue
        list(at + 1, { ...withJob(outcome, option.job), chances })
      }
    }
    const care = careOf(input).map((state) => state.chance)
    list(0, { work: spectrumOf([], grid), done: new Set(), chances: care })
  }
  return readBack(sum, grid)
}

/** One way that the choices so far have fallen: its spectrum, operations done, and its chance by state of care. */
interface Outcome {
  work: Float64Array
  done: ReadonlySet<string>
  chances: readonly number[]
}

/** Of each choice its options: a job by place or none, with the chance by state of care. Those without choice first. */
function choicesOf(input: EstimateInput): { job: number | null; chances: number[] }[][] {
  const states = careOf(input).map(({ name }) => name)
  const inStates = (chance: number | Record<string, number>) =>
    states.map((name) => (typeof chance === 'number' ? chance : chance[name]!))
  const without = (chances: readonly number[]) => ({ job: null, chances: chances.map((one) => 1 - one) })
  const grouped = new Set(input.oneOf.flatMap(({ jobs }) => Object.keys(jobs)))
  const alone = input.jobs.flatMap(({ key, chance }, job) => {
    const chances = inStates(chance ?? 1)
    return grouped.has(key) ? [] : [[{ job, chances }, without(chances)]]
  })
  const groups = input.oneOf.map(({ chance, jobs }) => {
    const real = inStates(chance)
    return [
      ...Object.entries(jobs).map(([key, share]) => ({
        job: input.jobs.findIndex((job) => job.key === key),
        chances: real.map((one) => one * share),
      })),
      without(real),
    ]
  })
  const isOpen = (options: readonly { chances: readonly number[] }[]) =>
    options.filter(({ chances }) => chances.some((one) => one > 0)).length > 1
  return [...alone, ...groups].sort((a, b) => Number(isOpen(a)) - Number(isOpen(b)))
}

function careOf({ care }: EstimateInput): { name: string; chance: number }[] {
  return care ?? [{ name: '', chance: 1 }]
}

function unionOf(input: EstimateInput, names: readonly string[]): Set<string> {
  const union = new Set<string>()
  const add = (name: string) => {
    union.add(name)
    input.operations[name]!.needs.forEach(add)
  }
  names.forEach(add)
  return union
}

interface Asked {
  input: EstimateInput
  kind: Kind
  factor: number
}

function hoursOf({ hours, fasteners }: { hours: Uncertain; fasteners: boolean }, asked: Asked): Amount {
  const rate = asked.kind === 'cost' ? asked.input.labourRate : 1
  return { value: hours, times: rate * (fasteners ? asked.factor : 1) }
}

function amountsOf(job: EstimateInput['jobs'][number], asked: Asked): Amount[] {
  const hours = hoursOf(job, asked)
  if (asked.kind === 'hours') return [hours]
  const parts = job.parts.map(({ unitCost, qty }) => ({ value: unitCost, times: qty }))
  return [hours, ...parts, { value: job.outsideWork, times: 1 }]
}

function mostOf(input: EstimateInput, kind: Kind): number {
  const asked = { input, kind, factor: Math.max(...input.fasteners.map(({ factor }) => factor), 1) }
  const amounts = [
    ...Object.values(input.operations).map((operation) => hoursOf(operation, asked)),
    ...input.jobs.flatMap((job) => amountsOf(job, asked)),
  ]
  const high = (value: Uncertain) => (typeof value === 'number' ? value : value.high)
  return amounts.reduce((sum, { value, times: by }) => sum + by * high(value), 0)
}
