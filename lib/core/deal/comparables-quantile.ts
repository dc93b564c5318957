export type Weighted = { value: number; weight: number }

/**
 * Kish's effective size (Σw)²/Σw²: how many equally weighted values would be as good. 0 without any weight.
 * L. Kish, Survey Sampling, 1965.
 */
export function effectiveSize(weights: readonly number[]): number {
  // Measured by the largest, so that the squares of very small weights do not vanish.
  const largest = Math.max(0, ...weights)
  if (largest === 0) return 0
  let sum = 0
  let squares = 0
  for (const weight of weights) {
    const part = weight / largest
    sum += part
    squares += part * part
  }
  return (sum * sum) / squares
}

/**
 * The quantile at level p, from 0 to 1, of values with weights. F⁻¹ is the inverse of the weighted distribution
 * function, a step for each value as wide as its share of all weight. The quantile is the mean of F⁻¹ over a window
 * that is one n-th wide and slides from the left end (p = 0) to the right end (p = 1):
 *
 *     Q(p) = n · ∫ F⁻¹(t) dt   over   p·(n − 1)/n ≤ t ≤ p·(n − 1)/n + 1/n
 *
 * with n the effective size. With equal weights this is the usual interpolation between neighbours at (n − 1)p
 * (Hyndman & Fan 1996, definition 7); it moves without a jump where a weight or a value does, and a weight of 0
 * changes nothing. A. Akinshin, Weighted quantile estimators, arXiv 2304.07265, type 7. `size` takes the place of
 * the effective size where whole-number weights count repeated values.
 *
 * @throws RangeError where nothing has a weight.
 */
export function weightedQuantile(
  points: readonly Weighted[],
  { level, size }: { level: number; size?: number },
): number {
  const sorted = points.filter(({ weight }) => weight > 0).sort((a, b) => a.value - b.value)
  const total = sorted.reduce((sum, { weight }) => sum + weight, 0)
  const [first] = sorted
  if (!first) throw new RangeError('A quantile needs a value that has a weight.')
  const n = Math.max(1, size ?? effectiveSize(sorted.map(({ weight }) => weight)))
  const from = (level * (n - 1)) / n
  const to = from + 1 / n
  let upTo = 0
  // From the first value, so that equal values give exactly their value.
  let above = 0
  for (const { value, weight } of sorted) {
    const before = upTo
    upTo += weight / total
    const within = Math.max(0, Math.min(to, upTo) - Math.max(from, before))
    above += n * within * (value - first.value)
  }
  return first.value + above
}
