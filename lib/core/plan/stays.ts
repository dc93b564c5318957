import type { Model } from './model'
import { leastDuration } from './orders'
import type { Pool, Share } from './pools'

/** Something that has a capacity and what takes how much of it. */
export interface Room {
  capacity: number
  stays: Int32Array
  amounts: Float64Array
}

/**
 * A plan without calendars, people and all else that only makes it longer: stays of a least duration, one for each task
 * and one for each hold, with rooms that they take up. What no such plan can do, no plan can.
 */
export interface Stays {
  count: number
  duration: Float64Array
  /** Earliest start, and the least time from the end to the end of all. */
  head: Float64Array
  tail: Float64Array
  /** Pairs of which the first ends before the second begins, in turn. */
  before: Int32Array
  after: Int32Array
  /** Pairs end to end that may not lie side by side, either order being open. */
  apart: Int32Array
  rooms: Room[]
}

/** `alone` has each task by itself. */
export function staysOf(
  model: Model,
  { pools, alone }: { pools: readonly Pool[]; alone: readonly Share[] },
): Stays {
  const { tasks, ways, inTurn, succs } = model
  const duration = Array.from({ length: tasks }, (_, task) => leastDuration(task, ways))
  const head = alone.map((share) => share.head)
  const tail = alone.map((share) => share.tail)
  const rooms = pools.map(({ capacity, shares }): Room => {
    const places = shares.map((share) => {
      const place = share.task >= 0 ? share.task : duration.push(share.duration) - 1
      head[place] = share.head
      tail[place] = share.tail
      return place
    })
    return {
      capacity,
      stays: Int32Array.from(places),
      amounts: Float64Array.from(shares, ({ work, duration }) => work / duration),
    }
  })
  const before: number[] = []
  const after: number[] = []
  for (const task of inTurn) {
    for (const next of succs.all.subarray(succs.first[task]!, succs.first[task + 1]!)) {
      before.push(task)
      after.push(next)
    }
  }
  return {
    count: duration.length,
    duration: Float64Array.from(duration),
    head: Float64Array.from(head),
    tail: Float64Array.from(tail),
    before: Int32Array.from(before),
    after: Int32Array.from(after),
    apart: apart(duration.length, { rooms, before, after }),
    rooms,
  }
}

function apart(
  count: number,
  { rooms, before, after }: { rooms: readonly Room[]; before: readonly number[]; after: readonly number[] },
): Int32Array {
  const inOrder = Array.from({ length: count }, () => new Uint8Array(count))
  for (let at = before.length - 1; at >= 0; at--) {
    const [first, second] = [before[at]!, after[at]!]
    inOrder[first]![second] = 1
    for (let stay = 0; stay < count; stay++) inOrder[first]![stay]! |= inOrder[second]![stay]!
  }
  const taken = rooms.map(({ capacity, stays, amounts }) => {
    const of = new Float64Array(count)
    stays.forEach((stay, place) => {
      of[stay] = amounts[place]!
    })
    return { capacity, of }
  })
  const pairs: number[] = []
  for (let one = 0; one < count; one++) {
    for (let other = one + 1; other < count; other++) {
      if (inOrder[one]![other] === 1 || inOrder[other]![one] === 1) continue
      if (taken.some(({ capacity, of }) => of[one]! + of[other]! > capacity)) pairs.push(one, other)
    }
  }
  return Int32Array.from(pairs)
}
