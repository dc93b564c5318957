import { z } from 'zod'
import type { RoundLock } from '../core/checks/locks'
import { openStateKinds } from '../core/checks/open-states'
import { convert } from '../core/quantity/units'
import type { Tx } from '../data/store'
import { deed, requireFresh } from './deed'
import { readDistances } from './distances'
import { idOf, lengthUnits, lineOf, lineOrNull, most, numberOrNull, searchKey, versionOf } from './fields'
import { readJudged } from './read-judged'
import { refuse, refuseField } from './refusal'

export const ridePurposes = ['test', 'final', 'buyer', 'delivery'] as const
export type RidePurpose = (typeof ridePurposes)[number]

const distance = numberOrNull({
  min: 0,
  max: 2_000_000,
  message: 'Give the figure on the clock, like 31200.',
})

const yesOrNot = z
  .literal('yes')
  .optional()
  .transform((said) => said === 'yes')

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
  /** The clock really shows less than it did before, looked at twice. */
  showsLess: yesOrNot,
})

/**
 * A bike goes out, ridden by anyone. Refused while anything but these papers keeps the road round shut: what was
 * not checked, what is wrong, what work left open; looked at inside the transaction, so that nothing is opened
 * between the look and the ride. A clock that shows less than before is asked about once and then taken as it
 * is: it may have been changed, and the history of the distance tells the fall.
 */
export const rideOut = deed('ride:note', rideOutInput, async (input, { tx, now, who }) => {
  const { ride: id, bike: bikeId, held, distanceOut, showsLess, ...papers } = input
  const { locks } = await readJudged(tx, { bikeId, now })
  if (await tx.ride.findUnique({ where: { id } })) return refuse('rule', 'This ride is written down already.')
  if (await tx.ride.findFirst({ where: { bikeId, inAt: null } }))
    return refuse('rule', 'This bike is out already. Note it back in first.')
  const road = locks.find(({ round }) => round === 'road')
  if (road && !onlyPapersLack(road)) return refuse('rule', `The road is shut: ${whatShuts(road).join(' ')}`)
  // The form begins with the name of whoever fills it in, who is not the buyer.
  if (papers.purpose === 'buyer' && searchKey(papers.rider) === searchKey(who.name))
    return refuseField('rider', 'Give the name of the buyer who rides, as on the licence.')
  if (papers.purpose === 'buyer' && held === null)
    return refuseField('held', 'Say what you hold until the buyer is back: keys, a deposit, a paper.')
  if (distanceOut === null) return refuseField('distanceOut', 'Give the figure on the clock, like 31200.')
  if (!showsLess) await requireNoFall(tx, { bikeId, distance: distanceOut, unit: papers.unit })
  const row = { id, bikeId, ...papers, held: held ?? '', distanceOut, outAt: now, personId: who.personId }
  await tx.ride.create({ data: row })
  return {
    answer: { ride: id },
    event: {
      bikeId,
      body: { did: 'out', ...papers, held, distance: distanceOut, ...(showsLess && { showsLess }) },
    },
  }
})

/** A slip of the finger is told at its field before it becomes a fall in the history. */
async function requireNoFall(
  tx: Tx,
  { bikeId, distance, unit }: { bikeId: string; distance: number; unit: 'mi' | 'km' },
): Promise<void> {
  const bike = await tx.bike.findUniqueOrThrow({ where: { id: bikeId } })
  const { zone } = await tx.shop.findFirstOrThrow({ select: { zone: true } })
  const last = (await readDistances(tx, bike, zone)).points.at(-1)
  if (!last || convert(last.distance, last.unit, unit) - distance <= 1) return
  const known = `${Math.round(last.distance)} ${last.unit}`
  refuseField(
    'distanceOut',
    `It showed ${known} before. Read the clock again; if it does show less, tick that below.`,
  )
}

function onlyPapersLack(road: RoundLock): boolean {
  const cleared = [...road.by, ...road.needs].every(({ clearedUntil }) => clearedUntil !== null)
  return cleared && road.states.length === 0 && road.openWork.length === 0
}

/** So many things are named in one sentence; the page of rides names them all. */
const namedAtOnce = 8

function whatShuts(road: RoundLock): string[] {
  const all = [
    ...road.by.filter(({ clearedUntil }) => clearedUntil === null).map(({ title }) => `${title}.`),
    ...road.states.map(({ kind }) => `${openStateKinds[kind].title}.`),
    ...road.openWork.map((title) => `Not finished: ${title}.`),
    ...road.needs.filter(({ clearedUntil }) => clearedUntil === null).map(({ title }) => `Check: ${title}.`),
  ]
  const more = all.length - namedAtOnce
  return more > 0 ? [...all.slice(0, namedAtOnce), `And ${more} more.`] : all
}

export const rideInInput = z.strictObject({
  ride: idOf,
  version: versionOf,
  distanceIn: distance,
  /** The clock really shows less than was written down when it went out. */
  showsLess: yesOrNot,
  note: lineOrNull(most.reason),
})

/** Back from a ride: the distance goes into the history of the bike, and what was cleared for one ride ends. */
export const rideIn = deed('ride:note', rideInInput, async (input, { tx, now }) => {
  const { ride: id, version, distanceIn, showsLess, note } = input
  const ride = await tx.ride.findUnique({ where: { id } })
  if (!ride) return refuse('not-found', 'That ride is not there.')
  if (ride.inAt) return refuse('rule', 'This ride is back already.')
  if (distanceIn === null) return refuseField('distanceIn', 'Give the figure on the clock, like 31212.')
  if (distanceIn < ride.distanceOut && !showsLess)
    return refuseField(
      'distanceIn',
      `It went out at ${ride.distanceOut} ${ride.unit}. Read the clock again; if it does show less, tick that below.`,
    )
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
  const { viewingNo } = await tx.bike.findUniqueOrThrow({ where: { id: bikeId } })
  return {
    answer: { viewingNo },
    event: {
      bikeId,
      body: {
        ...{ did: 'in', rider: ride.rider, distance: distanceIn, unit: ride.unit, note },
        ...(showsLess && { showsLess }),
      },
    },
  }
})
