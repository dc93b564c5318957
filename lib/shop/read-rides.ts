import type { Catalogue, Caution } from '../core/checks/catalogue'
import type { DistanceHistory, DistancePoint } from '../core/checks/distance'
import { convert } from '../core/quantity/units'
import { type BikeHead, headOf } from './bike-head'
import type { Context, Who } from './deed'
import { readDistances } from './distances'
import { noSuchBike, readShopAndLimits, viewingNumber } from './facts'
import { judgeBike } from './judge-bike'
import { bikeToJudge } from './read-judged'
import type { RidePurpose } from './rides'
import { type RoundShut, roundShut } from './round-shut'
import { asReading } from './to-work-out'
import { mayDo } from './who-may'

/*
 * The rides of one bike, and what keeps the next one back, for everybody at the bench: there is no money in it.
 */

export type RideShown = {
  id: string
  version: number
  purpose: RidePurpose
  rider: string
  licence: string
  cover: string
  plates: string
  held: string
  unit: 'mi' | 'km'
  distanceOut: number
  outAt: string
  /** Who wrote it down. */
  who: string
  note: string
  back: { at: string; distance: number; minutes: number; ridden: number } | null
}

export type Rides = BikeHead & {
  zone: string
  /** The unit of the bike's clock. */
  unit: 'mi' | 'km'
  /** The latest distance known, in that unit, and whether the dated ones bear it out. */
  last: { distance: number; day: string; verdict: DistanceHistory['verdict'] } | null
  out: RideShown | null
  /** That came back, latest first. */
  past: readonly RideShown[]
  /** What keeps the road shut beside the papers of the ride; `open` where nothing does. */
  road: RoundShut & { open: boolean }
  /** What to mind on the road, and the standing caution; null where the catalogue has none. */
  roadCaution: Pick<Caution, 'title' | 'says'> | null
  law: Pick<Caution, 'title' | 'says'> | null
  mayClear: boolean
  /** Who asks: most likely the one who rides. */
  reader: string
}

const bikeOnRides = {
  ...bikeToJudge,
  distance: true,
  distanceUnit: true,
  clockChanged: true,
  createdAt: true,
} as const

/** The rides of a bike by its viewing number; refused where there is no such bike. */
export async function readRides(
  { store, now, who }: Context & { who: Who },
  viewingNo: string,
): Promise<Rides> {
  const { db } = store
  const number = viewingNumber(viewingNo)
  const bike = number && (await db.bike.findUnique({ where: { viewingNo: number }, select: bikeOnRides }))
  if (!bike) return noSuchBike()
  const [{ shop, ownLimits }, people] = await Promise.all([
    readShopAndLimits(db, { bikeId: bike.id, now }),
    db.person.findMany({ select: { id: true, name: true } }),
  ])
  const names = new Map(people.map(({ id, name }) => [id, name]))
  const { judgements, faults, locks } = judgeBike(bike, { shop, ownLimits, now })
  const { catalogue, zone } = shop
  const told = { bike, judgements, faults, catalogue, names, now, readings: bike.readings.map(asReading) }
  const road = roundShut(locks.find(({ round }) => round === 'road')!, told)
  const { points, verdict } = await readDistances(db, bike, zone)
  const unit = bike.distanceUnit as DistancePoint['unit']
  const last = points.at(-1)
  const rides = bike.rides.map((ride) => rideShown(ride, names)).reverse()
  return {
    ...headOf(bike),
    zone,
    unit,
    last: last ? { distance: convert(last.distance, last.unit, unit), day: last.day, verdict } : null,
    out: rides.find(({ back }) => back === null) ?? null,
    past: rides.filter(({ back }) => back !== null),
    road: { ...road, wantsRidePapers: false, open: nothingBeside(road) },
    roadCaution: cautionNamed('road-ride', catalogue),
    law: cautionNamed('law', catalogue),
    mayClear: mayDo(who.roles, 'lock:clear'),
    reader: who.name,
  }
}

function cautionNamed(key: string, { cautions }: Catalogue): Pick<Caution, 'title' | 'says'> | null {
  const known = cautions.find((caution) => caution.key === key)
  return known ? { title: known.title, says: known.says } : null
}

/** Nothing but the papers, which are what the form asks for. */
function nothingBeside({ locks, needs, states, openWork }: RoundShut): boolean {
  const cleared = [...locks, ...needs].every((one) => one.cleared !== null)
  return cleared && states.length === 0 && openWork.length === 0
}

type RideRow = {
  id: string
  version: number
  purpose: string
  rider: string
  licence: string
  cover: string
  plates: string
  held: string
  unit: string
  distanceOut: number
  outAt: Date
  distanceIn: number | null
  inAt: Date | null
  note: string
  personId: string
}

function rideShown(row: RideRow, names: ReadonlyMap<string, string>): RideShown {
  const { id, version, rider, licence, cover, plates, held, distanceOut, outAt, distanceIn, inAt, note } = row
  return {
    id,
    version,
    purpose: row.purpose as RidePurpose,
    rider,
    licence,
    cover,
    plates,
    held,
    unit: row.unit as RideShown['unit'],
    distanceOut,
    outAt: outAt.toISOString(),
    who: names.get(row.personId) ?? 'somebody',
    note,
    back:
      inAt === null || distanceIn === null
        ? null
        : {
            at: inAt.toISOString(),
            distance: distanceIn,
            minutes: Math.round((inAt.getTime() - outAt.getTime()) / 60_000),
            ridden: distanceIn - distanceOut,
          },
  }
}
