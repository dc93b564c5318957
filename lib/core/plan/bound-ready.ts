import { costOf, readyTimes } from './cost'
import type { Model } from './model'
import type { OpenTimes } from './open-times'
import { type Pool, poolsOf, type Share } from './pools'
import { earliestOf } from './windows'

/**
 * A bound for weights and ready times. A bike is ready no sooner than any of its shares ends and its tail has passed,
 * so no sooner than any average of these over its shares. Given such averages, each pool by itself can be used best:
 * work may be split and goes at the pool's full rate, and then the share that counts most for its size goes first
 * (mean busy times: Goemans, Queyranne, Schulz, Skutella and Wang 2002; for one technician without releases this is
 * Smith's rule, and exact). What counts in the average is moved towards the shares that end last (subgradients, Held
 * and Karp 1971), so that the bound grows. A promise counts by a slope between 0 and what being late costs.
 */
export function boundOfReady(model: Model, rounds: number): ReadyBound {
  const alone = costOf(model, readyTimes(model, earliestOf(model).finish))
  const relaxed = new Relaxed(model)
  let best = alone
  for (let round = 0; round < rounds; round++) {
    best = Math.max(best, relaxed.value())
    relaxed.step(1.5 / (1 + round / 6))
  }
  return { bound: best, bikes: relaxed.bikeEnds(), tasks: relaxed.taskEnds() }
}

export interface ReadyBound {
  bound: number
  /** When bikes and tasks end where the bound comes from: a hint at a good order. */
  bikes: Float64Array
  tasks: Float64Array
}

interface Term {
  share: Share
  /** Its part of its bike's average. */
  part: number
  /** Earliest end in the pool as it is used now. */
  end: number
}

class Relaxed {
  private readonly model: Model
  private readonly terms: Term[][]
  private readonly pools: { pool: Pool; terms: Term[]; clock: WorkClock }[]
  private readonly free: Term[]
  /** How much a time unit past the promise counts for each bike. */
  private readonly slope: Float64Array

  constructor(model: Model) {
    const { pools, free } = poolsOf(model)
    const termOf = (share: Share): Term => ({ share, part: 0, end: share.head + share.duration })
    this.model = model
    this.pools = pools.map((pool) => ({
      pool,
      terms: pool.shares.map(termOf).sort((a, b) => a.share.head - b.share.head),
      clock: new WorkClock(pool.open),
    }))
    this.free = free.map(termOf)
    this.terms = Array.from({ length: model.bikes.count }, () => [])
    const finish = earliestOf(model).finish
    for (const [task, term] of this.free.entries()) term.end = finish[task]!
    for (const term of [...this.pools.flatMap(({ terms }) => terms), ...this.free])
      this.terms[term.share.bike]!.push(term)
    this.slope = Float64Array.from(model.bikes.due, (due) => (due === Number.POSITIVE_INFINITY ? 0 : 0.5))
    this.begin(pools)
  }

  /** At first the pool counts that is pressed hardest, each share by its work; of it little is left to single tasks. */
  private begin(pools: readonly Pool[]): void {
    const pressure = pools.map(
      ({ shares, capacity }) => shares.reduce((sum, { work }) => sum + work, 0) / capacity,
    )
    const most = pressure.indexOf(Math.max(...pressure))
    const hardest = most < 0 ? [] : this.pools[most]!.terms
    for (const term of this.free) term.part = 1e-3
    for (const { terms } of this.pools) for (const term of terms) term.part = 1e-3 * term.share.work
    for (const term of hardest) term.part = term.share.work
    for (const terms of this.terms) evenOut(terms)
  }

  value(): number {
    const { bikes } = this.model
    const weight = bikes.weight.map((one, bike) => one + this.slopeOf(bike))
    for (const { pool, terms, clock } of this.pools)
      workBest(terms, { weight, capacity: pool.capacity, clock })
    let value = 0
    for (let bike = 0; bike < bikes.count; bike++) {
      value += weight[bike]! * this.averageOf(bike)
      if (this.slopeOf(bike) > 0) value -= this.slopeOf(bike) * bikes.due[bike]!
    }
    return value
  }

  step(size: number): void {
    const { bikes } = this.model
    for (let bike = 0; bike < bikes.count; bike++) {
      const terms = this.terms[bike]!
      const average = this.averageOf(bike)
      if (bikes.late[bike]! > 0 && bikes.due[bike]! < Number.POSITIVE_INFINITY) {
        const past = (average - bikes.due[bike]!) / (1 + average + bikes.due[bike]!)
        this.slope[bike] = Math.min(1, Math.max(0, this.slope[bike]! + size * past))
      }
      let widest = 1e-9
      for (const { share, end } of terms) widest = Math.max(widest, Math.abs(end + share.tail - average))
      for (const term of terms)
        term.part *= Math.exp((size * (term.end + term.share.tail - average)) / widest)
      evenOut(terms)
    }
  }

  bikeEnds(): Float64Array {
    return this.model.bikes.weight.map((_, bike) => this.averageOf(bike))
  }

  /** By the term that counts most. */
  taskEnds(): Float64Array {
    const part = new Float64Array(this.model.tasks).fill(-1)
    const ends = new Float64Array(this.model.tasks)
    for (const { share, part: counts, end } of this.terms.flat()) {
      if (share.task < 0 || counts <= part[share.task]!) continue
      part[share.task] = counts
      ends[share.task] = end
    }
    return ends
  }

  private slopeOf(bike: number): number {
    return this.slope[bike]! * this.model.bikes.late[bike]!
  }

  private averageOf(bike: number): number {
    const terms = this.terms[bike]!
    if (terms.length === 0) return this.model.bikes.release[bike]!
    let average = 0
    for (const { part, end, share } of terms) average += part * (end + share.tail)
    return average
  }
}

function evenOut(terms: readonly Term[]): void {
  let sum = 0
  for (const { part } of terms) sum += part
  for (const term of terms) term.part = Math.max(1e-12, term.part / sum)
  let again = 0
  for (const { part } of terms) again += part
  for (const term of terms) term.part /= again
}

/** Ends such that Σ weight · part · end is least: at any time the share at work is the one that counts most for its size. */
function workBest(
  terms: readonly Term[],
  { weight, capacity, clock }: { weight: Float64Array; capacity: number; clock: WorkClock },
): void {
  const worth = terms.map(({ share, part }) => (weight[share.bike]! * part) / share.work)
  const left = terms.map(({ share }) => share.work / capacity)
  const moment = terms.map(() => 0)
  const heap = new Heap(worth)
  let arrived = 0
  let now = 0
  while (arrived < terms.length || heap.size > 0) {
    if (heap.size === 0) now = Math.max(now, clock.worked(terms[arrived]!.share.head))
    while (arrived < terms.length && clock.worked(terms[arrived]!.share.head) <= now) heap.push(arrived++)
    const at = heap.top()
    const until = arrived < terms.length ? clock.worked(terms[arrived]!.share.head) : Number.POSITIVE_INFINITY
    const length = Math.min(left[at]!, until - now)
    moment[at]! += clock.momentOf(now, now + length)
    left[at]! -= length
    now += length
    if (left[at]! <= 1e-12) heap.pop()
  }
  terms.forEach((term, at) => {
    const { work, duration } = term.share
    term.end = (moment[at]! * capacity) / work + duration / 2
  })
}

/** Time as work goes on: it stands still while closed. After the last open time it runs on, which only lowers a bound. */
class WorkClock {
  private readonly from: Float64Array
  private readonly to: Float64Array
  /** Open time before each open time, and ∫ of the real time over it. */
  private readonly before: Float64Array
  private readonly moments: Float64Array

  constructor(open: OpenTimes | null) {
    const spans = open === null ? [] : open.spans()
    const last = spans.at(-1)?.[1] ?? 0
    spans.push([last, Number.POSITIVE_INFINITY])
    this.from = Float64Array.from(spans, ([from]) => from)
    this.to = Float64Array.from(spans, ([, to]) => to)
    this.before = new Float64Array(spans.length)
    this.moments = new Float64Array(spans.length)
    for (let at = 1; at < spans.length; at++) {
      const [from, to] = spans[at - 1]!
      this.before[at] = this.before[at - 1]! + to - from
      this.moments[at] = this.moments[at - 1]! + (to - from) * ((from + to) / 2)
    }
  }

  /** Open time before a real time. */
  worked(time: number): number {
    const at = this.place(this.to, time)
    return this.before[at]! + Math.max(0, time - this.from[at]!)
  }

  /** ∫ of the real time from one moment of work to another. */
  momentOf(from: number, to: number): number {
    return this.upTo(to) - this.upTo(from)
  }

  private upTo(worked: number): number {
    // The last span that begins before so much was worked.
    let low = 0
    let high = this.before.length - 1
    while (low < high) {
      const middle = (low + high + 1) >> 1
      if (this.before[middle]! <= worked) low = middle
      else high = middle - 1
    }
    const since = worked - this.before[low]!
    return this.moments[low]! + since * (this.from[low]! + since / 2)
  }

  /** The first span that ends after `time`. */
  private place(ends: Float64Array, time: number): number {
    let low = 0
    let high = ends.length - 1
    while (low < high) {
      const middle = (low + high) >> 1
      if (ends[middle]! > time) high = middle
      else low = middle + 1
    }
    return low
  }
}

/** Places, the one of the greatest worth on top. */
class Heap {
  private readonly worth: readonly number[]
  private readonly all: number[] = []

  constructor(worth: readonly number[]) {
    this.worth = worth
  }

  get size(): number {
    return this.all.length
  }

  top(): number {
    return this.all[0]!
  }

  push(place: number): void {
    const { all, worth } = this
    let at = all.push(place) - 1
    while (at > 0) {
      const above = (at - 1) >> 1
      if (worth[all[above]!]! >= worth[place]!) break
      all[at] = all[above]!
      at = above
    }
    all[at] = place
  }

  pop(): void {
    const { all, worth } = this
    const last = all.pop()!
    if (all.length === 0) return
    let at = 0
    for (;;) {
      let below = 2 * at + 1
      if (below >= all.length) break
      if (below + 1 < all.length && worth[all[below + 1]!]! > worth[all[below]!]!) below++
      if (worth[all[below]!]! <= worth[last]!) break
      all[at] = all[below]!
      at = below
    }
    all[at] = last
  }
}
