import betaCdf from '@stdlib/stats-base-dists-beta-cdf'
import { gaussLegendre } from './quadrature'
import type { Uncertain } from './three-point.input'

export type { ThreePoint, Uncertain } from './three-point.input'

/**
 * Three points a ≤ m ≤ b are read as a beta-PERT variable: a beta variable stretched over [a, b] with
 * α = 1 + 4(m − a)/(b − a) and β = 1 + 4(b − m)/(b − a), so that α + β is always 6. With a = b, and for a plain
 * number, the value is certain.
 */
export function pert(value: Uncertain): { low: number; width: number; alpha: number; beta: number } {
  if (typeof value === 'number') return { low: value, width: 0, alpha: 3, beta: 3 }
  const width = value.high - value.low
  if (width <= 0) return { low: value.low, width: 0, alpha: 3, beta: 3 }
  const alpha = 1 + (4 * (value.likely - value.low)) / width
  return { low: value.low, width, alpha, beta: 6 - alpha }
}

export function lowOf(value: Uncertain): number {
  return typeof value === 'number' ? value : value.low
}

export function highOf(value: Uncertain): number {
  return typeof value === 'number' ? value : value.high
}

export function isCertain(value: Uncertain): boolean {
  return lowOf(value) === highOf(value)
}

/** (a + 4m + b)/6, as the three points are always weighed in planning by three estimates. */
export function meanOf(value: Uncertain): number {
  if (typeof value === 'number') return value
  // From the low end, so that three equal points give exactly their value.
  return value.low + (4 * (value.likely - value.low) + (value.high - value.low)) / 6
}

/** (μ − a)(b − μ)/7: the variance of a beta variable whose α + β is 6, stretched to [a, b]. */
export function varianceOf(value: Uncertain): number {
  const mean = meanOf(value)
  return ((mean - lowOf(value)) * (highOf(value) - mean)) / 7
}

export function sdOf(value: Uncertain): number {
  return Math.sqrt(varianceOf(value))
}

/** P(X ≤ x), by the regularised incomplete beta function. */
export function cdfOf(value: Uncertain, x: number): number {
  const { low, width, alpha, beta } = pert(value)
  if (x < low) return 0
  if (x >= low + width) return 1
  return betaCdf((x - low) / width, alpha, beta)
}

/**
 * E[max(0, X − threshold)]. With X = a + wB and u the threshold as a share of the width,
 * the mean of B above u is α/6 · P(B′ > u), where B′ has the parameters α + 1 and β.
 */
export function meanExcess(value: Uncertain, threshold: number): number {
  const { low, width, alpha, beta } = pert(value)
  if (threshold <= low) return meanOf(value) - threshold
  if (threshold >= low + width) return 0
  const share = (threshold - low) / width
  const above = 1 - betaCdf(share, alpha, beta)
  const meanAbove = (alpha / 6) * (1 - betaCdf(share, alpha + 1, beta))
  return Math.max(0, width * (meanAbove - share * above))
}

/**
 * Values and weights (sum 1) that stand for the variable in a mean: Σ weight · f(value) ≈ E[f(X)] for smooth f.
 * The step x = u²(3 − 2u) takes the edge off the density's powers at both ends, which are not whole numbers.
 */
export function nodesOf(value: Uncertain, count: number): { value: number; weight: number }[] {
  const { low, width, alpha, beta } = pert(value)
  if (width === 0) return [{ value: low, weight: 1 }]
  const nodes = gaussLegendre(count).map(({ at, weight }) => {
    const share = at * at * (3 - 2 * at)
    const density = share ** (alpha - 1) * (1 - share) ** (beta - 1)
    return { value: low + width * share, weight: weight * density * 6 * at * (1 - at) }
  })
  const total = nodes.reduce((sum, node) => sum + node.weight, 0)
  return nodes.map((node) => ({ value: node.value, weight: node.weight / total }))
}

const tables = new WeakMap<object, (x: number) => number>()

/**
 * A table of P(X ≤ x) at equal steps, for the many look-ups of a sum over outcomes; kept as long as the value, since one
 * sale is asked about at price after price.
 */
export function cdfTable(value: Uncertain): (x: number) => number {
  if (typeof value === 'number') return (x) => (x < value ? 0 : 1)
  const known = tables.get(value)
  if (known) return known
  const made = newCdfTable(value)
  tables.set(value, made)
  return made
}

function newCdfTable(value: Uncertain): (x: number) => number {
  const { low, width } = pert(value)
  if (width === 0) return (x) => (x < low ? 0 : 1)
  // Between the points the cdf is read off a straight line. Its second derivative is at most about 20/width²
  // (where a likely value is also the lowest or highest), so that 1/512 of the width errs by at most 20/(8 · 512²) = 1e-5.
  const steps = 512
  const table = new Float64Array(steps + 2)
  for (let i = 0; i <= steps; i++) table[i] = cdfOf(value, low + (width * i) / steps)
  table[steps] = 1
  table[steps + 1] = 1
  return (x) => {
    const place = ((x - low) / width) * steps
    if (!(place > 0)) return 0
    if (place >= steps) return 1
    const index = Math.floor(place)
    const before = table[index]!
    return before + (table[index + 1]! - before) * (place - index)
  }
}

/** Every point of a value through a function that keeps their order. */
export function mapUncertain(value: Uncertain, through: (point: number) => number): Uncertain {
  if (typeof value === 'number') return through(value)
  return { low: through(value.low), likely: through(value.likely), high: through(value.high) }
}
