/**
 * When something may run: open times in ascending order, none touching the next. After the last all is closed.
 * Searches are by halving, so that many days cost little.
 */
export class OpenTimes {
  readonly opens: Float64Array
  readonly closes: Float64Array
  /** Open time before each of the open times. */
  private readonly before: Float64Array

  constructor(times: readonly (readonly [number, number])[]) {
    const joined = joinedUp(times)
    this.opens = Float64Array.from(joined, ([from]) => from)
    this.closes = Float64Array.from(joined, ([, to]) => to)
    this.before = new Float64Array(joined.length + 1)
    for (let at = 0; at < joined.length; at++)
      this.before[at + 1] = this.before[at]! + this.closes[at]! - this.opens[at]!
  }

  static both(a: OpenTimes, b: OpenTimes): OpenTimes {
    const times: [number, number][] = []
    let i = 0
    let j = 0
    while (i < a.opens.length && j < b.opens.length) {
      const from = Math.max(a.opens[i]!, b.opens[j]!)
      const to = Math.min(a.closes[i]!, b.closes[j]!)
      if (from < to) times.push([from, to])
      if (a.closes[i]! < b.closes[j]!) i++
      else j++
    }
    return new OpenTimes(times)
  }

  static either(a: OpenTimes, b: OpenTimes): OpenTimes {
    const all = [...a.spans(), ...b.spans()].sort((one, other) => one[0] - other[0])
    const times: [number, number][] = []
    for (const [from, to] of all) {
      const last = times.at(-1)
      if (last && from <= last[1]) last[1] = Math.max(last[1], to)
      else times.push([from, to])
    }
    return new OpenTimes(times)
  }

  spans(): [number, number][] {
    return Array.from(this.opens, (from, at): [number, number] => [from, this.closes[at]!])
  }

  /** The same seen from `end`, time running back. */
  mirrored(end: number): OpenTimes {
    const times = this.spans().map(([from, to]): [number, number] => [end - to, end - from])
    return new OpenTimes(times.reverse())
  }

  longest(): number {
    let longest = 0
    for (let at = 0; at < this.opens.length; at++)
      longest = Math.max(longest, this.closes[at]! - this.opens[at]!)
    return longest
  }

  total(): number {
    return this.before[this.opens.length]!
  }

  /** Open time from `from` to `to`. */
  within(from: number, to: number): number {
    return this.openBefore(to) - this.openBefore(from)
  }

  /** The first start from `earliest` on for work that runs without a break; Infinity where none is left. */
  startUnbroken(earliest: number, duration: number): number {
    for (let at = this.placeAt(earliest); at < this.opens.length; at++) {
      const start = Math.max(earliest, this.opens[at]!)
      if (start + duration <= this.closes[at]!) return start
    }
    return Number.POSITIVE_INFINITY
  }

  /** The first start from `earliest` on for work that stops at closing and goes on at opening. */
  startPausable(earliest: number, duration: number): number {
    let at = this.placeAt(earliest)
    if (duration > 0 && at < this.opens.length && this.closes[at]! === earliest) at++
    return at < this.opens.length ? Math.max(earliest, this.opens[at]!) : Number.POSITIVE_INFINITY
  }

  /** The end of work that starts at an open time; Infinity where the open times run out. */
  endPausable(start: number, duration: number): number {
    if (duration === 0 || start === Number.POSITIVE_INFINITY) return start
    const today = this.last
    if (this.opens[today]! <= start && start + duration <= this.closes[today]!) return start + duration
    const done = this.openBefore(start) + duration
    if (done > this.total()) return Number.POSITIVE_INFINITY
    // The first open time by whose end so much has been open; mostly one of the next.
    let low = this.last
    let high = this.opens.length - 1
    for (let near = 0; near < 3 && low < high; near++) {
      if (this.before[low + 1]! >= done) high = low
      else low++
    }
    while (low < high) {
      const middle = (low + high) >> 1
      if (this.before[middle + 1]! >= done) high = middle
      else low = middle + 1
    }
    return this.opens[low]! + done - this.before[low]!
  }

  private openBefore(time: number): number {
    const at = this.placeAt(time)
    if (at >= this.opens.length) return this.total()
    return this.before[at]! + Math.max(0, time - this.opens[at]!)
  }

  /** The first open time that closes at `time` or later: mostly the one found last, or the next. */
  private placeAt(time: number): number {
    const { closes } = this
    for (let at = this.last; at < this.last + 3 && at < closes.length; at++) {
      if (closes[at]! < time) continue
      if (at > 0 && closes[at - 1]! >= time) break
      this.last = at
      return at
    }
    this.last = this.searched(time)
    return this.last
  }

  private last = 0

  private searched(time: number): number {
    let low = 0
    let high = this.closes.length
    while (low < high) {
      const middle = (low + high) >> 1
      if (this.closes[middle]! >= time) high = middle
      else low = middle + 1
    }
    return low
  }
}

function joinedUp(times: readonly (readonly [number, number])[]): [number, number][] {
  const joined: [number, number][] = []
  for (const [from, to] of times) {
    const last = joined.at(-1)
    if (last && last[1] === from) last[1] = to
    else joined.push([from, to])
  }
  return joined
}
