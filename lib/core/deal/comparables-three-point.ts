import { cdfOf, type ThreePoint } from '../quantity/three-point'

/**
 * The three points whose beta variable has `low` as its 10 % level, `high` as its 90 % level and, where its shape can
 * lean that far, `middle` as its 50 % level. A beta variable with α + β = 6 puts its middle between 31 % and 69 % of
 * the way from the one level to the other; a middle outside that is met as nearly as can be. No point falls below 0:
 * where one would, it is 0 and the levels are met no longer. `low` ≤ `middle` ≤ `high`; not rounded.
 */
export function pertThrough({
  low,
  middle,
  high,
}: {
  low: number
  middle: number
  high: number
}): ThreePoint {
  if (high <= low) return { low, likely: low, high: low }
  const wanted = (middle - low) / (high - low)
  const likelyAt = solve((at) => middleOf(levelsOf(at)) - wanted, 20)
  const levels = levelsOf(likelyAt)
  const width = (high - low) / (levels.high - levels.low)
  const lowest = low - width * levels.low
  const points = [lowest, lowest + width * likelyAt, lowest + width]
  const [a, m, b] = points.map((point) => Math.max(0, point)) as [number, number, number]
  return { low: a, likely: m, high: b }
}

type Levels = { low: number; middle: number; high: number }

/** Where the 10, 50 and 90 % levels lie on a variable from 0 to 1 with its most likely value at `likely`. */
function levelsOf(likely: number): Levels {
  const variable = { low: 0, likely, high: 1 }
  const level = (share: number) => solve((x) => cdfOf(variable, x) - share)
  return { low: level(0.1), middle: level(0.5), high: level(0.9) }
}

/** The further the most likely value lies to the right, the nearer the middle is to the upper level. */
function middleOf({ low, middle, high }: Levels): number {
  return (middle - low) / (high - low)
}

/**
 * Where a function that grows from 0 to 1 passes zero, or the end that is nearest to it. After 34 halvings it is known
 * to 6e-11: far below a minor unit of any price. For the shape 20 are enough, since the outer levels follow from it.
 */
function solve(growing: (at: number) => number, steps = 34): number {
  let [from, to] = [0, 1]
  if (growing(from) >= 0) return from
  if (growing(to) <= 0) return to
  for (let step = 0; step < steps; step++) {
    const half = (from + to) / 2
    if (growing(half) < 0) from = half
    else to = half
  }
  return (from + to) / 2
}
