import { verdict } from '../measure/verdict'
import { convert, convertDifference, type Unit } from '../quantity/units'
import type { Condition, MeasuredCheck } from './catalogue'
import { combinedUncertainty } from './instruments'
import type { Found, Judgement, PositionValue } from './judge'
import { type BoundInForce, type EnteredLimit, effectiveLimit, type LimitInForce } from './limits'
import { parseTyped, type Reading, type ReadingInstrument } from './reading'
import { type MeasuredTold, measuredSays } from './says'

type Base = Pick<Judgement, 'check' | 'title' | 'sort' | 'safety'>

/** A reading as a number in the check's unit, with what it was read with and the uncertainty of that. */
type Read = {
  reading: Reading
  value: number
  instrument: ReadingInstrument | null
  uncertainty: number
}
type AtPosition = {
  told: PositionValue
  instrument: ReadingInstrument | null
  uncertainty: number
}
/** Positions that share one limit. */
type Group = { limit: LimitInForce | null; positions: AtPosition[] }
type Judged = { group: Group; out: ReturnType<typeof verdict> }

/**
 * A measured check against its limit. Positions with the same limit are judged together, since a limit may be
 * stamped on one disc and not on the other; the worst group speaks for the check. Safety checks are judged by
 * the guarded rule, others by the simple one. Readings without the conditions that the check asks for are
 * kept and not judged.
 */
export function judgeMeasured(asked: {
  check: MeasuredCheck
  taken: readonly Reading[]
  limits: readonly EnteredLimit[]
  base: Base
}): Judgement {
  const { check, taken, limits, base } = asked
  const readable = taken.flatMap((reading) => readAs(check, reading))
  if (readable.length === 0) return unreadable(check, taken.at(-1)!, base)
  const lacking = (read: Read) => (check.conditions ?? []).filter((c) => !read.reading.conditions.includes(c))
  const inCondition = readable.filter((read) => lacking(read).length === 0)
  if (inCondition.length === 0) {
    const needs = lacking(readable.at(-1)!)
    return keptOnly(check, valuesAt(check, readable), { why: 'wrong-condition', needs }, limits, base)
  }
  const counted = check.needsEngineSpeed
    ? inCondition.filter(({ reading }) => (reading.engineSpeed ?? null) !== null)
    : inCondition
  if (counted.length === 0) {
    const because = { why: 'no-engine-speed', needs: [] } as const
    return keptOnly(check, valuesAt(check, inCondition), because, limits, base)
  }
  return inTheRightCondition(check, valuesAt(check, counted), limits, base)
}

function inTheRightCondition(
  check: MeasuredCheck,
  positions: AtPosition[],
  limits: readonly EnteredLimit[],
  base: Base,
): Judgement {
  const judged = groupsOf(check, positions, limits).flatMap((group) => judgeGroup(check, group))
  const worst = judged.reduce((a, b) => (worseThan(b, a) ? b : a))
  const saleLines = judged.map(({ out }) => out.belowSaleLine)
  const belowSaleLine = saleLines.includes(true) ? true : saleLines.includes(false) ? false : null
  const told = toldOf(check, positions, worst)
  const common = { ...commonOf(base, positions, worst), belowSaleLine }
  const { out, group } = worst
  if (out.verdict === 'outside') return { ...common, verdict: 'outside', says: measuredSays.outside(told) }
  if (out.verdict === 'too-close') {
    const conformanceProbability = out.conformanceProbability ?? 0
    return { ...common, verdict: 'too-close', conformanceProbability, says: measuredSays['too-close'](told) }
  }
  if (out.verdict === 'within' && missingOf(positions).length === 0) {
    return { ...common, verdict: 'within', noted: false, says: measuredSays.within(told) }
  }
  const why = hasLimit(group.limit) ? 'too-few' : 'no-limit'
  return { ...common, verdict: 'not-judged', why, needs: [], says: measuredSays[why](told) }
}

function keptOnly(
  check: MeasuredCheck,
  positions: AtPosition[],
  { why, needs }: { why: 'wrong-condition' | 'no-engine-speed'; needs: readonly Condition[] },
  limits: readonly EnteredLimit[],
  base: Base,
): Judgement {
  const limit = effectiveLimit({ check, entered: limits, position: null })
  const unjudged = judgeGroup(check, { limit: null, positions })[0]!
  const worst = { ...unjudged, group: { limit, positions } }
  return {
    ...commonOf(base, positions, worst),
    belowSaleLine: null,
    verdict: 'not-judged',
    why,
    needs,
    says: measuredSays[why]({ ...toldOf(check, positions, worst), needs }),
  }
}

function unreadable(check: MeasuredCheck, reading: Reading, base: Base): Judgement {
  const typed = parseTyped({ check, value: reading.value, unit: reading.unit })
  return {
    ...base,
    readings: [reading.id],
    verdict: 'not-judged',
    why: 'unreadable',
    found: null,
    belowSaleLine: null,
    needs: [],
    says: typed.ok ? 'This is no measured value.' : typed.problem,
  }
}

function readAs(check: MeasuredCheck, reading: Reading): Read[] {
  const typed = parseTyped({ check, value: reading.value, unit: reading.unit })
  if (!typed.ok || typed.kind !== 'measured') return []
  const instrument = reading.instrument ?? coarsestOf(check)
  return [
    {
      reading,
      value: convert(typed.value, typed.unit, check.unit),
      instrument,
      uncertainty: instrument ? uncertaintyOf(instrument, check.unit) : Number.POSITIVE_INFINITY,
    },
  ]
}

/** Where nobody noted the instrument, the coarsest that the check knows is assumed, never an exact one. */
function coarsestOf(check: MeasuredCheck): ReadingInstrument | null {
  const known = [...check.instruments].sort(
    (a, b) => uncertaintyOf(b, check.unit) - uncertaintyOf(a, check.unit),
  )
  return known[0] ?? null
}

/** For choosing between instruments only; the verdict works it out for itself. */
function uncertaintyOf(instrument: ReadingInstrument, unit: Unit): number {
  return convertDifference(combinedUncertainty(instrument), instrument.unit, unit)
}

/**
 * Each position of the check, read or not, then every reading that names none of them, for itself. Where there
 * is only one position a reading need not name it.
 */
function valuesAt(check: MeasuredCheck, reads: readonly Read[]): AtPosition[] {
  const { positions } = check
  if (positions.length === 0) return [averaged(null, '', reads)]
  const positionOf = ({ reading }: Read) =>
    reading.position ?? (positions.length === 1 ? positions[0]!.key : null)
  const unplaced = reads.filter((read) => !positions.some(({ key }) => key === positionOf(read)))
  return [
    ...positions.map(({ key, label }) =>
      averaged(
        key,
        label,
        reads.filter((read) => positionOf(read) === key),
      ),
    ),
    ...unplaced.map((read) => averaged(read.reading.position, read.reading.position ?? '', [read])),
  ]
}

/**
 * Taken again at one position: the mean. Where a finer instrument was fetched, only what it read counts: a
 * mean with the coarser reading would be worse than the finer one alone.
 */
function averaged(position: string | null, label: string, reads: readonly Read[]): AtPosition {
  const finest = Math.min(...reads.map(({ uncertainty }) => uncertainty))
  const counted = reads.filter(({ uncertainty }) => uncertainty <= finest * (1 + 1e-12))
  const [first] = counted
  // Taken from the first on, so that the mean of equal readings is that reading to the last bit.
  const value = first
    ? first.value + counted.reduce((sum, read) => sum + (read.value - first.value), 0) / counted.length
    : null
  return {
    told: { position, label, value, readings: counted.map(({ reading }) => reading.id) },
    instrument: first?.instrument ?? null,
    uncertainty: first ? finest : 0,
  }
}

function groupsOf(
  check: MeasuredCheck,
  positions: readonly AtPosition[],
  entered: readonly EnteredLimit[],
): Group[] {
  const groups = new Map<string, Group>()
  for (const at of positions) {
    const limit = effectiveLimit({ check, entered, position: at.told.position })
    const key = JSON.stringify(limit)
    const group = groups.get(key) ?? { limit, positions: [] }
    group.positions.push(at)
    groups.set(key, group)
  }
  return [...groups.values()]
}

/** Nothing where no position of the group is read. The least certain instrument of the group counts for all. */
function judgeGroup(check: MeasuredCheck, group: Group): Judged[] {
  const read = readOf(group.positions)
  if (read.length === 0) return []
  const coarsest = read.reduce((a, b) => (b.uncertainty > a.uncertainty ? b : a))
  const { limit } = group
  const out = verdict({
    readings: read.map(({ told }) => told.value!),
    unit: check.unit,
    judgedOn: check.judgedOn,
    rule: check.safety ? 'guarded' : 'simple',
    ...(coarsest.instrument && { instrument: coarsest.instrument }),
    ...(limit &&
      hasLimit(limit) && {
        limit: {
          ...bounds(limit, limit.min, limit.max),
          ...(limit.asNew !== null && { asNew: limit.asNew }),
        },
      }),
    ...(limit &&
      (limit.saleMin || limit.saleMax) && { saleLine: bounds(limit, limit.saleMin, limit.saleMax) }),
  })
  return [{ group, out }]
}

function bounds(limit: LimitInForce, min: BoundInForce | null, max: BoundInForce | null) {
  return { unit: limit.unit, ...(min && { min: min.value }), ...(max && { max: max.value }) }
}

function hasLimit(limit: LimitInForce | null): boolean {
  return limit !== null && (limit.min !== null || limit.max !== null)
}

const severity = { outside: 3, 'too-close': 2, 'not-judged': 1, within: 0 } as const

function worseThan(a: Judged, b: Judged): boolean {
  const by = severity[a.out.verdict] - severity[b.out.verdict]
  if (by !== 0) return by > 0
  return (a.out.conformanceProbability ?? 1) < (b.out.conformanceProbability ?? 1)
}

function commonOf(base: Base, positions: readonly AtPosition[], { group, out }: Judged) {
  const found: Extract<Found, { sort: 'measured' }> = {
    sort: 'measured',
    value: out.value,
    unit: out.unit,
    standardUncertainty: out.standardUncertainty,
    conformanceProbability: out.conformanceProbability,
    wearLeft: out.wearLeft,
    limit: group.limit,
    positions: positions.map(({ told }) => told),
    missing: missingOf(positions).map(({ told }) => told.label),
    worstPosition: deciding(group, out)?.position ?? null,
  }
  return { ...base, readings: positions.flatMap(({ told }) => told.readings), found }
}

function toldOf(
  check: MeasuredCheck,
  positions: readonly AtPosition[],
  { group, out }: Judged,
): MeasuredTold {
  const all = Math.max(1, check.positions.length)
  return {
    value: out.value,
    unit: out.unit,
    at: deciding(group, out)?.label ?? '',
    limit: group.limit,
    belowSaleLine: out.belowSaleLine,
    conformanceProbability: out.conformanceProbability,
    readPositions: all - missingOf(positions).length,
    allPositions: all,
    needs: [],
  }
}

function deciding(group: Group, out: Judged['out']): PositionValue | null {
  return out.worstIndex === null ? null : (readOf(group.positions)[out.worstIndex]?.told ?? null)
}

function readOf(positions: readonly AtPosition[]): AtPosition[] {
  return positions.filter(({ told }) => told.value !== null)
}

function missingOf(positions: readonly AtPosition[]): AtPosition[] {
  return positions.filter(({ told }) => told.value === null)
}
