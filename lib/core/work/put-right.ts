import { type Call, calls } from '../checks/catalogue'
import type { FaultState } from '../checks/faults'
import { allocate, type Minor } from '../quantity/money'
import type { EstimateInput } from './estimate.input'
import { sharesOf } from './moments'
import type { JobLine } from './propose-jobs'
import { seenOnly } from './seen-only'
import { workOf } from './work'

/** A fault that is there, and its part of what putting right costs; null where no work on it is counted. */
export type FoundFault = { fault: string; title: string; call: Call; putRightMinor: Minor | null }

/** Ten major units: what rests on estimates is told no finer. */
const step = 1000

/**
 * What the faults that are there cost to put right, on average, in minor units of whole tens of the major unit. Only
 * work that a fault asks for which is there is counted: nothing that may hide, and nothing added without a fault. A
 * job that several such faults ask for is split evenly among them; the parts add up to the whole.
 */
export function putRight(of: {
  faults: readonly FaultState[]
  jobs: readonly JobLine[]
  estimateInput: EstimateInput
}): { faults: readonly FoundFault[]; putRightMinor: Minor } {
  const there = of.faults.filter(({ state }) => state === 'found' || state === 'added')
  const asking = askingFaults(of.jobs)
  const input = foundOnly(of.estimateInput, asking)
  const { lines } = sharesOf(workOf(input), input.labourRate)
  const costs = new Map<string, number>()
  input.jobs.forEach(({ key }, job) => {
    const faults = asking.get(key)!
    for (const fault of faults)
      costs.set(fault, (costs.get(fault) ?? 0) + lines[job]!.costMean / faults.length)
  })
  const all = [...costs.values()].reduce((sum, cost) => sum + cost, 0)
  const tens = Math.round(all / step)
  const parts = all > 0 ? allocate(tens, [...costs.values()]) : []
  const rounded = new Map([...costs.keys()].map((fault, place) => [fault, (parts[place] ?? 0) * step]))
  return {
    faults: there
      .map(({ fault, title, call }) => ({ fault, title, call, putRightMinor: rounded.get(fault) ?? null }))
      .sort((a, b) => calls.indexOf(a.call) - calls.indexOf(b.call)),
    putRightMinor: tens * step,
  }
}

/** By job in the estimate: the faults that are there and ask for it. Other jobs are left out. */
function askingFaults(jobs: readonly JobLine[]): ReadonlyMap<string, readonly string[]> {
  return new Map(
    jobs.flatMap(({ key, state, faults }) => {
      const there = faults.filter((fault) => fault.state !== 'open').map(({ fault }) => fault)
      return state === 'in' && there.length > 0 ? [[key, there] as const] : []
    }),
  )
}

/** The known work of those jobs. Of a symptom that is there all its causes are, or none is. */
function foundOnly(estimateInput: EstimateInput, asking: ReadonlyMap<string, unknown>): EstimateInput {
  const known = seenOnly(estimateInput) ?? estimateInput
  const jobs = known.jobs.filter(({ key }) => asking.has(key))
  const kept = new Set(jobs.map(({ key }) => key))
  const oneOf = known.oneOf.filter((group) => Object.keys(group.jobs).every((key) => kept.has(key)))
  return { ...known, jobs, oneOf }
}
