import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { CalcProblem } from '../quantity/problem'
import { comparable, convert, convertDifference, kindOf, type Unit } from '../quantity/units'
import type { VerdictInput } from './verdict.input'

export type Verdict = 'within' | 'outside' | 'too-close' | 'not-judged'

/** A verdict with all that it rests on. Values are in `unit`, the limit's, or the readings' without a limit. */
export interface Judgement {
  /** The value that was judged: a reading or the mean. */
  value: number
  unit: Unit
  standardUncertainty: number
  /** Chance that the true value keeps the limit; null without a limit. */
  conformanceProbability: number | null
  verdict: Verdict
  /** Share of the wear that is left: 1 as new, 0 at the limit, negative past it; null where it has no meaning. */
  wearLeft: number | null
  /** Which reading was judged, from 0; null for the mean. */
  worstIndex: number | null
  /** How many readings lack to the positions that are needed. */
  missing: number
  /** Whether the judged value breaks the sale line; null without one. */
  belowSaleLine: boolean | null
}

interface Bounds {
  min: number
  max: number
}

/**
 * Judges readings against a limit.
 *
 * Uncertainty: u² = (resolution/2)²/3 + standardUncertainty², a reading being anywhere within half a step
 * (JCGM 100:2008, GUM, F.2.2.1); judged on the mean of n ≥ 2 also s²/n with the sample deviation s (GUM 4.2.3).
 * Conformance probability: Φ((max − y)/u) − Φ((min − y)/u) (JCGM 106:2012, 7.2 to 7.4).
 * The guarded rule keeps 2u away from a bound before it says within (ILAC-G8:09/2019, guard band U = 2u).
 * @throws CalcProblem where limit, instrument or sale line is in a unit of another kind than the readings.
 */
export function verdict(input: VerdictInput): Judgement {
  refuseOtherKinds(input)
  const unit = input.limit?.unit ?? input.unit
  const limit = input.limit && boundsIn(input.limit, unit)
  const saleLine = input.saleLine && boundsIn(input.saleLine, unit)
  const readings = input.readings.map((reading) => convert(reading, input.unit, unit))
  const { value, worstIndex } = pick[input.judgedOn](readings, limit ?? saleLine ?? unbounded)
  const standardUncertainty = uncertaintyOf(input, readings, unit)
  const missing = Math.max(0, (input.positions ?? 0) - readings.length)
  const judged = { value, standardUncertainty }
  return {
    value,
    unit,
    standardUncertainty,
    conformanceProbability: limit ? conformanceProbability(judged, limit) : null,
    verdict: limit ? forAllPositions(rules[input.rule ?? 'guarded'](judged, limit), missing) : 'not-judged',
    wearLeft: input.limit ? wearLeft(value, input.limit) : null,
    worstIndex,
    missing,
    belowSaleLine: saleLine ? !keeps(value, saleLine) : null,
  }
}

const unbounded: Bounds = { min: Number.NEGATIVE_INFINITY, max: Number.POSITIVE_INFINITY }

function refuseOtherKinds(input: VerdictInput): void {
  for (const key of ['limit', 'instrument', 'saleLine'] as const) {
    const other = input[key]
    if (other && !comparable(other.unit, input.unit)) {
      throw new CalcProblem(
        `The readings are in ${input.unit} (${kindOf(input.unit)}), this is in ${other.unit} (${kindOf(other.unit)}).`,
        { path: [key, 'unit'], hint: 'Correct whichever of the two units is wrong.' },
      )
    }
  }
}

function boundsIn(bounds: { min?: number; max?: number; unit: Unit }, unit: Unit): Bounds {
  return {
    min: bounds.min === undefined ? unbounded.min : convert(bounds.min, bounds.unit, unit),
    max: bounds.max === undefined ? unbounded.max : convert(bounds.max, bounds.unit, unit),
  }
}

/** The judged value and where it stands among the readings, the first of equals. */
const pick: Record<
  VerdictInput['judgedOn'],
  (readings: number[], bounds: Bounds) => { value: number; worstIndex: number | null }
> = {
  lowest: (readings) => leastBy(readings, (reading) => ({ margin: reading, slack: 0 })),
  highest: (readings) => leastBy(readings, (reading) => ({ margin: -reading, slack: 0 })),
  each: (readings, bounds) =>
    leastBy(readings, (reading) => ({
      margin: Math.min(reading - bounds.min, bounds.max - reading),
      slack: Math.max(slack(reading, bounds.min), slack(reading, bounds.max)),
    })),
  mean: (readings) => ({ value: mean(readings), worstIndex: null }),
}

/** A later reading has to be lower by more than the slack: 5.03 is as near to 5.05 as 4.47 is to 4.45. */
function leastBy(readings: number[], measure: (reading: number) => { margin: number; slack: number }) {
  const [first = Number.NaN] = readings
  let least = { value: first, worstIndex: 0, ...measure(first) }
  readings.forEach((value, worstIndex) => {
    const found = measure(value)
    if (found.margin < least.margin - Math.max(found.slack, least.slack)) {
      least = { value, worstIndex, ...found }
    }
  })
  return { value: least.value, worstIndex: least.worstIndex }
}

/** Taken from the first reading on, so that the mean of equal readings is that reading to the last bit. */
function mean(readings: number[]): number {
  const [first = Number.NaN] = readings
  return first + readings.reduce((sum, reading) => sum + (reading - first), 0) / readings.length
}

function uncertaintyOf(input: VerdictInput, readings: number[], unit: Unit): number {
  const { instrument, judgedOn } = input
  const parts = [0]
  if (instrument) {
    parts.push(convertDifference(instrument.resolution, instrument.unit, unit) / (2 * Math.sqrt(3)))
    parts.push(convertDifference(instrument.standardUncertainty, instrument.unit, unit))
  }
  if (judgedOn === 'mean' && readings.length > 1) parts.push(standardErrorOfMean(readings))
  return Math.hypot(...parts)
}

function standardErrorOfMean(readings: number[]): number {
  const middle = mean(readings)
  const squares = readings.reduce((sum, reading) => sum + (reading - middle) ** 2, 0)
  return Math.sqrt(squares / (readings.length - 1) / readings.length)
}

interface Judged {
  value: number
  standardUncertainty: number
}

/** Of the two equal forms of the difference, the one whose terms are small: 1 − 1 would lose a small chance. */
function conformanceProbability({ value, standardUncertainty: u }: Judged, { min, max }: Bounds): number {
  if (u === 0) return keeps(value, { min, max }) ? 1 : 0
  const toMin = (min - value) / u
  const toMax = (max - value) / u
  return toMin > 0
    ? standardNormal(-toMin) - standardNormal(-toMax)
    : standardNormal(toMax) - standardNormal(toMin)
}

function standardNormal(z: number): number {
  return normalCdf(z, 0, 1)
}

const rules: Record<'simple' | 'guarded', (judged: Judged, bounds: Bounds) => Verdict> = {
  simple: ({ value }, bounds) => (keeps(value, bounds) ? 'within' : 'outside'),
  guarded: ({ value, standardUncertainty: u }, bounds) => {
    if (!keeps(value, bounds)) return 'outside'
    return keeps(value, { min: bounds.min + 2 * u, max: bounds.max - 2 * u }) ? 'within' : 'too-close'
  },
}

/** Too few readings may condemn a part but not pass it. */
function forAllPositions(found: Verdict, missing: number): Verdict {
  return found === 'within' && missing > 0 ? 'not-judged' : found
}

/** Bounds included. The slack forgives what conversion and binary fractions do to a value that stands on one. */
function keeps(value: number, { min, max }: Bounds): boolean {
  return value >= min - slack(value, min) && value <= max + slack(value, max)
}

/** One part in 10^12 of the value or the bound, whichever is larger; nothing where there is no bound. */
function slack(value: number, bound: number): number {
  return Number.isFinite(bound) ? 1e-12 * Math.max(Math.abs(value), Math.abs(bound)) : 0
}

/** From new towards min for what wears away, from new towards max for what grows. */
function wearLeft(value: number, limit: NonNullable<VerdictInput['limit']>): number | null {
  const { min, max, asNew } = limit
  if (asNew === undefined) return null
  if (min !== undefined && asNew > min) return (value - min) / (asNew - min)
  if (max !== undefined && asNew < max) return (max - value) / (max - asNew)
  return null
}
