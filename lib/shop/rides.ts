import { z } from 'zod'
import type { RoundLock } from '../core/checks/locks'
import { type Context, deed, requireFresh } from './deed'
import { idOf, lineOf, lineOrNull, most, numberOrNull, versionOf } from './fields'
import { readJudged } from './judge-bike'
import { lengthUnits } from './open-shop'
import { refuse, refuseField } from './refusal'

export const ridePurposes = ['test', 'final', 'buyer', 'delivery'] as const
export type RidePurpose = (typeof ridePurposes)[number]

const distance = numberOrNull({
  min: 0,
  max: 2_000_000,
  message: 'Give the figure on the clock, like 31200.',
})

export const rideOutInput = z.strictObject({
  ride: idOf,
  bike: idOf,
  purpose: z.enum(ridePurposes, { error: 'Say what the ride is for.' }),
  rider: lineOf(most.name, 'Say who rides.'),
  licence: lineOf(most.line, 'Say which licence was seen, for this class of bike.'),
  cover: lineOf(most.line, 'Say what insures this rider on this bike.'),
  plates: lineOf(most.line, 'Say which plates are on it.'),
  /** What the shop holds meanwhile: the rider's licence, keys, a deposit. */
  held: lineOrNull(most.line),
  unit: z.enum(lengthUnits, { error: 'Choose miles or kilometres.' }),
  distanceOut: distance,
})

/**
 * A bike goes out, ridden by anyone. Refused while anything but these papers keeps the road round shut: what was
 * not checked, what is wrong, what work left open.
 */
export const rideOut = deed('ride:note', rideOutInput, {
  prepare: ({ bike }, { store, now }: Context) => readJudged(store.db, { bikeId: bike, now }),
  work: async (input, { tx, now, who }, { locks }) => {
    const { ride: id, bike: bikeId, held, distanceOut, ...papers } = input
    if (distanceOut === null) return refuseField('distanceOut', 'Give the figure on the clock, like 31200.')
    const road = locks.find(({ round }) => round === 'road')
    if (road && !road.open && !onlyPapersLack(road))
      return refuse('rule', `The road is shut: ${whatShuts(road).join(' ')}`)
    if (await tx.ride.findFirst({ where: { bikeId, inAt: null } }))
      return refuse('rule', 'This bike is out already. Note it back in first.')
    if (await tx.ride.findUnique({ where: { id } }))
      return refuse('rule', 'This ride is written down already.')
    const row = { id, bikeId, ...papers, held: held ?? '', distanceOut, outAt: now, personId: who.personId }
    await tx.ride.create({ data: row })
    return {
      answer: { ride: id },
      event: { bikeId, body: { did: 'out', ...papers, held, distance: distanceOut } },
    }
  },
})

function onlyPapersLack(road: RoundLock): boolean {
  const cleared = [...road.by, ...road.needs].every(({ clearedUntil }) => clearedUntil !== null)
  return cleared && road.states.length === 0 && road.openWork.length === 0
}

function whatShuts(road: RoundLock): string[] {
  return [
    ...road.by.filter(({ clearedUntil }) => clearedUntil === null).map(({ title }) => `${title}.`),
    ...road.states.map(({ kind }) => `Open: ${kind.replace('-', ' ')}.`),
    ...road.openWork.map((title) => `Not finished: ${title}.`),
    ...road.needs.filter(({ clearedUntil }) => clearedUntil === null).map(({ title }) => `Check: ${title}.`),
  ].slice(0, 8)
}

export const rideInInput = z.strictObject({
  ride: idOf,
  version: versionOf,
  distanceIn: distance,
  note: lineOrNull(most.reason),
})

/** Back from a ride: the distance goes into the history of the bike, and what was cleared for one ride ends. */
export const rideIn = deed('ride:note', rideInInput, async (input, { tx, now }) => {
  const { ride: id, version, distanceIn, note } = input
  const ride = await tx.ride.findUnique({ where: { id } })
  if (!ride) return refuse('not-found', 'That ride is not there.')
  if (ride.inAt) return refuse('rule', 'This ride is back already.')
  if (distanceIn === null) return refuseField('distanceIn', 'Give the figure on the clock, like 31212.')
  if (distanceIn < ride.distanceOut)
    return refuseField('distanceIn', `It went out at ${ride.distanceOut} ${ride.unit}. Read the clock again.`)
  const { count } = await tx.ride.updateMany({
    where: { id, version },
    data: { distanceIn, inAt: now, note: note ?? '', version: { increment: 1 } },
  })
  requireFresh(count, {})
  const { bikeId } = ride
  await tx.lockClearing.updateMany({
    where: { bikeId, oneRide: true, until: { gt: now } },
    data: { until: now },
  })
  return {
    answer: {},
    event: { bikeId, body: { did: 'in', rider: ride.rider, distance: distanceIn, unit: ride.unit, note } },
  }
})
