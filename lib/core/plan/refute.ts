import type { Room, Stays } from './stays'

/** Moves lead to moves, less and less far. */
const mostRounds = 20

/**
 * Whether all can end by some time, asked by what would follow (constraint propagation): each stay has a window that it
 * must lie in, and windows are narrowed until nothing changes or one is too small. What narrows them:
 *
 * - what comes after what;
 * - two stays that have no room beside each other: where the one cannot go first, the other does (immediate selection,
 *   Carlier and Pinson 1989);
 * - the work that a room must do in a stretch of time (energetic reasoning: Erschler, Lopez and Thuriot 1991; the form
 *   with its ramps and the moves that follow from it: Baptiste, Le Pape and Nuijten 1999);
 * - trying: a stay is held to one part of its window; if that cannot be, it lies in the other (shaving: Carlier and
 *   Pinson 1994; Martin and Shmoys 1996).
 *
 * Klein and Scholl (1999) call it destructive improvement: the first end that is not refuted is a bound.
 */
export class Refuter {
  private readonly stays: Stays
  /** Earliest start and latest end of each stay. */
  private readonly from: Float64Array
  private readonly to: Float64Array
  /** Windows as they were before something was tried. */
  private readonly fromBefore: Float64Array
  private readonly toBefore: Float64Array
  private readonly events: Float64Array
  /** Its beginnings, by length: a view made anew each time would cost more than the few events it is for. */
  private readonly firsts: Float64Array[]
  /** How many steps of work may still be spent. */
  private left: number

  constructor(stays: Stays, { steps }: { steps: number }) {
    this.stays = stays
    this.left = steps
    this.from = new Float64Array(stays.count)
    this.to = new Float64Array(stays.count)
    this.fromBefore = new Float64Array(stays.count)
    this.toBefore = new Float64Array(stays.count)
    this.events = new Float64Array(2 * stays.count)
    this.firsts = Array.from({ length: 2 * stays.count + 1 }, (_, length) => this.events.subarray(0, length))
  }

  get isSpent(): boolean {
    return this.left <= 0
  }

  /** Proven that not all can end by `end`. False also where the steps ran out before. */
  refutes(end: number): boolean {
    const { stays, from, to } = this
    for (let stay = 0; stay < stays.count; stay++) {
      from[stay] = stays.head[stay]!
      to[stay] = end - stays.tail[stay]!
    }
    if (!this.narrow({ moving: true })) return true
    let narrower = true
    while (narrower && !this.isSpent) {
      narrower = false
      for (let stay = 0; stay < stays.count && !this.isSpent; stay++) {
        const sides = [this.tried(stay, 'early'), this.tried(stay, 'late')]
        if (sides.includes('never')) return true
        if (sides.includes('narrower')) narrower = true
      }
    }
    return false
  }

  /** Takes away from one side of a stay's window what proves impossible there. */
  private tried(stay: number, side: 'early' | 'late'): 'same' | 'narrower' | 'never' {
    const { stays, from, to, fromBefore, toBefore } = this
    let slack = to[stay]! - from[stay]! - stays.duration[stay]!
    let narrower = false
    for (let part = Math.floor(slack / 2); slack >= 1; part = Math.floor(part / 2)) {
      fromBefore.set(from)
      toBefore.set(to)
      if (side === 'early') to[stay] = from[stay]! + stays.duration[stay]! + part
      else from[stay] = to[stay]! - stays.duration[stay]! - part
      const can = this.narrow({ moving: false })
      from.set(fromBefore)
      to.set(toBefore)
      if (can && part === 0) break
      if (can) continue
      narrower = true
      if (side === 'early') from[stay]! += part + 1
      else to[stay]! -= part + 1
      if (!this.narrow({ moving: false })) return 'never'
      slack = to[stay]! - from[stay]! - stays.duration[stay]!
      part = 2 * Math.min(part, Math.floor(slack / 2)) + 1
    }
    if (!narrower) return 'same'
    return this.narrow({ moving: true }) ? 'narrower' : 'never'
  }

  /** Narrows the windows as far as it goes; false where something has no place left. `moving`: also by what is dear. */
  private narrow({ moving }: { moving: boolean }): boolean {
    for (let round = 0; ; round++) {
      if (!this.byOrder()) return false
      const pairs = this.byPairs()
      if (pairs === 'never') return false
      if (pairs === 'narrower') continue
      if (this.isSpent) return true
      for (const room of this.stays.rooms) if (this.isOverfull(room)) return false
      if (!moving || round > mostRounds) return true
      let moved = false
      for (const room of this.stays.rooms) if (this.move(room)) moved = true
      if (!moved) return true
    }
  }

  private byOrder(): boolean {
    const { from, to } = this
    const { before, after, duration, count } = this.stays
    this.left -= before.length
    for (let at = 0; at < before.length; at++) {
      const first = before[at]!
      const second = after[at]!
      const soonest = from[first]! + duration[first]!
      if (soonest > from[second]!) from[second] = soonest
    }
    for (let at = before.length - 1; at >= 0; at--) {
      const first = before[at]!
      const second = after[at]!
      const latest = to[second]! - duration[second]!
      if (latest < to[first]!) to[first] = latest
    }
    for (let stay = 0; stay < count; stay++) if (from[stay]! + duration[stay]! > to[stay]!) return false
    return true
  }

  private byPairs(): 'same' | 'narrower' | 'never' {
    const { from, to } = this
    const { apart, duration } = this.stays
    this.left -= apart.length
    let narrower = false
    for (let at = 0; at < apart.length; at += 2) {
      let first = apart[at]!
      let second = apart[at + 1]!
      const firstCan = from[first]! + duration[first]! <= to[second]! - duration[second]!
      const secondCan = from[second]! + duration[second]! <= to[first]! - duration[first]!
      if (firstCan && secondCan) continue
      if (!firstCan && !secondCan) return 'never'
      if (secondCan) [first, second] = [second, first]
      const soonest = from[first]! + duration[first]!
      const latest = to[second]! - duration[second]!
      if (soonest > from[second]!) {
        from[second] = soonest
        narrower = true
      }
      if (latest < to[first]!) {
        to[first] = latest
        narrower = true
      }
    }
    return narrower ? 'narrower' : 'same'
  }

  /**
   * Whether some stretch of time asks more of a room than it has. From a given beginning on, what a stay must do before
   * some time grows along a ramp from its latest start, up to what it cannot do before the beginning.
   */
  private isOverfull({ capacity, stays, amounts }: Room): boolean {
    const { from, to, events } = this
    const { duration } = this.stays
    const { length } = stays
    this.left -= 2 * length
    for (let at = 0; at < 2 * length; at++) {
      const one = stays[at >> 1]!
      const begin = at % 2 === 0 ? from[one]! : to[one]! - duration[one]!
      let count = 0
      for (let place = 0; place < length; place++) {
        const stay = stays[place]!
        const most = Math.min(duration[stay]!, from[stay]! + duration[stay]! - begin)
        if (most <= 0) continue
        const start = Math.max(begin, to[stay]! - duration[stay]!)
        events[count++] = start * 8192 + 2 * place
        events[count++] = (start + most) * 8192 + 2 * place + 1
      }
      if (count < 4) continue
      this.left -= 4 * count
      const sorted = this.firsts[count]!.sort()
      let slope = 0
      let work = 0
      let last = begin
      for (let place = 0; place < count; place++) {
        const event = sorted[place]!
        const time = Math.floor(event / 8192)
        const code = event - time * 8192
        work += slope * (time - last)
        last = time
        if (code % 2 === 0) slope += amounts[code >> 1]!
        else {
          if (work > capacity * (time - begin) + 1e-7) return true
          slope -= amounts[code >> 1]!
        }
      }
    }
    return false
  }

  /** Stays that can not lie as early (as late) as they would: a stretch has no room for so much of them. */
  private move({ capacity, stays, amounts }: Room): boolean {
    const { from, to } = this
    const { duration } = this.stays
    const { length } = stays
    let moved = false
    const begins = ascending(stays, (stay) => [from[stay]!, to[stay]! - duration[stay]!])
    const ends = ascending(stays, (stay) => [to[stay]!, from[stay]! + duration[stay]!])
    const musts = new Float64Array(length)
    const steps = begins.length * ends.length * length
    if (steps > this.left) return false
    this.left -= steps
    for (const begin of begins) {
      for (const end of ends) {
        if (end <= begin) continue
        let work = 0
        for (let place = 0; place < length; place++) {
          const stay = stays[place]!
          const early = from[stay]! + duration[stay]! - begin
          const late = end - to[stay]! + duration[stay]!
          const must = Math.min(duration[stay]!, end - begin, early, late)
          musts[place] = must > 0 ? must * amounts[place]! : 0
          work += musts[place]!
        }
        const room = capacity * (end - begin) - work
        for (let place = 0; place < length; place++) {
          const stay = stays[place]!
          const amount = amounts[place]!
          // What a stay can have of the stretch beside all others' musts.
          const own = (room + musts[place]!) / amount + 1e-7
          const span = Math.min(duration[stay]!, end - begin)
          if (
            Math.min(span, from[stay]! + duration[stay]! - begin) > own &&
            from[stay]! < end - Math.floor(own)
          ) {
            from[stay] = end - Math.floor(own)
            moved = true
          }
          if (
            Math.min(span, end - to[stay]! + duration[stay]!) > own &&
            to[stay]! > begin + Math.floor(own)
          ) {
            to[stay] = begin + Math.floor(own)
            moved = true
          }
        }
      }
    }
    return moved
  }
}

function ascending(stays: Int32Array, timesOf: (stay: number) => number[]): number[] {
  return [...new Set(Array.from(stays, timesOf).flat())].sort((a, b) => a - b)
}
