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

/** Multiplies a row by the transform of what `scale` times an uncertain value lies above its low end. */
export function timesAboveLow(
  row: Row,
  { value, scale }: { value: Uncertain; scale: number },
  at: Frequencies,
): void {
  const { width, alpha } = pert(value)
  if (scale * width !== 0) timesBeta(row, { alpha, stretch: scale * width }, at)
}

/**
 * E[e^(−tB)] of a beta variable with α + β = 6 at t = s·stretch, which is Kummer's function M(α, 6, −t)
 * (NIST DLMF 13.4.1). Up to |t| = 20 by its power series (13.2.2): the terms grow to at most e^20, so that at
 * least seven digits are left. Beyond by the asymptotic series (13.7.2), whose smallest term lies near
 * e^(−|t|) = 2e-9.
 */
function timesBeta(
  { of, start }: Row,
  { alpha, stretch }: { alpha: number; stretch: number },
  at: Frequencies,
): void {
  const re = at.damping * stretch
  const far = 400 - re * re
  const beta = 6 - alpha
  const sizes = { low: 120 / gamma(beta), high: 120 / gamma(alpha) }
  for (let place = 0; place < at.count; place++) {
    const k = start + place
    const oldRe = of.re[k]!
    const oldIm = of.im[k]!
    // Others have brought it to nothing already.
    if (Math.abs(oldRe) + Math.abs(oldIm) < 1e-12) continue
    const im = at.step * (at.first + place) * stretch
    let byRe = 1
    let byIm = 0
    if (im * im > far) {
      farBeta({ alpha, beta, sizes }, re, im)
      byRe = farValue.re
      byIm = farValue.im
    } else {
      let termRe = 1
      let termIm = 0
      for (let n = 0; n < 200; n++) {
        const ratio = -(alpha + n) / ((6 + n) * (n + 1))
        const nextRe = (termRe * re - termIm * im) * ratio
        termIm = (termRe * im + termIm * re) * ratio
        termRe = nextRe
        byRe += termRe
        byIm += termIm
        if (Math.abs(termRe) + Math.abs(termIm) < 1e-11) break
      }
    }
    of.re[k] = oldRe * byRe - oldIm * byIm
    of.im[k] = oldRe * byIm + oldIm * byRe
  }
}

interface FarShape {
  alpha: number
  beta: number
  /** Γ(6)/Γ(β) and Γ(6)/Γ(α). */
  sizes: { low: number; high: number }
}

/** What the two functions below answer: a pair made anew each time would cost more than the sum itself. */
const farValue = { re: 0, im: 0 }
const seriesValue = { re: 0, im: 0 }

/** Leaves its value in `farValue`. */
function farBeta({ alpha, beta, sizes }: FarShape, re: number, im: number): void {
  const size2 = re * re + im * im
  const logSize = Math.log(size2) / 2
  const angle = Math.atan2(im, re)
  // 1/t and 1/(−t) as steps of the two series: Γ(6)/Γ(β) · t^(−α), from the density near 0.
  descending(alpha, re / size2, -im / size2)
  const lowSize = sizes.low * Math.exp(-alpha * logSize)
  const lowTurn = -alpha * angle
  const lowRe = lowSize * Math.cos(lowTurn)
  const lowIm = lowSize * Math.sin(lowTurn)
  farValue.re = lowRe * seriesValue.re - lowIm * seriesValue.im
  farValue.im = lowRe * seriesValue.im + lowIm * seriesValue.re
  // Γ(6)/Γ(α) · e^(−t) · (−t)^(−β), from the density near 1; −t = |t|·e^(i(angle − π)).
  descending(beta, -re / size2, im / size2)
  const highSize = sizes.high * Math.exp(-re - beta * logSize)
  const highTurn = -im - beta * (angle - Math.PI)
  const highRe = highSize * Math.cos(highTurn)
  const highIm = highSize * Math.sin(highTurn)
  farValue.re += highRe * seriesValue.re - highIm * seriesValue.im
  farValue.im += highRe * seriesValue.im + highIm * seriesValue.re
}

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
    if (nextSize < 1e-10 || (n > 4 && nextSize > size)) break
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
