import { type DistanceHistory, type DistancePoint, distanceHistory } from '../core/checks/distance'
import type { Prisma } from '../data/generated/client'
import { dayIn } from './instants'

export type DistanceShown = DistancePoint & { source: string; note: string; removable: boolean }

/** The history with where each point comes from. `unit` is that of the bike's clock. */
export type DistancesShown = DistanceHistory & {
  shown: readonly DistanceShown[]
  unit: DistancePoint['unit']
  clockChanged: boolean
}

/** What a bike's own row says of its clock. */
export type ClockOfBike = {
  createdAt: Date
  distance: number | null
  distanceUnit: string
  clockChanged: boolean
}

type Dated = {
  notes: readonly Prisma.DistanceNoteGetPayload<object>[]
  rides: readonly Pick<Prisma.RideGetPayload<object>, 'id' | 'distanceIn' | 'inAt' | 'unit'>[]
  zone: string
}

/** The dated distances of a bike out of what was noted, and what each ride brought back. */
export function distancesOf(bike: ClockOfBike, { notes, rides, zone }: Dated): DistancesShown {
  const unit = bike.distanceUnit as DistancePoint['unit']
  const taken: DistanceShown[] =
    bike.distance === null
      ? []
      : [
          {
            id: 'taken-in',
            day: dayIn(zone, bike.createdAt),
            distance: bike.distance,
            unit,
            ...fixed('clock', 'when it was taken in'),
          },
        ]
  const noted = notes.map(
    (row): DistanceShown => ({
      id: row.id,
      day: row.day,
      distance: row.distance,
      unit: row.unit as DistancePoint['unit'],
      source: row.source,
      note: row.note,
      removable: true,
    }),
  )
  const ridden = rides.flatMap((ride): DistanceShown[] =>
    ride.distanceIn === null || ride.inAt === null
      ? []
      : [
          {
            id: ride.id,
            day: dayIn(zone, ride.inAt),
            distance: ride.distanceIn,
            unit: ride.unit as DistancePoint['unit'],
            ...fixed('clock', 'back from a ride'),
          },
        ],
  )
  const points = [...taken, ...noted, ...ridden]
  const history = distanceHistory({ points, clockChanged: bike.clockChanged, unit })
  const byId = new Map(points.map((point) => [point.id, point]))
  const { clockChanged } = bike
  return { ...history, unit, clockChanged, shown: history.points.map(({ id }) => byId.get(id)!) }
}

/** A distance with what may be said of it, for every page and paper that shows it. */
export type DistanceTold = {
  distance: number | null
  unit: DistancePoint['unit']
  verdict: DistanceHistory['verdict']
}

export function distanceTold(
  { distance }: Pick<ClockOfBike, 'distance'>,
  { unit, verdict }: Pick<DistancesShown, 'unit' | 'verdict'>,
): DistanceTold {
  return { distance, unit, verdict }
}

function fixed(source: string, note: string) {
  return { source, note, removable: false }
}
