import { extent } from 'd3-array'
import { scaleLinear } from 'd3-scale'

/*
 * The geometry of the pictures, apart from their drawing. Places across are per cent of the picture's width,
 * so that one drawing fits a phone and a desk while its letters keep their size.
 */

export type Point = { x: number; y: number }

/** Where on the width (0 to 100) a value stands; values outside the domain are kept at the edge. */
export type Across = ((value: number) => number) & { domain: readonly [number, number] }

/** A scale over all values, with some room at both ends so that no mark touches the edge. */
export function acrossOf(values: readonly number[], room = 0.08): Across {
  const [low = 0, high = 1] = extent(values.filter(Number.isFinite))
  const width = high - low || Math.abs(high) || 1
  return across([low - width * room, high + width * room])
}

/** A scale over a given domain. */
export function across(domain: readonly [number, number]): Across {
  const scale = scaleLinear().domain(domain).range([0, 100]).clamp(true)
  return Object.assign((value: number) => hundredth(scale(value)), { domain })
}

/** At most about `count` round values inside a domain. */
export function roundValues(domain: readonly [number, number], count: number): number[] {
  return scaleLinear().domain(domain).ticks(count)
}

export type Anchor = 'start' | 'middle' | 'end'

/** How a label at a place is set so that it stays inside the picture. */
export function anchorAt(percent: number): Anchor {
  if (percent < 15) return 'start'
  return percent > 85 ? 'end' : 'middle'
}

/** The same for a label of several words, which takes up to half of a phone's width. */
export function anchorOfWide(percent: number): Anchor {
  if (percent < 35) return 'start'
  return percent > 65 ? 'end' : 'middle'
}

/** The part of an outline on one side of a value; it gets a corner where the value cuts it. */
export function cutAt(outline: readonly Point[], at: number, side: 'below' | 'above'): Point[] {
  const keeps = (point: Point) => (side === 'below' ? point.x <= at : point.x >= at)
  const kept: Point[] = []
  outline.forEach((point, index) => {
    const before = outline[index - 1]
    if (before && keeps(before) !== keeps(point) && before.x !== at && point.x !== at) {
      const share = (at - before.x) / (point.x - before.x)
      kept.push({ x: at, y: before.y + share * (point.y - before.y) })
    }
    if (keeps(point)) kept.push(point)
  })
  return kept
}

/** The area under an outline as an SVG path on a field 100 wide and `height` high, the highest point on top. */
export function areaPath(
  outline: readonly Point[],
  given: { across: Across; height: number; highest: number },
): string {
  const first = outline[0]
  const last = outline.at(-1)
  if (!first || !last || outline.length < 2 || given.highest <= 0) return ''
  const { across, height, highest } = given
  const place = ({ x, y }: Point) => `${across(x)} ${hundredth(height - (y / highest) * height)}`
  return `M${across(first.x)} ${height}L${outline.map(place).join('L')}L${across(last.x)} ${height}Z`
}

export type Step = { label: string; minor: number; part: 'start' | 'less' | 'more' | 'result' }
export type DrawnStep = Step & { from: number; to: number; below: boolean }

/**
 * A staircase from the first amount to the result: each `less` takes off and each `more` adds to what is left.
 * `minor` of `less` and `more` is a size; `result` stands on zero again. Places are per cent of the width.
 */
export function stairs(steps: readonly Step[]): { drawn: DrawnStep[]; zero: number } {
  let left = 0
  const spans = steps.map((step) => {
    const [from, to] = spanOf(step, left)
    left = to
    return { ...step, from, to }
  })
  const place = acrossOf([0, ...spans.flatMap(({ from, to }) => [from, to])], 0.01)
  const drawn = spans.map(({ from, to, ...step }) => ({
    ...step,
    from: place(Math.min(from, to)),
    to: place(Math.max(from, to)),
    below: to < 0,
  }))
  return { drawn, zero: place(0) }
}

function spanOf({ part, minor }: Step, left: number): [number, number] {
  if (part === 'less') return [left, left - minor]
  return part === 'more' ? [left, left + minor] : [0, minor]
}

function hundredth(value: number): number {
  return Math.round(value * 100) / 100
}
