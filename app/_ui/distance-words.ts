import type { DistanceHistory } from '../../lib/core/checks/distance'
import { formatNumber } from './formats'

export const distanceUnitWords = { mi: 'miles', km: 'km' } as const
type DistanceUnit = keyof typeof distanceUnitWords

/** 31,200 miles. */
export function formatDistance(distance: number, unit: DistanceUnit): string {
  return `${formatNumber(distance, 0)} ${distanceUnitWords[unit]}`
}

/** What the dated distances say of the one on the clock. */
export const distanceVerdictWords = {
  proven: 'borne out by dated points',
  'not proven': 'distance not proven',
  'too few points': 'too few dated points to prove it',
} as const satisfies Record<DistanceHistory['verdict'], string>

/** A distance with what may be said of it, the same on every page and paper. */
export function distanceWords(told: {
  distance: number | null
  unit: DistanceUnit
  verdict: DistanceHistory['verdict']
}): string {
  const { distance, unit, verdict } = told
  if (distance === null) return verdict === 'not proven' ? 'not noted; distance not proven' : 'not noted'
  return `${formatDistance(distance, unit)}, ${distanceVerdictWords[verdict]}`
}
