import { comparable, convert, type Unit } from '../quantity/units'
import { type BikeKind, fitsKind } from './bike-kind'
import type { Check, Country, MeasuredCheck, Source, SourcedBounds } from './catalogue'

/** `law`: what the shop's country asks; the others somebody entered. */
export const limitScopes = ['bike', 'model', 'shop', 'law'] as const
export type LimitScope = (typeof limitScopes)[number]

/** A limit somebody entered: stamped on this bike's part, out of a model's data, or for the whole shop. */
export type EnteredLimit = {
  id: string
  check: string
  scope: LimitScope
  /** Only for this position, or null for all of them. */
  position: string | null
  min: number | null
  max: number | null
  asNew: number | null
  saleMin: number | null
  saleMax: number | null
  /** Of all the figures above. */
  unit: Unit
  source: Source
}

/** One bound with where it comes from, in the unit of the limit that holds it. */
export type BoundInForce = {
  value: number
  source: Source
  /** The scope of the entered limit, or `general` for the catalogue's figure. */
  scope: LimitScope | 'general'
}

/** What a reading is held against. All figures are in `unit`, which is the check's own. */
export type LimitInForce = {
  unit: Unit
  min: BoundInForce | null
  max: BoundInForce | null
  asNew: number | null
  saleMin: BoundInForce | null
  saleMax: BoundInForce | null
}

/**
 * The limit a check is held against at one position (null: all positions alike), in the check's own unit;
 * null where there is none. Bound by bound:
 * - an entered limit takes the place of a general figure (standard, common practice, starting value);
 * - among entered limits and a catalogue figure that is stamped, the maker's or the law's, the narrowest wins
 *   and keeps its source.
 * The sale line and the value as new are the shop's choice and a property of the part: there the most
 * particular one that says something wins, this bike before its model before the shop before the catalogue.
 */
export function effectiveLimit(asked: {
  check: MeasuredCheck
  entered: readonly EnteredLimit[]
  position: string | null
}): LimitInForce | null {
  const { check } = asked
  const entered = asked.entered
    .filter((limit) => limit.check === check.key && fitsPosition(limit, asked.position))
    .filter((limit) => comparable(limit.unit, check.unit))
    .sort(mostParticularFirst)
  const min = inForce(check, entered, 'min')
  const max = inForce(check, entered, 'max')
  const saleMin = onSaleLine(check, entered, 'saleMin')
  const saleMax = onSaleLine(check, entered, 'saleMax')
  if (!min && !max && !saleMin && !saleMax) return null
  return { unit: check.unit, min, max, asNew: asNewOf(check, entered), saleMin, saleMax }
}

/** What the law of the shop's country asks of this kind of bike, as limits that no general figure overrides. */
export function lawLimits(asked: {
  checks: readonly Check[]
  country: Country
  kind: BikeKind
}): EnteredLimit[] {
  const { checks, country, kind } = asked
  return checks.flatMap((check) =>
    check.sort !== 'measured'
      ? []
      : (check.law ?? [])
          .filter((law) => law.country === country && fitsKind(kind, law.appliesTo))
          .map(({ min = null, max = null, unit, source }): EnteredLimit => {
            const id = `law:${country}:${check.key}`
            const none = { position: null, asNew: null, saleMin: null, saleMax: null }
            return { id, check: check.key, scope: 'law', ...none, min, max, unit, source }
          }),
  )
}

const general: readonly Source['kind'][] = ['standard', 'common practice', 'starting value']

function inForce(
  check: MeasuredCheck,
  entered: readonly EnteredLimit[],
  side: 'min' | 'max',
): BoundInForce | null {
  const said = entered.flatMap((limit) => boundOf(limit, limit[side], check.unit))
  const figure = catalogueBound(check.limit, side, check.unit)
  const counts = figure && (said.length === 0 || !general.includes(figure.source.kind))
  const all = counts ? [...said, figure] : said
  const narrower = (a: BoundInForce, b: BoundInForce) =>
    side === 'min' ? (b.value > a.value ? b : a) : b.value < a.value ? b : a
  return all.length === 0 ? null : all.reduce(narrower)
}

function onSaleLine(
  check: MeasuredCheck,
  entered: readonly EnteredLimit[],
  side: 'saleMin' | 'saleMax',
): BoundInForce | null {
  const [said] = entered.flatMap((limit) => boundOf(limit, limit[side], check.unit))
  return said ?? catalogueBound(check.saleLine, side === 'saleMin' ? 'min' : 'max', check.unit)
}

function asNewOf(check: MeasuredCheck, entered: readonly EnteredLimit[]): number | null {
  const [said] = entered.flatMap((limit) => boundOf(limit, limit.asNew, check.unit))
  if (said) return said.value
  const figure = check.limit?.asNew
  return figure === undefined || !check.limit ? null : convert(figure, check.limit.unit, check.unit)
}

function boundOf(limit: EnteredLimit, value: number | null, unit: Unit): BoundInForce[] {
  if (value === null) return []
  return [{ value: convert(value, limit.unit, unit), source: limit.source, scope: limit.scope }]
}

function catalogueBound(
  bounds: SourcedBounds | null | undefined,
  side: 'min' | 'max',
  unit: Unit,
): BoundInForce | null {
  const value = bounds?.[side]
  if (!bounds || value === undefined) return null
  return { value: convert(value, bounds.unit, unit), source: bounds.source, scope: 'general' }
}

function fitsPosition(limit: EnteredLimit, position: string | null): boolean {
  return limit.position === null || limit.position === position
}

/** This bike, its model, the shop; within one scope the one for a single position first, then the later. */
function mostParticularFirst(a: EnteredLimit, b: EnteredLimit): number {
  const scope = limitScopes.indexOf(a.scope) - limitScopes.indexOf(b.scope)
  if (scope !== 0) return scope
  const single = Number(b.position !== null) - Number(a.position !== null)
  if (single !== 0) return single
  return a.id < b.id ? 1 : a.id > b.id ? -1 : 0
}
