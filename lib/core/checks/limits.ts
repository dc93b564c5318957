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
 * - an entered limit and the law's take the place of a general figure (standard, common practice, starting
 *   value) of the catalogue;
 * - among entered limits, the law's and a catalogue figure that is stamped or the maker's, the narrowest wins
 *   and keeps its source.
 * The sale line and the value as new are the shop's choice and a property of the part: there the most
 * particular one that says something wins, this bike before its model before the shop before the catalogue.
 * Where two are equally particular, say two entries for a model whose years overlap, the narrower sale line
 * counts and the value as new that leaves less wear. Nothing here depends on which was entered first.
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
  return { unit: check.unit, min, max, asNew: asNewOf(check, entered, min), saleMin, saleMax }
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

type Side = 'min' | 'max'

function inForce(check: MeasuredCheck, entered: readonly EnteredLimit[], side: Side): BoundInForce | null {
  const said = entered.flatMap((limit) => boundOf(limit, limit[side], check.unit))
  const figure = catalogueBound(check.limit, side, check.unit)
  const counts = figure && (said.length === 0 || !general.includes(figure.source.kind))
  return narrowest(counts ? [...said, figure] : said, side)
}

function onSaleLine(
  check: MeasuredCheck,
  entered: readonly EnteredLimit[],
  side: 'saleMin' | 'saleMax',
): BoundInForce | null {
  const bound = side === 'saleMin' ? 'min' : 'max'
  const saying = mostParticular(entered.filter((limit) => limit[side] !== null))
  const said = narrowest(
    saying.flatMap((limit) => boundOf(limit, limit[side], check.unit)),
    bound,
  )
  return said ?? catalogueBound(check.saleLine, bound, check.unit)
}

function asNewOf(
  check: MeasuredCheck,
  entered: readonly EnteredLimit[],
  min: BoundInForce | null,
): number | null {
  const saying = mostParticular(entered.filter(({ asNew }) => asNew !== null))
  const said = saying.flatMap((limit) => boundOf(limit, limit.asNew, check.unit))
  // Further from the bound that it wears towards: from a lowest bound upwards, else from a highest downwards.
  const furthest = narrowest(said, min ? 'min' : 'max')
  if (furthest) return furthest.value
  const figure = check.limit?.asNew
  return figure === undefined || !check.limit ? null : convert(figure, check.limit.unit, check.unit)
}

/** The first of the narrowest, so that of equal bounds the more particular one names the source. */
function narrowest(bounds: readonly BoundInForce[], side: Side): BoundInForce | null {
  const narrower = (a: BoundInForce, b: BoundInForce) =>
    side === 'min' ? (b.value > a.value ? b : a) : b.value < a.value ? b : a
  return bounds.length === 0 ? null : bounds.reduce(narrower)
}

function boundOf(limit: EnteredLimit, value: number | null, unit: Unit): BoundInForce[] {
  if (value === null) return []
  return [{ value: convert(value, limit.unit, unit), source: limit.source, scope: limit.scope }]
}

function catalogueBound(
  bounds: SourcedBounds | null | undefined,
  side: Side,
  unit: Unit,
): BoundInForce | null {
  const value = bounds?.[side]
  if (!bounds || value === undefined) return null
  return { value: convert(value, bounds.unit, unit), source: bounds.source, scope: 'general' }
}

function fitsPosition(limit: EnteredLimit, position: string | null): boolean {
  return limit.position === null || limit.position === position
}

/** Those of the first scope and kind of position; the list stands in order. */
function mostParticular(sorted: readonly EnteredLimit[]): readonly EnteredLimit[] {
  return sorted.filter((limit) => byParticularity(limit, sorted[0]!) === 0)
}

/** This bike, its model, the shop, the law; within one scope the one for a single position first. */
function byParticularity(a: EnteredLimit, b: EnteredLimit): number {
  const scope = limitScopes.indexOf(a.scope) - limitScopes.indexOf(b.scope)
  return scope !== 0 ? scope : Number(b.position !== null) - Number(a.position !== null)
}

/** What they say settles the rest of the order, never the id, which tells only which was entered first. */
function mostParticularFirst(a: EnteredLimit, b: EnteredLimit): number {
  const says = ({ source }: EnteredLimit) => `${source.kind} ${source.says}`
  return byParticularity(a, b) || (says(a) < says(b) ? -1 : says(a) > says(b) ? 1 : 0)
}
