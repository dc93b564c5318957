import { z } from 'zod'
import type { Db } from '../data/store'
import { deed } from './deed'
import {
  type ClockOfBike,
  type DistancesShown,
  type DistanceTold,
  distancesOf,
  distanceTold,
} from './distances-of'
import { dayOf, idOf, lengthUnits, lineOrNull, most, numberOrNull } from './fields'
import { dayIn } from './instants'
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

/**
 * The dated distances of a bike: as its clock showed it when it was taken in, what papers say, and what each
 * ride brought back.
 */
export async function readDistances(
  db: Db,
  bike: ClockOfBike & { id: string },
  zone: string,
): Promise<DistancesShown> {
  const [notes, rides] = await Promise.all([
    db.distanceNote.findMany({ where: { bikeId: bike.id, withdrawnAt: null } }),
    db.ride.findMany({ where: { bikeId: bike.id } }),
  ])
  return distancesOf(bike, { notes, rides, zone })
}

/** The distance on the clock of a bike when it was taken in, and whether the dated ones bear it out. */
export async function readDistanceTold(db: Db, bikeId: string): Promise<DistanceTold> {
  const { zone } = await db.shop.findFirstOrThrow()
  const bike = await db.bike.findUniqueOrThrow({
    where: { id: bikeId },
    select: { id: true, createdAt: true, distance: true, distanceUnit: true, clockChanged: true },
  })
  return distanceTold(bike, await readDistances(db, bike, zone))
}
