import FFT from 'fft.js'
import { type Complexes, dampingAt, type Frequencies } from './transform'

/** A value that carries probability of its own. */
export interface Atom {
  at: number
  mass: number
}

/** How an uncertain amount is distributed: single values that carry probability, and a body between them. */
export interface Spread {
  mean: number
  sd: number
  /** The least and the most it can be. */
  min: number
  max: number
  /** Ascending. */
  atoms: readonly Atom[]
  /** Probability of the body below `from`, `from + step`, …; null where all sits on atoms. */
  body: { from: number; step: number; below: Float64Array } | null
}

/** What is known of an amount before its distribution is. */
export interface Known {
  atoms: readonly Atom[]
  min: number
  max: number
  mean: number
  sd: number
  /** The highest probability level that will be asked for. */
  reach: number
}

/** One amount by its transform. */
export interface SpreadSource extends Known {
  /** E[e^(−s(X − origin))] at the frequencies asked for, atoms included. */
  transform(at: Frequencies): Complexes
  /** The same with every part's size in place of its value: never below the size of the transform. */
  envelope(at: Frequencies): number
}

/** Amounts made of the same parts: their transforms are worked out side by side for less than one by one. */
export interface SpreadFamily {
  members: readonly Known[]
  /** Of those members (by place), in their order. */
  transforms(at: Frequencies, places: readonly number[]): Complexes[]
  envelope(at: Frequencies, place: number): number
}

/** So much less than a level is taken for it: chances such as 0.1 + 0.2 have no exact binary form. */
const levelSlack = 1e-9

/** Frequencies beyond which nothing is computed, and the size of a block of them. */
const mostFrequencies = 1024
const fewFrequencies = 128
const blockSize = 64
/** Fewer steps than this of the answer would show as corners. */
const fewestBins = 1024
/** The softening by frequency: so many deviations of a normal curve at the last one. */
const softAtLast = 3.2
/** Probability outside the range that precision is measured by, half at each end. */
const tail = 0.0005
/** Probability that may lie beyond the window's end, and before its start. */
const beyondEnd = 1e-4
const beforeStart = 1e-7
/**
 * How strongly what lies beyond the window is suppressed where it folds back: by e^−4 for each length of the window.
 * What lies before it comes back enlarged by as much. With the above neither adds more than 6e-6 of probability.
 */
const dampingOverWindow = 4

/**
 * The distribution that belongs to a transform. Atoms are kept apart and exact. The rest is a Fourier series on a
 * window: exponentially damped, so that what lies beyond the window does not fold back into it (Grübel &
 * Hermesmeier 1999, from memory), with as many terms as are not negligible, and softened by a normal curve of
 * 0.05 % of the window, which only shows where the number of terms runs out. The window reaches as far as Chernoff's
 * bounds on the tails say; where that turns out to be far too much, another is found by trial.
 */
export function spreadFrom({ transform, envelope, ...known }: SpreadSource): Spread {
  const family = { members: [known], transforms: (at: Frequencies) => [transform(at)], envelope }
  return spreadsOfFamily(family)[0]!
}

/** The distributions of a family, each as if it were alone but for the window, which those of like width share. */
export function spreadsOfFamily(family: SpreadFamily): Spread[] {
  const spreads = family.members.map((member): Spread => ({ ...plainOf(member), body: null }))
  const guessed = [...spreads.keys()].filter((place) => {
    const { atoms, min, max } = family.members[place]!
    return 1 - inAtoms(atoms) >= 1e-12 && max > min
  })
  if (guessed.length === 0) return spreads
  const start = commonStart(family, guessed)
  const on = ({ end, places }: Window) => {
    bodiesOn(family, { start, end, places, most: mostFrequencies }).forEach((body, index) => {
      const place = places[index]!
      spreads[place] = { ...plainOf(family.members[place]!), body }
    })
  }
  const bounded = boundedWindows(family, { start, places: guessed })
  bounded.forEach(on)
  // A rare amount that dwarfs all others moves the bound far beyond what is looked for.
  const lost = bounded.flatMap(({ end, places }) =>
    places.filter((place) => {
      const enough = enoughFor(spreads[place]!, family.members[place]!.reach)
      return enough.range > 0 && enough.end - start < 0.5 * (end - start)
    }),
  )
  if (lost.length > 0) triedWindows(family, { start, places: lost }).forEach(on)
  return spreads
}

function plainOf({ mean, sd, min, max, atoms }: Known): Omit<Spread, 'body'> {
  return { mean, sd, min, max, atoms }
}

function inAtoms(atoms: readonly Atom[]): number {
  return atoms.reduce((sum, atom) => sum + atom.mass, 0)
}

interface Window {
  end: number
  places: number[]
}

/** Windows that end where Chernoff's bound says. Members whose own would end much sooner get another. */
function boundedWindows(
  family: SpreadFamily,
  { start, places }: { start: number; places: number[] },
): Window[] {
  const ends = new Map(places.map((place) => [place, boundedEnd(family, place)]))
  const windows: Window[] = []
  let open = places
  while (open.length > 0) {
    const end = Math.max(...open.map((place) => ends.get(place)!))
    const isNear = (place: number) => ends.get(place)! - start >= 0.4 * (end - start)
    windows.push({ end, places: open.filter(isNear) })
    open = open.filter((place) => !isNear(place))
  }
  return windows
}

/** A value above which lies less than `beyondEnd` (less still where higher levels are asked for), by Chernoff's bound. */
function boundedEnd(family: SpreadFamily, place: number): number {
  const { mean: origin, sd, max, reach } = family.members[place]!
  const log = Math.log(Math.min(beyondEnd, (1 - reach) / 5))
  let end = max
  // A normal curve wants some 4.3 for each deviation, longer tails less.
  const at = { origin, damping: -0.9 / sd, rise: -0.9 / sd, step: 0, first: 0, count: 5 }
  const [{ re }] = family.transforms(at, [place]) as [Complexes]
  for (let k = 0; k < at.count; k++) {
    const bound = origin + (log - Math.log(re[k]!)) / dampingAt(at, k)
    if (Number.isFinite(bound)) end = Math.min(end, bound)
  }
  return end
}

/**
 * The same by trial with few frequencies, which blur by 0.4 % of a window, as its margins bear: it is widened until it
 * holds all that is asked for and narrowed to where nearly all probability lies.
 */
function triedWindows(
  family: SpreadFamily,
  { start, places }: { start: number; places: number[] },
): Window[] {
  const members = places.map((place) => family.members[place]!)
  const most = Math.max(...members.map(({ max }) => max))
  let end = Math.max(...members.map(({ max, mean, sd }) => Math.min(max, mean + 6.5 * sd)))
  for (let pass = 0; pass < 12; pass++) {
    const spreads = bodiesOn(family, { start, end, places, most: fewFrequencies }).map(
      (body, index): Spread => ({ ...plainOf(members[index]!), body }),
    )
    if (spreads.some((spread, index) => end < spread.max && cdf(spread, end) < reachOf(members[index]!))) {
      end = Math.min(most, start + 3 * (end - start))
      continue
    }
    const enough = spreads.map((spread, index) => enoughFor(spread, members[index]!.reach))
    const widest = Math.max(...enough.map(({ end }) => end))
    const lost = places.filter((_, index) => enough[index]!.end - start < 0.4 * (widest - start))
    if (lost.length > 0) {
      const others = places.filter((place) => !lost.includes(place))
      return [lost, others].flatMap((some) => triedWindows(family, { start, places: some }))
    }
    const fits = enough.some(({ end: needed, range }) => {
      return range === 0 || needed - start > 0.7 * (end - start) || end - start < 2 * range
    })
    if (fits) break
    end = widest
  }
  return [{ end, places }]
}

function reachOf({ reach }: Known): number {
  return Math.max(reach, 1 - tail)
}

function enoughFor(spread: Spread, reach: number): { end: number; range: number } {
  const top = quantile(spread, 1 - tail)
  const range = top - quantile(spread, tail)
  return { end: Math.max(top, quantile(spread, reach)) + 0.4 * range, range }
}

/** All probability on single values. */
export function spreadOfAtoms(
  atoms: readonly Atom[],
  moments: { mean: number; sd: number; min: number; max: number },
): Spread {
  return { ...moments, atoms, body: null }
}

/** P(X ≤ x). */
export function cdf(spread: Spread, x: number): number {
  return Math.min(1, atomsUpTo(spread.atoms, x) + bodyUpTo(spread.body, x))
}

export function bodyUpTo(body: Spread['body'], x: number): number {
  if (!body) return 0
  const { from, step, below } = body
  const place = (x - from) / step
  if (!(place > 0)) return 0
  const last = below.length - 1
  if (place >= last) return below[last]!
  const index = Math.floor(place)
  const before = below[index]!
  return before + (below[index + 1]! - before) * (place - index)
}

/** The smallest x with P(X ≤ x) ≥ level. */
export function quantile(spread: Spread, level: number): number {
  if (level >= 1) return spread.max
  const wanted = level - levelSlack
  let before = spread.min
  let inAtoms = 0
  for (const atom of spread.atoms) {
    const reached = bodyWhere(spread.body, wanted - inAtoms)
    if (reached < atom.at) return Math.min(Math.max(reached, before), spread.max)
    inAtoms += atom.mass
    if (inAtoms + bodyUpTo(spread.body, atom.at) >= wanted) return atom.at
    before = atom.at
  }
  const reached = bodyWhere(spread.body, wanted - inAtoms)
  return Math.min(Math.max(reached, before), spread.max)
}

/** Smallest x where the body alone reaches `mass`; −∞ for nothing, +∞ for more than there is. */
function bodyWhere(body: Spread['body'], mass: number): number {
  if (mass <= 0) return Number.NEGATIVE_INFINITY
  if (!body) return Number.POSITIVE_INFINITY
  const { from, step, below } = body
  let low = 0
  let high = below.length - 1
  if (below[high]! < mass) return Number.POSITIVE_INFINITY
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (below[middle]! >= mass) high = middle
    else low = middle
  }
  const before = below[low]!
  const inBin = below[high]! - before
  return from + step * (low + (inBin > 0 ? (mass - before) / inBin : 1))
}

function atomsUpTo(atoms: readonly Atom[], x: number): number {
  let sum = 0
  for (const atom of atoms) {
    if (atom.at > x) break
    sum += atom.mass
  }
  return sum
}

/**
 * A value below which lies less than `beforeStart` of the probability of each: P(X ≤ x) ≤ e^(sx)·E[e^(−sX)] for any s > 0
 * (Chernoff's bound).
 */
function commonStart(family: SpreadFamily, places: readonly number[]): number {
  const { mean: origin, sd } = family.members[places[0]!]!
  const starts = places.map((place) => family.members[place]!.min)
  const at = { origin, damping: 3 / sd, rise: 3 / sd, step: 0, first: 0, count: 3 }
  family.transforms(at, places).forEach(({ re }, index) => {
    for (let k = 0; k < at.count; k++) {
      const bound = origin + (Math.log(beforeStart) - Math.log(re[k]!)) / dampingAt(at, k)
      if (Number.isFinite(bound)) starts[index] = Math.max(starts[index]!, bound)
    }
  })
  return Math.min(...starts)
}

function bodiesOn(
  family: SpreadFamily,
  { start, end, places, most }: { start: number; end: number; places: readonly number[]; most: number },
): NonNullable<Spread['body']>[] {
  // Room to the left for the softening, 8 of its deviations: what left the window there would come back at its
  // right end, enlarged.
  const room = (end - start) * ((8 * softAtLast) / (2 * Math.PI * most))
  const length = end - start + 2 * room
  const window = { from: start - room, end, length }
  return coefficients(family, { window, places, most }).map((series, index) =>
    bodyOf(series, { window, member: family.members[places[index]!]! }),
  )
}

interface Series {
  re: Float64Array
  im: Float64Array
  count: number
}

function bodyOf(
  { re, im, count }: Series,
  {
    window: { from, end, length },
    member,
  }: { window: { from: number; end: number; length: number }; member: Known },
): NonNullable<Spread['body']> {
  const total = 1 - inAtoms(member.atoms)
  const damping = dampingOverWindow / length
  const step = (2 * Math.PI) / length
  const bins = Math.max(fewestBins, 2 * powerOfTwoFrom(count))
  const fft = transformer(bins)
  const spectrum = fft.createComplexArray()
  const values = fft.createComplexArray()
  const bin = length / bins
  for (let k = 0; k < count; k++) {
    // Mean over a bin in place of the value at its start: sinc for the width, a turn for the middle.
    const half = (step * k * bin) / 2
    const share = k === 0 ? 1 : Math.sin(half) / half
    const cos = Math.cos(half) * share
    const sin = Math.sin(half) * share
    const turnedRe = re[k]! * cos - im[k]! * sin
    const turnedIm = re[k]! * sin + im[k]! * cos
    spectrum[2 * k] = turnedRe
    spectrum[2 * k + 1] = turnedIm
    if (k > 0) {
      spectrum[2 * (bins - k)] = turnedRe
      spectrum[2 * (bins - k) + 1] = -turnedIm
    }
  }
  fft.inverseTransform(values, spectrum)

  const below = new Float64Array(bins + 1)
  let sum = 0
  let undamped = Math.exp((damping * bin) / 2)
  const growth = Math.exp(damping * bin)
  for (let n = 0; n < bins; n++) {
    sum += values[2 * n]! * undamped
    undamped *= growth
    // Rounding and cut-off leave ripples of about a millionth around 0.
    below[n + 1] = Math.min(total, Math.max(below[n]!, sum))
  }
  const reached = below[bins]!
  if (end >= member.max && reached > 0) {
    for (let n = 0; n <= bins; n++) below[n] = below[n]! * (total / reached)
  }
  return { from, step: bin, below }
}

/** Of each member as many terms as are not negligible. */
function coefficients(
  family: SpreadFamily,
  {
    window: { from, length },
    places,
    most,
  }: { window: { from: number; length: number }; places: readonly number[]; most: number },
): Series[] {
  const damping = dampingOverWindow / length
  const step = (2 * Math.PI) / length
  const all = places.map((place) => ({
    place,
    re: new Float64Array(most),
    im: new Float64Array(most),
    count: most,
    negligible: 0,
  }))
  let open = all
  for (let first = 0; first < most && open.length > 0; first += blockSize) {
    const at = { origin: from, damping, step, first, count: blockSize }
    const wholes = family.transforms(
      at,
      open.map(({ place }) => place),
    )
    open = open.filter((series, index) => {
      const whole = wholes[index]!
      takeOffAtoms(whole, family.members[series.place]!.atoms, at)
      let largest = 0
      for (let k = 0; k < blockSize; k++) {
        largest = Math.max(largest, Math.abs(whole.re[k]!), Math.abs(whole.im[k]!))
        const soft = Math.exp(-((((first + k) * softAtLast) / most) ** 2) / 2)
        series.re[first + k] = whole.re[k]! * soft
        series.im[first + k] = whole.im[k]! * soft
      }
      // What is left out of a series for P(X ≤ x) is divided by its frequency too: below 1e-4 where it matters.
      if (first === 0) series.negligible = 3e-5 * series.re[0]!
      if (
        largest >= series.negligible ||
        !staysBelow(family, series, { ...at, first: first + blockSize, count: 1 })
      ) {
        return true
      }
      series.count = first + blockSize
      return false
    })
  }
  return all
}

/**
 * Parts that cancel each other at these frequencies may come back at higher ones, as equal steps do; sizes without
 * their phases do not. Asked at three places, since a single size can dip.
 */
function staysBelow(
  family: SpreadFamily,
  { place, negligible }: { place: number; negligible: number },
  at: Frequencies,
): boolean {
  let ofAtoms = 0
  for (const atom of family.members[place]!.atoms) {
    ofAtoms += atom.mass * Math.exp(-at.damping * (atom.at - at.origin))
  }
  return [1, 1.4, 2]
    .map((factor) => Math.round(at.first * factor))
    .every((first) => family.envelope({ ...at, first }, place) - ofAtoms < (negligible / 8) * first)
}

function takeOffAtoms(from: Complexes, atoms: readonly Atom[], at: Frequencies): void {
  for (const atom of atoms) {
    const place = atom.at - at.origin
    const size = atom.mass * Math.exp(-at.damping * place)
    const angle = -at.step * place
    const turnRe = Math.cos(angle)
    const turnIm = Math.sin(angle)
    let re = size * Math.cos(angle * at.first)
    let im = size * Math.sin(angle * at.first)
    for (let k = 0; k < at.count; k++) {
      from.re[k]! -= re
      from.im[k]! -= im
      const next = re * turnRe - im * turnIm
      im = re * turnIm + im * turnRe
      re = next
    }
  }
}

const transformers = new Map<number, FFT>()

function transformer(size: number): FFT {
  const known = transformers.get(size)
  if (known) return known
  const made = new FFT(size)
  transformers.set(size, made)
  return made
}

function powerOfTwoFrom(count: number): number {
  return 2 ** Math.ceil(Math.log2(count))
}
