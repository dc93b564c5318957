import { z } from 'zod'
import { type DistanceHistory, type DistancePoint, distanceHistory } from '../core/checks/distance'
import type { Db } from '../data/store'
import { deed } from './deed'
import { dayOf, idOf, lineOrNull, most, numberOrNull } from './fields'
import { dayIn } from './instants'
import { lengthUnits } from './open-shop'
import { refuse, refuseField } from './refusal'

export const distanceSources = ['clock', 'inspection', 'service', 'register', 'other paper'] as const

const distance = numberOrNull({
  min: 0,
  max: 2_000_000,
  message: 'Give the distance in figures, like 31200.',
})

export const noteDistanceInput = z.strictObject({
  id: idOf,
  bike: idOf,
  day: dayOf,
  distance,
  unit: z.enum(lengthUnits, { error: 'Choose miles or kilometres.' }),
  source: z.enum(distanceSources, { error: 'Say where the figure stands.' }),
  note: lineOrNull(most.line),
})

/** Writes down what the clock or a paper said on a day. */
export const noteDistance = deed('distance:note', noteDistanceInput, async (input, { tx, now, who }) => {
  const { id, bike: bikeId, day, distance, unit, source, note } = input
  if (distance === null) return refuseField('distance', 'Give the distance in figures, like 31200.')
  if (!(await tx.bike.findUnique({ where: { id: bikeId } })))
    return refuse('not-found', 'That bike is not there.')
  const shop = await tx.shop.findFirstOrThrow()
  if (day > dayIn(shop.zone, now)) return refuseField('day', 'That day is still to come.')
  if (await tx.distanceNote.findUnique({ where: { id } }))
    return refuse('rule', 'This is written down already.')
  await tx.distanceNote.create({
    data: { id, bikeId, day, distance, unit, source, note: note ?? '', personId: who.personId, at: now },
  })
  return { answer: {}, event: { bikeId, body: { day, distance, unit, source, note } } }
})

export const withdrawDistanceInput = z.strictObject({
  point: idOf,
  reason: lineOrNull(most.line),
})

/** Takes back a distance that was written down wrongly. It stays in the record. */
export const withdrawDistance = deed('distance:note', withdrawDistanceInput, async (input, { tx, now }) => {
  const { point: id, reason } = input
  if (reason === null) return refuseField('reason', 'Say what was wrong with it.')
  const point = await tx.distanceNote.findUnique({ where: { id } })
  if (!point || point.withdrawnAt) return refuse('not-found', 'That distance is not there (any more).')
  await tx.distanceNote.update({ where: { id }, data: { withdrawnAt: now } })
  return { answer: {}, event: { bikeId: point.bikeId, body: { withdrew: id, reason } } }
})

export type DistanceShown = DistancePoint & { source: string; note: string; removable: boolean }

/** The history with where each point comes from. `unit` is that of the bike's clock. */
export type DistancesShown = DistanceHistory & {
  shown: readonly DistanceShown[]
  unit: DistancePoint['unit']
  clockChanged: boolean
}

/**
 * The dated distances of a bike: as its clock showed it when it was taken in, what papers say, and what each
 * ride brought back.
 */
export async function readDistances(
  db: Db,
  bike: {
    id: string
    createdAt: Date
    distance: number | null
    distanceUnit: string
    clockChanged: boolean
  },
  zone: string,
): Promise<DistancesShown> {
  const [notes, rides] = await Promise.all([
    db.distanceNote.findMany({ where: { bikeId: bike.id, withdrawnAt: null } }),
    db.ride.findMany({ where: { bikeId: bike.id } }),
  ])
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

/** The distance on the clock of a bike when it was taken in, and whether the dated ones bear it out. */
export async function readDistanceTold(db: Db, bikeId: string): Promise<DistanceTold> {
  const { zone } = await db.shop.findFirstOrThrow()
  const bike = await db.bike.findUniqueOrThrow({
    where: { id: bikeId },
    select: { id: true, createdAt: true, distance: true, distanceUnit: true, clockChanged: true },
  })
  const { verdict, unit } = await readDistances(db, bike, zone)
  return { distance: bike.distance, unit, verdict }
}

function fixed(source: string, note: string) {
  return { source, note, removable: false }
}
