/**
 * The transform of a beta variable with α + β = 6 about its middle, g(t) = E[e^(−t(B − ½))] = e^(t/2)·M(α, 6, −t), along
 * lines beside the imaginary axis: at every whole step up a line a short Taylor polynomial. One variable's values are
 * asked for at very many t that lie close together (frequency by frequency, and again for each state of the
 * fasteners), and a polynomial costs a tenth of a series from nothing.
 *
 * Kummer's equation (NIST DLMF 13.2.1) turns into t·g″ + 6g′ + (α − 3 − t/4)·g = 0, which gives each coefficient from
 * the two before it; from one step to the next lead the same polynomials, with more terms. Errors do not grow on the
 * way: both solutions fall off alike, and the one that is not wanted is largest at 0.
 */
export interface BetaLine {
  /** Real part of the line. */
  real: number
  /** Of each step 8 coefficients: real parts, then imaginary parts. */
  coefficients: Float64Array
  /** So many steps are known. */
  known: number
}

/** A polynomial is good to 1e-8 where t lies within this of its step: |g⁽ⁿ⁾| ≤ e^(Re t/2)·½ⁿ. */
export const betweenLines = 0.75
/** Of the polynomials that are kept, and of those that lead to the next step. */
export const kept = 8
const leading = 13

interface March extends BetaLine {
  alpha: number
  /** Value and slope at the step after the last known. */
  value: [re: number, im: number]
  slope: [re: number, im: number]
}

/** By α, then by the line's place. */
const lines = new Map<number, March[]>()
/** Shapes are met again within a bike and from bike to bike; what is kept of them stays below some ten megabytes. */
const mostSteps = 60_000
let stepsKept = 0

/** The line nearest to a real part, known for steps 0 … `upTo`. */
export function betaLine(alpha: number, { real, upTo }: { real: number; upTo: number }): BetaLine {
  const place = Math.round(real / betweenLines)
  let ofShape = lines.get(alpha)
  if (!ofShape) {
    ofShape = []
    lines.set(alpha, ofShape)
  }
  ofShape[place] ??= begun(alpha, place * betweenLines)
  const line = ofShape[place]
  if (line.known <= upTo) {
    const more = upTo + 1 - line.known
    if (stepsKept + more > mostSteps) {
      lines.clear()
      stepsKept = 0
    }
    stepsKept += more
    extend(line, upTo)
  }
  return line
}

/** Value and slope where the line leaves the real axis, by the power series at 0. */
function begun(alpha: number, real: number): March {
  let value = 0
  let slope = 0
  let power = 1
  let before = 0
  let now = 1
  for (let n = 0; n < 60; n++) {
    value += now * power
    const next = (before / 4 - (alpha - 3) * now) / ((n + 1) * (n + 6))
    slope += (n + 1) * next * power
    power *= real
    before = now
    now = next
    if (Math.abs(now) + Math.abs(before) < 1e-18) break
  }
  return {
    alpha,
    real,
    coefficients: new Float64Array(16 * 2 * kept),
    known: 0,
    value: [value, 0],
    slope: [slope, 0],
  }
}

const re = new Float64Array(leading)
const im = new Float64Array(leading)

function extend(line: March, upTo: number): void {
  const { alpha, real, value, slope } = line
  if (line.coefficients.length < (upTo + 1) * 2 * kept) {
    const longer = new Float64Array(Math.ceil(1.5 * (upTo + 1)) * 2 * kept)
    longer.set(line.coefficients)
    line.coefficients = longer
  }
  const { coefficients } = line
  for (let step = line.known; step <= upTo; step++) {
    ;[re[0], im[0]] = value
    ;[re[1], im[1]] = slope
    if (real === 0 && step === 0) atNothing(alpha)
    else around(alpha, { real, imaginary: step })
    for (let n = 0; n < kept; n++) {
      coefficients[step * 2 * kept + n] = re[n]!
      coefficients[step * 2 * kept + kept + n] = im[n]!
    }
    // One step up is i: its powers turn by a quarter each.
    let valueRe = 0
    let valueIm = 0
    let slopeRe = 0
    let slopeIm = 0
    for (let n = leading - 1; n >= 0; n--) {
      const turned = valueRe
      valueRe = re[n]! - valueIm
      valueIm = im[n]! + turned
      if (n > 0) {
        const turnedSlope = slopeRe
        slopeRe = n * re[n]! - slopeIm
        slopeIm = n * im[n]! + turnedSlope
      }
    }
    value[0] = valueRe
    value[1] = valueIm
    slope[0] = slopeRe
    slope[1] = slopeIm
  }
  line.known = upTo + 1
}

function atNothing(alpha: number): void {
  for (let n = 0; n + 1 < leading; n++) {
    const before = n > 0 ? re[n - 1]! : 0
    re[n + 1] = (before / 4 - (alpha - 3) * re[n]!) / ((n + 1) * (n + 6))
    im[n + 1] = 0
  }
}

/** t₀(n + 1)(n + 2)·cₙ₊₂ = cₙ₋₁/4 − (n + 1)(n + 6)·cₙ₊₁ − (α − 3 − t₀/4)·cₙ. */
function around(alpha: number, at: { real: number; imaginary: number }): void {
  const size2 = at.real * at.real + at.imaginary * at.imaginary
  const inverseRe = at.real / size2
  const inverseIm = -at.imaginary / size2
  const byRe = alpha - 3 - at.real / 4
  const byIm = -at.imaginary / 4
  let beforeRe = 0
  let beforeIm = 0
  for (let n = 0; n + 2 < leading; n++) {
    const a = (n + 1) * (n + 6)
    const sumRe = beforeRe / 4 - a * re[n + 1]! - (byRe * re[n]! - byIm * im[n]!)
    const sumIm = beforeIm / 4 - a * im[n + 1]! - (byRe * im[n]! + byIm * re[n]!)
    const share = 1 / ((n + 1) * (n + 2))
    beforeRe = re[n]!
    beforeIm = im[n]!
    re[n + 2] = (sumRe * inverseRe - sumIm * inverseIm) * share
    im[n + 2] = (sumRe * inverseIm + sumIm * inverseRe) * share
  }
}
