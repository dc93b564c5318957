export interface Node {
  /** Between 0 and 1. */
  at: number
  weight: number
}

const made = new Map<number, readonly Node[]>()

/**
 * Gauss–Legendre nodes on [0, 1], weights summing to 1: exact for polynomials up to degree 2·count − 1.
 * The nodes are the roots of the Legendre polynomial, found by Newton's method from the usual first guess
 * cos(π(i − ¼)/(n + ½)); the weights are 2/((1 − x²)P′(x)²), halved for the shorter interval.
 */
export function gaussLegendre(count: number): readonly Node[] {
  const known = made.get(count)
  if (known) return known
  const nodes: Node[] = []
  for (let i = 1; i <= count; i++) {
    let x = Math.cos((Math.PI * (i - 0.25)) / (count + 0.5))
    let slope = 1
    for (let round = 0; round < 100; round++) {
      let before = 1
      let value = x
      for (let degree = 2; degree <= count; degree++) {
        const next = ((2 * degree - 1) * x * value - (degree - 1) * before) / degree
        before = value
        value = next
      }
      slope = (count * (x * value - before)) / (x * x - 1)
      const step = value / slope
      x -= step
      if (Math.abs(step) < 1e-15) break
    }
    nodes.push({ at: (1 - x) / 2, weight: 1 / ((1 - x * x) * slope * slope) })
  }
  made.set(count, nodes)
  return nodes
}
