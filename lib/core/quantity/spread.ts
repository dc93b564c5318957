import FFT from 'fft.js'
import type { Complexes, Frequencies } from './transform'

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

export interface SpreadSource {
  /** E[e^(−s(X − origin))] at the frequencies asked for, atoms included. */
  transform(at: Frequencies): Complexes
  /** The same with every part's size in place of its value: never below the size of the transform. */
  envelope(at: Frequencies): number
  atoms: readonly Atom[]
  min: number
  max: number
  mean: number
  sd: number
  /** The highest probability level that will be asked for. */
  reach: number
}

/** So much less than a level is taken for it: chances such as 0.1 + 0.2 have no exact binary form. */
const levelSlack = 1e-9

/** Frequencies beyond which nothing is computed, and the size of a block of them. */
const mostFrequencies = 2048
const fewFrequencies = 128
const blockSize = 64
/** Probability outside the range that precision is measured by, half at each end. */
const tail = 0.0005
/** How strongly what lies beyond the window is suppressed: by e^−6 for each length of the window. */
const dampingOverWindow = 6

/**
 * The distribution that belongs to a transform. Atoms are kept apart and exact. The rest is a Fourier series on a
 * window: exponentially damped, so that what lies beyond the window does not fold back into it (Grübel &
 * Hermesmeier 1999, from memory), with as many terms as are not negligible, and softened by a normal curve of
 * 0.04 % of the window, which only shows where the number of terms runs out. The window is widened until it holds
 * all that is asked for and narrowed to where nearly all probability lies.
 */
export function spreadFrom(source: SpreadSource): Spread {
  const { atoms, mean, sd, min, max } = source
  const inAtoms = atoms.reduce((sum, atom) => sum + atom.mass, 0)
  const plain = { mean, sd, min, max, atoms }
  if (1 - inAtoms < 1e-12 || max <= min) return { ...plain, body: null }

  const start = Math.max(min, lowerBound(source))
  const upTo = (end: number, most: number): Spread => ({
    ...plain,
    body: bodyOn(source, { start, end, total: 1 - inAtoms, most }),
  })
  return upTo(
    endOfWindow(source, start, (end) => upTo(end, fewFrequencies)),
    mostFrequencies,
  )
}

/** Where the window has to end, tried out with few frequencies: they blur by 0.6 % of it, which its margins bear. */
function endOfWindow(source: SpreadSource, start: number, upTo: (end: number) => Spread): number {
  const { mean, sd, max } = source
  const reach = Math.max(source.reach, 1 - tail)
  let end = Math.min(max, mean + 6.5 * sd)
  for (let pass = 0; pass < 12; pass++) {
    const spread = upTo(end)
    if (end < max && cdf(spread, end) < reach) {
      end = Math.min(max, start + 3 * (end - start))
      continue
    }
    const top = quantile(spread, 1 - tail)
    const range = top - quantile(spread, tail)
    const enough = Math.max(top, quantile(spread, source.reach)) + 0.4 * range
    if (range === 0 || enough - start > 0.7 * (end - start)) break
    if (end - start < 2.5 * range) break
    end = enough
  }
  return end
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
 * A value below which lies less than 1e-10 of the probability: P(X ≤ x) ≤ e^(sx)·E[e^(−sX)] for any s > 0
 * (Chernoff's bound).
 */
function lowerBound(source: SpreadSource): number {
  const bounds = [3, 6, 9].map((perSd) => {
    const damping = perSd / source.sd
    const { re } = source.transform({ origin: source.mean, damping, step: 0, first: 0, count: 1 })
    return source.mean + (Math.log(1e-10) - Math.log(re[0]!)) / damping
  })
  return Math.max(...bounds.filter((bound) => !Number.isNaN(bound)), source.min)
}

function bodyOn(
  source: SpreadSource,
  { start, end, total, most }: { start: number; end: number; total: number; most: number },
): Spread['body'] {
  // Room to the left for the softening, 13 of its deviations: what left the window there would come back at its
  // right end, enlarged.
  const room = (end - start) * (10 / most)
  const length = end - start + 2 * room
  const from = start - room
  const damping = dampingOverWindow / length
  const step = (2 * Math.PI) / length
  const { re, im, count } = coefficients(source, { origin: from, damping, step }, most)

  const bins = Math.max(most, 2 * powerOfTwoFrom(count))
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
  for (let n = 0; n < bins; n++) {
    sum += values[2 * n]! * Math.exp(damping * (n + 0.5) * bin)
    // Rounding and cut-off leave ripples of about a millionth around 0.
    below[n + 1] = Math.min(total, Math.max(below[n]!, sum))
  }
  const reached = below[bins]!
  if (end >= source.max && reached > 0) {
    for (let n = 0; n <= bins; n++) below[n] = below[n]! * (total / reached)
  }
  return { from, step: bin, below }
}

function coefficients(
  source: SpreadSource,
  place: { origin: number; damping: number; step: number },
  most: number,
): { re: Float64Array; im: Float64Array; count: number } {
  const re = new Float64Array(most)
  const im = new Float64Array(most)
  let negligible = 0
  for (let first = 0; first < most; first += blockSize) {
    const at = { ...place, first, count: blockSize }
    const whole = source.transform(at)
    takeOffAtoms(whole, source.atoms, at)
    let largest = 0
    for (let k = 0; k < blockSize; k++) {
      largest = Math.max(largest, Math.abs(whole.re[k]!), Math.abs(whole.im[k]!))
      const soft = Math.exp(-((((first + k) * 5) / most) ** 2) / 2)
      re[first + k] = whole.re[k]! * soft
      im[first + k] = whole.im[k]! * soft
    }
    // What is left out of a series for P(X ≤ x) is divided by its frequency too: below 1e-4 where it matters.
    if (first === 0) negligible = 3e-5 * re[0]!
    if (
      largest < negligible &&
      staysBelow(source, { ...at, first: first + blockSize, count: 1 }, negligible / 8)
    ) {
      return { re, im, count: first + blockSize }
    }
  }
  return { re, im, count: most }
}

/**
 * Parts that cancel each other at these frequencies may come back at higher ones, as equal steps do; sizes without
 * their phases do not. Asked at three places, since a single size can dip.
 */
function staysBelow(source: SpreadSource, at: Frequencies, boundOverFrequency: number): boolean {
  let ofAtoms = 0
  for (const atom of source.atoms) ofAtoms += atom.mass * Math.exp(-at.damping * (atom.at - at.origin))
  return [1, 1.4, 2]
    .map((factor) => Math.round(at.first * factor))
    .every((first) => source.envelope({ ...at, first }) - ofAtoms < boundOverFrequency * first)
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
