/**
 * What is free of each resource over time: spans of even use, linked in order, the last without end. A span is found
 * by walking from an earlier one, mostly from the end of the task before, so that placing a task touches only the
 * spans it lies over.
 */
export class Profile {
  /** When each span begins. */
  time: Float64Array
  next: Int32Array
  /** What is free in each span, `width` resources side by side. */
  free: Int32Array
  readonly width: number
  /** After `cut`: the first span within, and the first behind. */
  left = 0
  right = 0
  private count = 0

  constructor(width: number, size: number) {
    this.width = width
    this.time = new Float64Array(size)
    this.next = new Int32Array(size)
    this.free = new Int32Array(size * width)
  }

  /** All free from time 0 on. */
  reset(capacity: Int32Array): void {
    this.time[firstSpan] = 0
    this.next[firstSpan] = noSpan
    this.time[noSpan] = Number.POSITIVE_INFINITY
    this.free.set(capacity, firstSpan * this.width)
    this.count = 2
  }

  /** The span that holds `time`, walking from one that begins no later. */
  spanAt(time: number, from: number): number {
    const { next, time: begins } = this
    let span = from
    for (let later = next[span]!; begins[later]! <= time; later = next[span]!) span = later
    return span
  }

  /** Makes spans begin at `from`, which lies in `span`, and at `to`. */
  cut(span: number, { from, to }: { from: number; to: number }): void {
    this.left = this.split(span, from)
    let last = this.left
    for (let later = this.next[last]!; this.time[later]! < to; later = this.next[last]!) last = later
    const behind = this.next[last]!
    this.right = this.time[behind] === to ? behind : this.split(last, to)
  }

  private split(span: number, time: number): number {
    if (this.time[span] === time) return span
    if (this.count === this.time.length) this.grow()
    const { width } = this
    const added = this.count++
    this.time[added] = time
    this.next[added] = this.next[span]!
    this.next[span] = added
    const to = added * width
    const at = span * width
    for (let resource = 0; resource < width; resource++) this.free[to + resource] = this.free[at + resource]!
    return added
  }

  private grow(): void {
    const size = 2 * this.time.length
    const time = new Float64Array(size)
    const next = new Int32Array(size)
    const free = new Int32Array(size * this.width)
    time.set(this.time)
    next.set(this.next)
    free.set(this.free)
    this.time = time
    this.next = next
    this.free = free
  }
}

/** The span that begins at 0. */
export const firstSpan = 0
/** What stands behind the last span: it begins never. */
export const noSpan = 1
