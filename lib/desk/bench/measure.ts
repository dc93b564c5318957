import { performance } from 'node:perf_hooks'
import process from 'node:process'

/** Milliseconds: on the clock on the wall, and of the processor for the whole process. */
export interface Took {
  wall: number
  cpu: number
}

export function took(work: () => void): Took {
  const began = performance.now()
  const before = process.cpuUsage()
  work()
  const { user, system } = process.cpuUsage(before)
  return { wall: performance.now() - began, cpu: (user + system) / 1000 }
}

export interface Runs {
  /** Runs beforehand that are not counted, so that the code is compiled. */
  warm: number
  /** Runs that are, of which the median is told. */
  runs: number
  /** How often the work is done in one run, for work too short to be timed once; told for one. */
  times?: number
}

/** The median of several runs. `prepare` makes what a run works on and is not timed. */
export function medianOf<T>(prepare: (run: number) => T, work: (on: T) => void, how: Runs): Took {
  const { warm, runs, times = 1 } = how
  const all: Took[] = []
  for (let run = 0; run < warm + runs; run++) {
    const on = Array.from({ length: times }, (_, at) => prepare(run * times + at))
    const one = took(() => on.forEach(work))
    if (run >= warm) all.push({ wall: one.wall / times, cpu: one.cpu / times })
  }
  return { wall: median(all.map(({ wall }) => wall)), cpu: median(all.map(({ cpu }) => cpu)) }
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const middle = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2
}
