import { betaLine, kept } from './beta-table'
import { pert, type Uncertain } from './three-point'

/**
 * Where a Laplace transform E[e^(−s(X − origin))] is asked for: at s = damping + i·step·k for
 * k = first … first + count − 1. The transform of a sum of independent values is the product of theirs, so that
 * a convolution needs no grid until the very end.
 */
export interface Frequencies {
  origin: number
  damping: number
  step: number
  first: number
  count: number
  /** With step 0: by how much the damping grows from one to the next, so that all of them are real. */
  rise?: number
}

/** Complex numbers side by side. */
export interface Complexes {
  re: Float64Array
  im: Float64Array
}

export function complexes(count: number): Complexes {
  return { re: new Float64Array(count), im: new Float64Array(count) }
}

/** A row of `count` complex numbers within a longer list. */
export interface Row {
  of: Complexes
  start: number
}

/** Multiplies a row by the transform of a fixed amount, e^(−s·amount); the origin is the caller's. */
export function timesFixed({ of: { re, im }, start }: Row, amount: number, at: Frequencies): void {
  if (amount === 0) return
  if (at.step === 0) {
    for (let place = 0; place < at.count; place++) {
      re[start + place]! *= Math.exp(-dampingAt(at, place) * amount)
    }
    return
  }
  const size = Math.exp(-at.damping * amount)
  const angle = -at.step * amount
  const turnRe = Math.cos(angle)
  const turnIm = Math.sin(angle)
  let byRe = size * Math.cos(angle * at.first)
  let byIm = size * Math.sin(angle * at.first)
  for (let k = start; k < start + at.count; k++) {
    const oldRe = re[k]!
    const oldIm = im[k]!
    re[k] = oldRe * byRe - oldIm * byIm
    im[k] = oldRe * byIm + oldIm * byRe
    const next = byRe * turnRe - byIm * turnIm
    byIm = byRe * turnIm + byIm * turnRe
    byRe = next
  }
}

/** The real s of a place where all are real. */
export function dampingAt({ damping, rise = 0 }: Frequencies, place: number): number {
  return damping + rise * place
}

/** Multiplies a row by the transform of what `scale` times an uncertain value lies above its low end. */
export function timesAboveLow(
  row: Row,
  { value, scale }: { value: Uncertain; scale: number },
  at: Frequencies,
): void {
  const { width, alpha } = pert(value)
  if (scale * width !== 0) timesBeta(row, { alpha, stretch: scale * width }, at)
}

/** Where t moves further from one frequency to the next, or for one alone, a table along its way costs more than series. */
const mostStep = 0.8
/** Beyond |t| = 20 the asymptotic series of a beta variable's transform has seven digits and more. */
const far = 20
/**
 * A size that is nothing at these frequencies: far below the 3e-5 at which a term of a series is left out. A single
 * real frequency, as a bound on a tail asks for, needs the smallest value too.
 */
export function nothingAt(at: Frequencies): number {
  return at.step > 0 ? 1e-9 : 0
}

/**
 * E[e^(−tB)] of a beta variable with α + β = 6 at t = s·stretch, which is Kummer's function M(α, 6, −t)
 * (NIST DLMF 13.4.1). Where t moves little from one frequency to the next, off a table along its line. Elsewhere up to
 * |t| = 20 by its power series (13.2.2): the terms grow to at most e^20, so that at least seven digits are left. Beyond
 * by the asymptotic series (13.7.2), whose smallest term lies near e^(−|t|) = 2e-9.
 */
function timesBeta(row: Row, beta: { alpha: number; stretch: number }, at: Frequencies): void {
  if (at.step === 0) timesRealBeta(row, beta, at)
  else if (at.count > 1 && at.step * beta.stretch < mostStep) byTable(row, beta, at)
  else bySeries(row, beta, at)
}

function bySeries(row: Row, beta: { alpha: number; stretch: number }, at: Frequencies): void {
  // |t| grows along the row, so that the far part is its end.
  const re = at.damping * beta.stretch
  const im = at.step * beta.stretch
  const inside = far * far - re * re
  const firstFar = inside < 0 ? 0 : Math.floor(Math.sqrt(inside) / im) + 1 - at.first
  const near = Math.min(at.count, Math.max(0, firstFar))
  if (near > 0) nearBeta(row, beta, { ...at, count: near })
  if (near < at.count) farBeta(row, { ...beta, from: near }, at)
}

function byTable(
  { of: { re, im }, start }: Row,
  { alpha, stretch }: { alpha: number; stretch: number },
  at: Frequencies,
): void {
  const by = at.step * stretch
  const tRe = at.damping * stretch
  const upTo = Math.round(by * (at.first + at.count - 1))
  const line = betaLine(alpha, { real: tRe, upTo })
  const c = line.coefficients
  const x = tRe - line.real
  // The table is about the middle: e^(−t/2) along the row, by turning.
  const size = Math.exp(-tRe / 2)
  let wayRe = size * Math.cos((by * at.first) / 2)
  let wayIm = -size * Math.sin((by * at.first) / 2)
  const turnRe = Math.cos(by / 2)
  const turnIm = -Math.sin(by / 2)
  for (let k = start, place = at.first; k < start + at.count; k++, place++) {
    const oldRe = re[k]!
    const oldIm = im[k]!
    // Others may have brought it to nothing already.
    if (Math.abs(oldRe) + Math.abs(oldIm) >= 1e-12) {
      const tIm = by * place
      const step = Math.round(tIm)
      const y = tIm - step
      const n = step * 2 * kept
      let gRe = c[n + 7]! * x - c[n + 15]! * y + c[n + 6]!
      let gIm = c[n + 7]! * y + c[n + 15]! * x + c[n + 14]!
      for (let term = 5; term >= 0; term--) {
        const nextRe = gRe * x - gIm * y + c[n + term]!
        gIm = gRe * y + gIm * x + c[n + kept + term]!
        gRe = nextRe
      }
      const byRe = gRe * wayRe - gIm * wayIm
      const byIm = gRe * wayIm + gIm * wayRe
      re[k] = oldRe * byRe - oldIm * byIm
      im[k] = oldRe * byIm + oldIm * byRe
    }
    const next = wayRe * turnRe - wayIm * turnIm
    wayIm = wayRe * turnIm + wayIm * turnRe
    wayRe = next
  }
}

/** At real s of either sign, as bounds on tails ask for it; no term of its series is below 0. */
function timesRealBeta(
  { of: { re }, start }: Row,
  { alpha, stretch }: { alpha: number; stretch: number },
  at: Frequencies,
): void {
  for (let place = 0; place < at.count; place++) {
    re[start + place]! *= realBeta(alpha, dampingAt(at, place) * stretch)
  }
}

function realBeta(alpha: number, t: number): number {
  const size = Math.abs(t)
  if (size > far) {
    const low = t > 0 ? alpha : 6 - alpha
    descending(low, 1 / size, 0)
    return (120 / gamma(6 - low)) * size ** -low * seriesValue.re * (t > 0 ? 1 : Math.exp(size))
  }
  // e^(−t)·M(β, 6, t) is the same as M(α, 6, −t), with the other end as the low one.
  const a = t > 0 ? 6 - alpha : alpha
  let term = 1
  let value = 1
  for (let n = 0; term > 1e-9 * value; n++) {
    term *= ((a + n) * size) / ((6 + n) * (n + 1))
    value += term
  }
  return t > 0 ? value * Math.exp(-t) : value
}

function nearBeta(
  { of, start }: Row,
  { alpha, stretch }: { alpha: number; stretch: number },
  at: Frequencies,
): void {
  const re = at.damping * stretch
  for (let place = 0; place < at.count; place++) {
    const k = start + place
    const oldRe = of.re[k]!
    const oldIm = of.im[k]!
    // Others have brought it to nothing already.
    if (Math.abs(oldRe) + Math.abs(oldIm) < 1e-12) continue
    const im = at.step * (at.first + place) * stretch
    let byRe = 1
    let byIm = 0
    let termRe = 1
    let termIm = 0
    for (let n = 0; n < 200; n++) {
      const ratio = -(alpha + n) / ((6 + n) * (n + 1))
      const nextRe = (termRe * re - termIm * im) * ratio
      termIm = (termRe * im + termIm * re) * ratio
      termRe = nextRe
      byRe += termRe
      byIm += termIm
      if (Math.abs(termRe) + Math.abs(termIm) < 1e-10) break
    }
    of.re[k] = oldRe * byRe - oldIm * byIm
    of.im[k] = oldRe * byIm + oldIm * byRe
  }
}

/**
 * Γ(6)/Γ(β) · t^(−α) · Σ…, from the density near 0, and Γ(6)/Γ(α) · e^(−t) · (−t)^(−β) · Σ…, from the density
 * near 1. The powers of t = s·stretch are those of s, which many amounts share, times powers of the stretch.
 */
function farBeta(
  { of, start }: Row,
  { alpha, stretch, from }: { alpha: number; stretch: number; from: number },
  at: Frequencies,
): void {
  const beta = 6 - alpha
  const rays = raysOf(at)
  const powers = powersOf(rays, alpha)
  const logNothing = Math.log(nothingAt(at))
  const logStretch = Math.log(stretch)
  const logLow = Math.log(120 / gamma(beta)) - alpha * logStretch
  const logHigh = Math.log(120 / gamma(alpha)) - beta * logStretch - at.damping * stretch
  const low = Math.exp(logLow)
  const high = Math.exp(logHigh)
  // e^(−i·im) along the row, by turning.
  const turn = -at.step * stretch
  const turnRe = Math.cos(turn)
  const turnIm = Math.sin(turn)
  let wayRe = Math.cos(turn * (at.first + from))
  let wayIm = Math.sin(turn * (at.first + from))
  for (let place = from; place < at.count; place++) {
    const k = start + place
    const log = rays.log[place]!
    if (logLow - alpha * log < logNothing && logHigh - beta * log < logNothing) {
      of.re.fill(0, k, start + at.count)
      of.im.fill(0, k, start + at.count)
      return
    }
    const oldRe = of.re[k]!
    const oldIm = of.im[k]!
    if (Math.abs(oldRe) + Math.abs(oldIm) >= 1e-12) {
      const inverseRe = rays.inverseRe[place]! / stretch
      const inverseIm = rays.inverseIm[place]! / stretch
      descending(alpha, inverseRe, inverseIm)
      const lowRe = low * (powers.lowRe[place]! * seriesValue.re - powers.lowIm[place]! * seriesValue.im)
      const lowIm = low * (powers.lowRe[place]! * seriesValue.im + powers.lowIm[place]! * seriesValue.re)
      descending(beta, -inverseRe, -inverseIm)
      const turnedRe = powers.highRe[place]! * wayRe - powers.highIm[place]! * wayIm
      const turnedIm = powers.highRe[place]! * wayIm + powers.highIm[place]! * wayRe
      const byRe = lowRe + high * (turnedRe * seriesValue.re - turnedIm * seriesValue.im)
      const byIm = lowIm + high * (turnedRe * seriesValue.im + turnedIm * seriesValue.re)
      of.re[k] = oldRe * byRe - oldIm * byIm
      of.im[k] = oldRe * byIm + oldIm * byRe
    }
    const next = wayRe * turnRe - wayIm * turnIm
    wayIm = wayRe * turnIm + wayIm * turnRe
    wayRe = next
  }
}

/** What every amount at the same frequencies s needs of them. */
interface Rays {
  at: Frequencies
  /** ln|s| and the angle of s. */
  log: Float64Array
  angle: Float64Array
  /** 1/s. */
  inverseRe: Float64Array
  inverseIm: Float64Array
  /** By α. */
  powers: Map<number, Powers>
}

/** s^(−α) and (−s)^(−β). */
interface Powers {
  lowRe: Float64Array
  lowIm: Float64Array
  highRe: Float64Array
  highIm: Float64Array
}

/** Of the frequencies asked about last: one block after another is gone through for all amounts. */
let lastRays: Rays | null = null

function raysOf(at: Frequencies): Rays {
  if (lastRays?.at === at) return lastRays
  const { count } = at
  const rays: Rays = {
    at,
    log: new Float64Array(count),
    angle: new Float64Array(count),
    inverseRe: new Float64Array(count),
    inverseIm: new Float64Array(count),
    powers: new Map(),
  }
  for (let place = 0; place < count; place++) {
    const im = at.step * (at.first + place)
    const size2 = at.damping * at.damping + im * im
    rays.log[place] = Math.log(size2) / 2
    rays.angle[place] = Math.atan2(im, at.damping)
    rays.inverseRe[place] = at.damping / size2
    rays.inverseIm[place] = -im / size2
  }
  lastRays = rays
  return rays
}

function powersOf(rays: Rays, alpha: number): Powers {
  const known = rays.powers.get(alpha)
  if (known) return known
  const beta = 6 - alpha
  const count = rays.log.length
  const powers = {
    lowRe: new Float64Array(count),
    lowIm: new Float64Array(count),
    highRe: new Float64Array(count),
    highIm: new Float64Array(count),
  }
  for (let place = 0; place < count; place++) {
    const log = rays.log[place]!
    const angle = rays.angle[place]!
    const low = Math.exp(-alpha * log)
    powers.lowRe[place] = low * Math.cos(alpha * angle)
    powers.lowIm[place] = -low * Math.sin(alpha * angle)
    // −s = |s|·e^(i(angle − π)).
    const high = Math.exp(-beta * log)
    powers.highRe[place] = high * Math.cos(beta * (angle - Math.PI))
    powers.highIm[place] = -high * Math.sin(beta * (angle - Math.PI))
  }
  rays.powers.set(alpha, powers)
  return powers
}

/** What the function below answers: a pair made anew each time would cost more than the sum itself. */
const seriesValue = { re: 0, im: 0 }

/** Σ (a)ₙ(a − 5)ₙ/n! · stepⁿ, ended where the terms begin to grow; leaves its value in `seriesValue`. */
function descending(a: number, stepRe: number, stepIm: number): void {
  let re = 1
  let im = 0
  let termRe = 1
  let termIm = 0
  let size = 1
  for (let n = 0; n < 60; n++) {
    const ratio = ((a + n) * (a - 5 + n)) / (n + 1)
    const nextRe = (termRe * stepRe - termIm * stepIm) * ratio
    termIm = (termRe * stepIm + termIm * stepRe) * ratio
    termRe = nextRe
    const nextSize = Math.abs(termRe) + Math.abs(termIm)
    if (nextSize < 1e-9 || (n > 4 && nextSize > size)) break
    size = nextSize
    re += termRe
    im += termIm
  }
  seriesValue.re = re
  seriesValue.im = im
}

// Lanczos' approximation with g = 7 and nine terms; good to 1e-14 on [1, 5], where it is used. From memory; the
// tests hold it against factorials through the transform.
const lanczos = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
]

function gamma(x: number): number {
  const y = x - 1
  let sum = lanczos[0]!
  for (let i = 1; i < lanczos.length; i++) sum += lanczos[i]! / (y + i)
  const t = y + 7.5
  return Math.sqrt(2 * Math.PI) * t ** (y + 0.5) * Math.exp(-t) * sum
}
