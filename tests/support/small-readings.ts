import type { Check, Instrument } from '../../lib/core/checks/catalogue'
import { judgeAll } from '../../lib/core/checks/judge'
import type { EnteredLimit } from '../../lib/core/checks/limits'
import type { Reading } from '../../lib/core/checks/reading'
import { anyBike, smallChecks } from './small-catalogue'

/** The day and hour that the tests take for today. */
export const asOf = '2026-11-25'
export const now = '2026-11-25T12:00:00.000Z'
export const ages = { guidance: 10, saleLine: 8 }

let count = 0

/** A reading as a tablet would send it; each later one a minute after the one before. */
export function reading(check: string, value: string | number, rest: Partial<Reading> = {}): Reading {
  count += 1
  const sort = smallChecks.find(({ key }) => key === check)?.sort
  return {
    id: `r${String(count).padStart(6, '0')}`,
    check,
    position: null,
    kind: sort === undefined || sort === 'look' ? 'answer' : sort,
    value: String(value),
    unit: null,
    conditions: [],
    instrument: null,
    takenAt: new Date(Date.UTC(2026, 10, 25, 8, count)).toISOString(),
    supersedes: null,
    ...rest,
  }
}

/** One reading at each of the places a, b, c, d, as far as there are values. */
export function around(check: string, values: readonly number[], instrument: Instrument): Reading[] {
  return values.map((value, index) => reading(check, value, { position: 'abcd'[index]!, instrument }))
}

export function stamped(check: string, min: number, rest: Partial<EnteredLimit> = {}): EnteredLimit {
  return {
    id: `limit-${check}-${min}`,
    check,
    scope: 'bike',
    position: null,
    min,
    max: null,
    asNew: null,
    saleMin: null,
    saleMax: null,
    unit: 'mm',
    source: { kind: 'stamped', says: 'stamped on the disc' },
    ...rest,
  }
}

export function judgements(
  readings: readonly Reading[],
  limits: readonly EnteredLimit[] = [],
  checks: readonly Check[] = smallChecks,
) {
  return judgeAll({ checks, readings, limits, kind: anyBike, asOf, ages })
}
