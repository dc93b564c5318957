import type { Atom } from '../quantity/spread'
import type { Likelihood, Measured, Sums } from './outcome-spread'
import type { OutcomePart, Step } from './outcomes'

/** The least and the most that can come out. */
export function extremesOf(
  { certain, parts, fasteners }: Measured,
  { chances: byCare }: Likelihood,
): { min: number; max: number } {
  let min = Number.POSITIVE_INFINITY
  let max = Number.NEGATIVE_INFINITY
  for (const { factor } of fasteners) {
    for (const chances of byCare) {
      let low = factor * certain.fastened.low + certain.other.low
      let high = factor * certain.fastened.high + certain.other.high
      for (const { part, sums } of parts) {
        const ofPart = extremesOfPart(part, { sums, chances, factor })
        low += ofPart.low
        high += ofPart.high
      }
      min = Math.min(min, low)
      max = Math.max(max, high)
    }
  }
  return { min, max }
}

interface State {
  sums: readonly Sums[]
  chances: readonly number[]
  factor: number
}

function extremesOfPart(part: OutcomePart, { sums, chances, factor }: State): { low: number; high: number } {
  const add = (units: readonly number[], end: 'low' | 'high') =>
    units.reduce((sum, unit) => sum + factor * sums[unit]!.fastened[end] + sums[unit]!.other[end], 0)
  const lows = part.products.map((units) => add(units, 'low'))
  const highs = part.products.map((units) => add(units, 'high'))
  let low = [0]
  let high = [0]
  for (const step of part.steps) {
    const nextLow = new Array<number>(step.states).fill(Number.POSITIVE_INFINITY)
    const nextHigh = new Array<number>(step.states).fill(Number.NEGATIVE_INFINITY)
    const nothing = chanceOfNothing(step, chances)
    for (let link = 0; link < step.from.length; link++) {
      const from = step.from[link]!
      const to = step.to[link]!
      const way = step.ways[step.way[link]!]!
      if (way.nothing && nothing > 0) {
        nextLow[to] = Math.min(nextLow[to]!, low[from]!)
        nextHigh[to] = Math.max(nextHigh[to]!, high[from]!)
      }
      for (const { job, product } of way.takes) {
        if (chances[job] === 0) continue
        nextLow[to] = Math.min(nextLow[to]!, low[from]! + lows[product]!)
        nextHigh[to] = Math.max(nextHigh[to]!, high[from]! + highs[product]!)
      }
    }
    low = nextLow
    high = nextHigh
  }
  return { low: low[0]!, high: high[0]! }
}

export function chanceOfNothing(step: Step, chances: readonly number[]): number {
  let some = 0
  for (const job of step.choice.jobs) some += chances[job]!
  // The shares of a group sum to 1 within 1e-9 only.
  return some > 1 - 1e-9 && step.choice.jobs.length > 1 ? 0 : Math.max(0, 1 - some)
}

/** More atoms than this are left in the body, where they come out softened by a fraction of the precision. */
const mostAtoms = 8192

/** Outcomes in which nothing is guessed: single values with their probability. Empty where they are too many. */
export function atomsOf({ certain, parts, fasteners }: Measured, likelihood: Likelihood): Atom[] {
  if (isGuessed(certain)) return []
  const all = new Map<number, Atom>()
  for (const { chance, factor } of fasteners) {
    for (const [care, chances] of likelihood.chances.entries()) {
      let atoms = new Map<number, Atom>()
      add(atoms, {
        at: factor * certain.fastened.fixed + certain.other.fixed,
        mass: chance * likelihood.care[care]!,
      })
      for (const { part, sums } of parts) {
        const ofPart = atomsOfPart(part, { sums, chances, factor })
        if (!ofPart || atoms.size * ofPart.length > 4 * mostAtoms) return []
        const combined = new Map<number, Atom>()
        for (const first of atoms.values()) {
          for (const second of ofPart) {
            add(combined, { at: first.at + second.at, mass: first.mass * second.mass })
          }
        }
        atoms = combined
      }
      for (const atom of atoms.values()) add(all, atom)
      if (all.size > mostAtoms) return []
    }
  }
  return [...all.values()].sort((a, b) => a.at - b.at)
}

function isGuessed({ fastened, other }: Sums): boolean {
  return fastened.uncertain.length > 0 || other.uncertain.length > 0
}

function atomsOfPart(part: OutcomePart, { sums, chances, factor }: State): Atom[] | null {
  const amounts = part.products.map((units) =>
    units.some((unit) => isGuessed(sums[unit]!))
      ? null
      : units.reduce((sum, unit) => sum + factor * sums[unit]!.fastened.fixed + sums[unit]!.other.fixed, 0),
  )
  if (amounts.every((amount) => amount === null)) {
    const mass = part.steps.reduce((product, step) => product * chanceOfNothing(step, chances), 1)
    return mass > 0 ? [{ at: 0, mass }] : []
  }
  let states = [new Map<number, Atom>([[0, { at: 0, mass: 1 }]])]
  for (const step of part.steps) {
    const next = Array.from({ length: step.states }, () => new Map<number, Atom>())
    const nothing = chanceOfNothing(step, chances)
    let count = 0
    for (let link = 0; link < step.from.length; link++) {
      const way = step.ways[step.way[link]!]!
      const into = next[step.to[link]!]!
      const before = into.size
      for (const atom of states[step.from[link]!]!.values()) {
        if (way.nothing) add(into, { at: atom.at, mass: atom.mass * nothing })
        for (const { job, product } of way.takes) {
          const amount = amounts[product]
          if (amount != null) add(into, { at: atom.at + amount, mass: atom.mass * chances[job]! })
        }
      }
      count += into.size - before
      if (count > 4 * mostAtoms) return null
    }
    states = next
  }
  return [...states[0]!.values()]
}

/** Values that differ by rounding alone are one. A millionth of an hour or of a minor unit matters to nobody. */
function add(to: Map<number, Atom>, { at, mass }: Atom): void {
  if (mass === 0) return
  const key = Math.round(at * 1e6)
  const same = to.get(key)
  if (same) same.mass += mass
  else to.set(key, { at, mass })
}
