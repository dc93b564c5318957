import { costOf, readyTimes } from './cost'
import type { Model } from './model'
import { type Pool, poolsOf, type Share } from './pools'
import { Refuter } from './refute'
import { staysOf } from './stays'
import { earliestOf } from './windows'

/** Looking at stretches of time costs the cube of the tasks; beyond so many steps it is left out. */
const mostSteps = 4e7
/** Each pair of stays is looked at; beyond so many nothing is asked. */
const mostStays = 1000

/**
 * A bound for the end of all. First what a pool cannot do faster: of all its shares that come late and have much
 * behind them, the work from the first of them on, at the full rate. Then ends are tried that would need more work
 * in some stretch of time than the pool has there (energetic reasoning: Erschler, Lopez and Thuriot 1991; Klein and
 * Scholl 1999 for improving a bound by refuting it); the first that is not refuted is the bound.
 */
export function boundOfMakespan(model: Model): number {
  const { pools } = poolsOf(model)
  let bound = costOf(model, readyTimes(model, earliestOf(model).finish))
  for (const pool of pools) bound = Math.max(bound, endOfWork(pool))
  const always = pools.filter(({ open }) => open === null)
  const steps = always.reduce((sum, { shares }) => sum + shares.length ** 3, 0)
  return steps > mostSteps || always.length === 0 ? bound : firstNotRefuted(always, bound)
}

/** Steps of work that asking is worth for each schedule and task: about a fifth of what the schedule itself takes. */
const stepsForEach = 5

/**
 * The bound above raised as far as ends below `below` can be refuted, in time that goes with the effort. What closes a
 * pool counts for nothing here.
 */
export function firmerBound(
  model: Model,
  { bound, below, effort }: { bound: number; below: number; effort: number },
): number {
  const { pools, free } = poolsOf(model)
  const size = pools.reduce((sum, { shares }) => sum + shares.length, 0)
  if (pools.length === 0 || size > mostStays || !Number.isFinite(bound)) return bound
  const refuter = new Refuter(staysOf(model, { pools, alone: free }), {
    steps: stepsForEach * effort * model.tasks,
  })
  let end = bound
  while (end < below && refuter.refutes(end)) end++
  return end
}

function endOfWork({ capacity, open, shares }: Pool): number {
  let latest = 0
  const byHead = [...shares].sort((a, b) => b.head - a.head)
  for (const least of new Set(shares.map(({ tail }) => tail))) {
    let work = 0
    for (const { head, tail, work: more } of byHead) {
      if (tail < least) continue
      work += more
      const length = work / capacity
      const end = open === null ? head + length : open.endPausable(open.startPausable(head, length), length)
      if (end < Number.POSITIVE_INFINITY) latest = Math.max(latest, Math.ceil(end - 1e-9) + least)
    }
  }
  return latest
}

function firstNotRefuted(pools: readonly Pool[], bound: number): number {
  const isRefuted = (end: number) => pools.some((pool) => asksTooMuch(pool, end))
  if (!isRefuted(bound)) return bound
  let refuted = bound
  let step = 1
  while (isRefuted(refuted + step)) {
    refuted += step
    step *= 2
  }
  let open = refuted + step
  while (open - refuted > 1) {
    const middle = Math.floor((open + refuted) / 2)
    if (isRefuted(middle)) refuted = middle
    else open = middle
  }
  return open
}

/** Whether some stretch of time has less room than the shares must spend in it, if all is to end by `end`. */
function asksTooMuch({ capacity, shares }: Pool, end: number): boolean {
  const froms = ascending(shares.map(({ head }) => head))
  const tos = ascending(shares.map(({ tail }) => end - tail))
  const heads = Float64Array.from(shares, ({ head }) => head)
  const durations = Float64Array.from(shares, ({ duration }) => duration)
  const amounts = Float64Array.from(shares, amountOf)
  const dues = Float64Array.from(shares, ({ tail }) => end - tail)
  for (const from of froms) {
    for (const to of tos) {
      if (to <= from) continue
      let work = 0
      for (let at = 0; at < heads.length; at++) {
        const soonest = heads[at]! + durations[at]! - from
        const latest = to - dues[at]! + durations[at]!
        const within = Math.min(durations[at]!, to - from, soonest, latest)
        if (within > 0) work += amounts[at]! * within
      }
      if (work > capacity * (to - from) + 1e-9) return true
    }
  }
  return false
}

function amountOf({ work, duration }: Share): number {
  return work / duration
}

function ascending(values: readonly number[]): Float64Array {
  return Float64Array.from(new Set(values)).sort()
}
