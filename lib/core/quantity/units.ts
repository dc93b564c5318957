import { CalcProblem } from './problem'

/**
 * Each unit as an exact fraction of the first unit of its kind, and where its zero lies on its own scale.
 * Sources: 1 in = 25.4 mm, 1 mi = 1.609344 km and 1 lb = 0.45359237 kg (international yard and pound, 1959);
 * standard gravity 9.80665 m/s² (3rd CGPM, 1901); so 1 lbf = 4.4482216152605 N exactly.
 * - psi: 4.4482216152605 N on (0.0254 m)², in kPa
 * - kg/L: of battery acid; against water at its densest the figure is the specific gravity
 * - lbf·ft: 4.4482216152605 N × 0.3048 m
 */
const table = {
  mm: { kind: 'length', size: [1n, 1n], zero: 0 },
  in: { kind: 'length', size: [254n, 10n], zero: 0 },
  in32: { kind: 'length', size: [254n, 320n], zero: 0 },
  km: { kind: 'length', size: [1_000_000n, 1n], zero: 0 },
  mi: { kind: 'length', size: [1_609_344n, 1n], zero: 0 },
  V: { kind: 'voltage', size: [1n, 1n], zero: 0 },
  A: { kind: 'current', size: [1n, 1n], zero: 0 },
  mA: { kind: 'current', size: [1n, 1000n], zero: 0 },
  kPa: { kind: 'pressure', size: [1n, 1n], zero: 0 },
  bar: { kind: 'pressure', size: [100n, 1n], zero: 0 },
  psi: {
    kind: 'pressure',
    size: [44_482_216_152_605n, 10_000n * 645_160_000n],
    zero: 0,
  },
  'kg/L': { kind: 'density', size: [1n, 1n], zero: 0 },
  degC: { kind: 'temperature', size: [1n, 1n], zero: 0 },
  degF: { kind: 'temperature', size: [5n, 9n], zero: 32 },
  rpm: { kind: 'speed of rotation', size: [1n, 1n], zero: 0 },
  N·m: { kind: 'torque', size: [1n, 1n], zero: 0 },
  lbf·ft: {
    kind: 'torque',
    size: [44_482_216_152_605n * 3048n, 10n ** 17n],
    zero: 0,
  },
  h: { kind: 'time', size: [1n, 1n], zero: 0 },
  '%': { kind: 'share', size: [1n, 1n], zero: 0 },
} as const satisfies Record<string, { kind: string; size: readonly [bigint, bigint]; zero: number }>

/** A unit that a reading, a limit or an instrument may have; `in32` is thirty-seconds of an inch. */
export type Unit = keyof typeof table

/** All units, in the order of the table. */
export const units = Object.keys(table) as [Unit, ...Unit[]]

/** What a unit measures, in words. */
export function kindOf(unit: Unit): string {
  return table[unit].kind
}

/** Whether values in the two units measure the same sort of thing, so that one converts to the other. */
export function comparable(a: Unit, b: Unit): boolean {
  return table[a].kind === table[b].kind
}

/**
 * A value on the scale of `from`, told on the scale of `to`: 212 degF is 100 degC.
 * The factor is an exact fraction, so the only error is that of one multiplication and one division.
 * @throws CalcProblem where the two units measure different things.
 */
export function convert(value: number, from: Unit, to: Unit): number {
  if (from === to) return value
  return convertDifference(value - table[from].zero, from, to) + table[to].zero
}

/**
 * A difference, such as a resolution or an uncertainty: by scale only, so 9 degF of difference is 5 degC.
 * @throws CalcProblem where the two units measure different things.
 */
export function convertDifference(difference: number, from: Unit, to: Unit): number {
  if (from === to) return difference
  const { by, over } = factor(from, to)
  return (difference * by) / over
}

const factors = new Map<string, { by: number; over: number }>()

/** Reduced, both halves stay below 2^53 and are exact as numbers: 1 in is 32/1 thirty-seconds. */
function factor(from: Unit, to: Unit): { by: number; over: number } {
  const key = `${from} ${to}`
  const known = factors.get(key)
  if (known) return known
  if (!comparable(from, to)) {
    throw new CalcProblem(`${from} measures ${kindOf(from)} and ${to} measures ${kindOf(to)}.`, {
      path: [],
      hint: `Give both in units of the same kind: ${units.filter((unit) => comparable(unit, from)).join(', ')}.`,
    })
  }
  const [fromBy, fromOver] = table[from].size
  const [toBy, toOver] = table[to].size
  const by = fromBy * toOver
  const over = fromOver * toBy
  const shared = greatestDivisor(by, over)
  const made = { by: Number(by / shared), over: Number(over / shared) }
  factors.set(key, made)
  return made
}

function greatestDivisor(a: bigint, b: bigint): bigint {
  return b === 0n ? a : greatestDivisor(b, a % b)
}
