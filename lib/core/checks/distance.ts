import { convert, type Unit } from '../quantity/units'

/** One dated distance, in the unit it was noted in. */
export type DistancePoint = { id: string; day: string; distance: number; unit: Extract<Unit, 'mi' | 'km'> }

/** A later distance below an earlier one. Distances in the unit asked for. */
export type DistanceFall = { from: DistancePoint; to: DistancePoint; by: number }

export type DistanceHistory = {
  /** Oldest first. */
  points: readonly DistancePoint[]
  falls: readonly DistanceFall[]
  /** What is told on every paper. */
  verdict: 'proven' | 'not proven' | 'too few points'
  /** Why it is not proven, in plain sentences; empty where it is. */
  because: readonly string[]
}

/** At least so many dated points before a distance is called proven. Common practice, no published source. */
export const leastDistancePoints = 3

/**
 * Whether the dated distances of a bike bear one another out: sorted by day none may be below the one before.
 * Two of one day are in order of distance. A clock that was changed, or one fall, and the distance is not proven
 * for good, however many points follow.
 * @param unit in which falls are told
 */
export function distanceHistory(asked: {
  points: readonly DistancePoint[]
  clockChanged: boolean
  unit: Extract<Unit, 'mi' | 'km'>
}): DistanceHistory {
  const { unit, clockChanged } = asked
  const inUnit = (point: DistancePoint) => convert(point.distance, point.unit, unit)
  const points = [...asked.points].sort(
    (a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : inUnit(a) - inUnit(b)) || (a.id < b.id ? -1 : 1),
  )
  // A rounding of half a unit, as papers in the other unit have it, is no fall.
  const falls = points.flatMap((to, at) => {
    const highest = points
      .slice(0, at)
      .reduce<DistancePoint | null>((a, b) => (a && inUnit(a) >= inUnit(b) ? a : b), null)
    if (!highest || inUnit(highest) - inUnit(to) <= 1) return []
    return [{ from: highest, to, by: inUnit(highest) - inUnit(to) }]
  })
  const because = [
    ...(clockChanged ? ['The clock was changed.'] : []),
    ...falls.map(({ from, to }) => `${told(to)} on ${to.day} is below ${told(from)} on ${from.day}.`),
  ]
  if (because.length > 0) return { points, falls, verdict: 'not proven', because }
  const days = new Set(points.map(({ day }) => day)).size
  if (days < leastDistancePoints) {
    const have =
      days === 0 ? 'No dated distance yet' : `Distances of only ${days === 1 ? 'one day' : `${days} days`}`
    const lack = `${have}; ${leastDistancePoints} different days are needed.`
    return { points, falls, verdict: 'too few points', because: [lack] }
  }
  return { points, falls, verdict: 'proven', because: [] }
}

function told({ distance, unit }: DistancePoint): string {
  return `${Math.round(distance)} ${unit}`
}
