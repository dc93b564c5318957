import { type Atom, bodyUpTo, quantile, type Spread } from './spread'

/** The outline of a distribution, small enough to be sent and drawn. */
export interface Shape {
  /** Between them lie 99 % of the probability. */
  from: number
  to: number
  /** Equally spaced from `from` to `to`; y is the density relative to its highest point here, 0 to 1. */
  points: { x: number; y: number }[]
  /** Single values that carry probability of their own, ascending. */
  atoms: Atom[]
}

/** What lies further out is a thin tail that may be many times as long as all that can be seen. */
export const drawnBetween = { low: 0.005, high: 0.995 } as const

/** More single values than this are drawn as density. */
const mostAtoms = 12

export interface Outlined {
  from: number
  to: number
  atoms: readonly Atom[]
  /** P(X ≤ x) without the atoms. */
  bodyUpTo(x: number): number
}

export function shapeOf(spread: Spread): Shape {
  return outline({
    from: quantile(spread, drawnBetween.low),
    to: quantile(spread, drawnBetween.high),
    atoms: spread.atoms,
    bodyUpTo: (x) => bodyUpTo(spread.body, x),
  })
}

/** 41 points, each with the probability of the stretch around it. */
export function outline({ from, to, atoms, bodyUpTo }: Outlined): Shape {
  const few = atoms.length <= mostAtoms ? atoms.filter(({ mass }) => mass > 0) : []
  if (to <= from) return { from, to, points: [], atoms: [...few] }
  const asBody = few.length < atoms.length ? atoms : []
  const upTo = (x: number) =>
    asBody.reduce((sum, atom) => (atom.at <= x ? sum + atom.mass : sum), 0) + bodyUpTo(x)
  const steps = 40
  const step = (to - from) / steps
  const densities = Array.from({ length: steps + 1 }, (_, place) => {
    const x = from + step * place
    return Math.max(0, upTo(x + step / 2) - upTo(x - step / 2))
  })
  const highest = Math.max(...densities)
  return {
    from,
    to,
    points: densities.map((density, place) => ({
      x: from + step * place,
      y: highest > 0 ? density / highest : 0,
    })),
    atoms: [...few],
  }
}
