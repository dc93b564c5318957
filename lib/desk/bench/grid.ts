import betaCdf from '@stdlib/stats-base-dists-beta-cdf'
import FFT from 'fft.js'
import type { Uncertain } from '../../core/quantity/three-point'

/** What the list says of one amount. */
export interface Listed {
  /** P(X ≤ x). */
  upTo(x: number): number
  /** The smallest x with P(X ≤ x) ≥ level. */
  quantile(level: number): number
  /** Between two points of the grid; nothing is known more finely. */
  step: number
}

export interface Grid {
  steps: number
  step: number
  fft: FFT
}

/** From 0 in so many steps, a power of two, to the most that is possible. */
export function gridUpTo(most: number, steps: number): Grid {
  return { steps, step: most / steps || 1, fft: new FFT(steps) }
}

/** An uncertain value, taken so many times. */
export interface Amount {
  value: Uncertain
  times: number
}

/** The half of the spectrum that the other half mirrors, real and imaginary parts in turn; of nothing added, of 0. */
export function spectrumOf(amounts: readonly Amount[], { steps, step, fft }: Grid): Float64Array {
  const all = Float64Array.from({ length: steps + 2 }, (_, at) => (at % 2 === 0 ? 1 : 0))
  for (const amount of amounts) {
    const one = fft.createComplexArray()
    fft.realTransform(one, onGrid(amount, { steps, step }))
    times(all, one)
  }
  return all
}

/**
 * Probabilities at the points of the grid: second differences of E[max(0, x − X)], which split what lies between two
 * points between them in proportion to how near it lies.
 */
function onGrid(
  { value, times: by }: Amount,
  { steps, step }: { steps: number; step: number },
): Float64Array {
  const grid = new Float64Array(steps)
  const shortfall = shortfallOf(value, by)
  let [before, here] = [0, shortfall(0)]
  for (let n = 0; n < steps; n++) {
    const after = shortfall((n + 1) * step)
    grid[n] = (after - 2 * here + before) / step
    before = here
    here = after
  }
  return grid
}

/** E[max(0, x − X)] of a beta-PERT variable that is taken so many times. */
function shortfallOf(value: Uncertain, by: number): (x: number) => number {
  const [low, high] = typeof value === 'number' ? [value, value] : [value.low, value.high]
  if (typeof value === 'number' || high === low || by === 0) return (x) => Math.max(0, x - by * low)
  const alpha = 1 + (4 * (value.likely - low)) / (high - low)
  const width = by * (high - low)
  return (x) => {
    const share = (x - by * low) / width
    if (share <= 0) return 0
    if (share >= 1) return width * (share - alpha / 6)
    return (
      width * (share * betaCdf(share, alpha, 6 - alpha) - (alpha / 6) * betaCdf(share, alpha + 1, 6 - alpha))
    )
  }
}

/** Adds up: the spectrum of a sum is the product. */
export function times(spectrum: Float64Array, by: ArrayLike<number>): void {
  for (let k = 0; k < spectrum.length; k += 2) {
    const re = spectrum[k]!
    const im = spectrum[k + 1]!
    spectrum[k] = re * by[k]! - im * by[k + 1]!
    spectrum[k + 1] = re * by[k + 1]! + im * by[k]!
  }
}

export function readBack(sum: Float64Array, { steps, step, fft }: Grid): Listed {
  const whole = fft.createComplexArray()
  for (let k = 0; k < sum.length; k++) whole[k] = sum[k]!
  fft.completeSpectrum(whole)
  const back = fft.createComplexArray()
  fft.inverseTransform(back, whole)
  const chances = Float64Array.from({ length: steps }, (_, n) => back[2 * n]!)
  return read(chances, step)
}

/** What is at a point is read as spread evenly over the half steps beside it. */
function read(chances: Float64Array, step: number): Listed {
  const below = new Float64Array(chances.length + 1)
  chances.forEach((chance, n) => {
    below[n + 1] = below[n]! + chance
  })
  return {
    step,
    upTo(x) {
      const place = x / step + 0.5
      const n = Math.floor(place)
      if (n < 0) return 0
      return n >= chances.length ? below[chances.length]! : below[n]! + chances[n]! * (place - n)
    },
    quantile(level) {
      const n = below.findIndex((sum) => sum >= level)
      if (n <= 0) return n === 0 ? 0 : step * chances.length
      return step * (n - 1.5 + (level - below[n - 1]!) / chances[n - 1]!)
    },
  }
}
