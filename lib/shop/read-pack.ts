import type { Prisma } from '../data/generated/client'
import type { Context, Who } from './deed'
import { bikeWithFacts, readShopFacts } from './facts'
import { secondsLater } from './instants'
import { type Pack, packDays, packShape, type ViewingInPack } from './pack'
import { bikeOnSheet, readInstruments } from './read-sheet'
import { refuse } from './refusal'
import { mayDo } from './who-may'

/** All that a phone works one viewing out of. */
export const bikeInPack = {
  ...bikeWithFacts,
  offers: {
    ...bikeWithFacts.offers,
    include: { counters: { orderBy: [{ at: 'asc' }, { id: 'asc' }] } },
  },
  photos: bikeOnSheet.photos,
  otherWays: true,
  distances: { where: { withdrawnAt: null } },
  registers: { orderBy: [{ day: 'asc' }, { at: 'asc' }, { id: 'asc' }] },
  identity: { orderBy: [{ at: 'asc' }, { id: 'asc' }] },
} satisfies Prisma.BikeInclude

/** What was sent longer ago has been told by an earlier pack, or by none that is still good. */
const doneDays = 2 * packDays
const secondsOfDay = 24 * 60 * 60

/**
 * What one person's own phone may keep. Prices leave the shop with it, so it is given to nobody at a device that is
 * the bench's or another person's, and to nobody who may not see money.
 */
export async function readPack(context: Context & { who: Who }): Promise<Pack> {
  const { store, now, who } = context
  const { db } = store
  if (!mayDo(who.roles, 'money:see')) refuse('not-allowed', 'Your role does not allow this. Ask a manager.')
  if (!(await isOwnDevice(context))) refuse('not-allowed', notOwnDevice)
  const mine = { createdBy: who.personId, stage: { in: ['viewing', 'offered'] } }
  const [shop, instruments, people, makes, noted, bikes, limits, done] = await Promise.all([
    readShopFacts(db, now),
    readInstruments(db),
    db.person.findMany({ select: { id: true, name: true } }),
    db.bike.findMany({ distinct: ['makeKey'], select: { make: true }, orderBy: { make: 'asc' } }),
    db.comparable.findMany({ where: { withdrawnAt: null }, orderBy: { id: 'asc' } }),
    db.bike.findMany({ where: mine, include: bikeInPack, orderBy: { viewingNo: 'asc' } }),
    db.limit.findMany({ where: { scope: 'bike', bikeId: { not: null } } }),
    db.operation.findMany({
      where: { authorId: who.personId, at: { gte: secondsLater(now, -doneDays * secondsOfDay) } },
      select: { id: true },
    }),
  ])
  const ids = new Set(bikes.map(({ id }) => id))
  const { today: _, ...facts } = shop
  return {
    shape: packShape,
    asOf: now,
    expiresAt: secondsLater(now, packDays * secondsOfDay),
    person: { id: who.personId, name: who.name, roles: [...who.roles] },
    shop: facts,
    instruments,
    names: people.map(({ id, name }) => [id, name]),
    makes: makes.map(({ make }) => make),
    // What was noted for one bike alone concerns nobody away from it.
    noted: noted.filter(({ bikeId }) => bikeId === null || ids.has(bikeId)),
    viewings: bikes.map((bike): ViewingInPack => {
      const own = limits.filter(({ bikeId }) => bikeId === bike.id)
      return {
        bike,
        ownLimits: own.filter(({ withdrawnAt }) => withdrawnAt === null),
        limitIds: own.map(({ id }) => id),
      }
    }),
    done: done.map(({ id }) => id),
  }
}

/** Whether the device is this person's own. */
export async function isOwnDevice({ store, deviceId, who }: Context & { who: Who }): Promise<boolean> {
  const device = deviceId && (await store.db.device.findUnique({ where: { id: deviceId } }))
  return device ? device.ownerId === who.personId : false
}

/** Said where it is not. */
export const notOwnDevice =
  'This device is not your own, so it keeps no prices. A manager says whose a device is, where its code is made.'
