import type { MeasuredCheck, Source } from '../core/checks/catalogue'
import {
  type BoundInForce,
  type EnteredLimit,
  effectiveLimit,
  type LimitInForce,
} from '../core/checks/limits'
import { withUnit } from '../core/checks/says'
import type { Unit } from '../core/quantity/units'

/** One limit as it is shown: the figures, the same in words, and where each figure comes from. */
export type LimitShown = {
  /** Labels of the positions it holds for; empty where it holds for all of them. */
  at: readonly string[]
  limit: LimitInForce | null
  /** "at least 4.5 mm"; null where it is set by model and nobody has entered it. */
  words: string | null
  sources: readonly Source[]
  saleWords: string | null
}

/** The limits of a check as they stand, one for each group of positions that share one. */
export function limitsShown(check: MeasuredCheck, entered: readonly EnteredLimit[]): LimitShown[] {
  const positions = check.positions.length > 0 ? check.positions : [{ key: null, label: '' }]
  const groups = new Map<string, { labels: string[]; limit: LimitInForce | null }>()
  for (const { key, label } of positions) {
    const limit = effectiveLimit({ check, entered, position: key })
    const same = JSON.stringify(limit)
    const group = groups.get(same) ?? { labels: [], limit }
    group.labels.push(label)
    groups.set(same, group)
  }
  const all = [...groups.values()]
  return all.map(({ labels, limit }) => shown(limit, all.length === 1 ? [] : labels))
}

function shown(limit: LimitInForce | null, at: readonly string[]): LimitShown {
  if (!limit) return { at, limit, words: null, sources: [], saleWords: null }
  const { unit, min, max, saleMin, saleMax } = limit
  return {
    at,
    limit,
    words: boundWords(min, max, unit),
    sources: [...new Set([min, max].flatMap((bound) => (bound ? [bound.source] : [])))],
    saleWords: saleMin || saleMax ? boundWords(saleMin, saleMax, unit) : null,
  }
}

function boundWords(min: BoundInForce | null, max: BoundInForce | null, unit: Unit): string | null {
  const words = [
    min && `at least ${withUnit(min.value, unit)}`,
    max && `at most ${withUnit(max.value, unit)}`,
  ]
  const said = words.filter((word) => word !== null)
  return said.length > 0 ? said.join(', ') : null
}

/** "1996 to 1999", "from 1996", "to 1999", "1996"; empty for all years. */
export function yearsWords({ yearFrom, yearTo }: { yearFrom: number | null; yearTo: number | null }): string {
  if (yearFrom === null && yearTo === null) return ''
  if (yearFrom === yearTo) return String(yearFrom)
  if (yearTo === null) return `from ${yearFrom}`
  return yearFrom === null ? `to ${yearTo}` : `${yearFrom} to ${yearTo}`
}

type Figures = Record<'min' | 'max' | 'asNew' | 'saleMin' | 'saleMax', number | null> & { unit: string }

/** "at least 4.5 mm, as new 5 mm": the figures of one entry. */
export function figuresWords({ min, max, asNew, saleMin, saleMax, unit }: Figures): string {
  const parts: [string, number | null][] = [
    ['at least', min],
    ['at most', max],
    ['as new', asNew],
    ['sale line at least', saleMin],
    ['sale line at most', saleMax],
  ]
  return parts
    .flatMap(([word, value]) => (value === null ? [] : `${word} ${withUnit(value, unit as Unit)}`))
    .join(', ')
}
