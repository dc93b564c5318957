/** One row of a table of charges: what was read, and the share of a full charge that stands beside it. */
export type Point = readonly [read: number, charge: number]

/** Straight between two points of a rising table, level beyond its ends. */
export function interpolate(points: readonly Point[], read: number): number {
  const above = points.findIndex(([at]) => read <= at)
  if (above === 0) return points[0]![1]
  if (above < 0) return points.at(-1)![1]
  const [r0, c0] = points[above - 1]!
  const [r1, c1] = points[above]!
  return c0 + ((read - r0) / (r1 - r0)) * (c1 - c0)
}

/** Within 0 and 1; sums such as 0.75 + 0.1 are freed of the dust of binary fractions. */
export function withinWhole(charge: number): number {
  return Math.min(1, Math.max(0, Number(charge.toFixed(12))))
}
