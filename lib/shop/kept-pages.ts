import type { Db } from '../data/store'
import type { Context, Who } from './deed'
import { dayIn } from './instants'
import { stages } from './stage-names'
import { mayDo } from './who-may'

/** A page a device keeps for a time without a network. It is fetched anew where its mark is another. */
export type KeptPage = { address: string; mark: string }

/** Bikes somebody may still work on or look over: neither sold nor passed up. */
const inHand = stages.filter((stage) => stage !== 'sold' && stage !== 'passed up')

/** As many bikes as a tablet is asked to keep, those of the latest events first. */
const mostBikes = 60

/** Small pictures have some 480 pixels at the longest and come to 30 kB: all of them together to 12 MB. */
export const mostPictures = 400

/** What every sheet rests on beside its own bike. */
const restsOn = [
  'limit:set',
  'instrument:change',
  'figures:change',
  'catalogue:change',
  'shop:change',
] as const

/**
 * The pages that this person's device keeps. A page stands here only if what it is made from has no money in its
 * type, whoever opens it; the list of bikes and a bike's first page show money to who may see it, so they are kept
 * for those alone who may not. On a device that is a dealer's own, the page that works on what the device itself
 * keeps is kept too: it holds nothing of the shop.
 */
export async function readKeptPages({
  store,
  now,
  who,
  deviceId,
}: Context & { who: Who }): Promise<readonly KeptPage[]> {
  const { db } = store
  const shop = await db.shop.findFirstOrThrow({ select: { zone: true } })
  const [{ bikes, last }, rest, device] = await Promise.all([
    keptBikes(db),
    db.event.aggregate({ _max: { seq: true }, where: { verb: { in: [...restsOn] } } }),
    deviceId === null ? null : db.device.findUnique({ where: { id: deviceId }, select: { ownerId: true } }),
  ])
  const latest = Math.max(0, ...last.values())
  const seesMoney = mayDo(who.roles, 'money:see')
  const all = `${dayIn(shop.zone, now)} ${rest._max.seq ?? 0}`
  const page = (address: string, mark: string | number = '') => ({
    address,
    mark: `${all} ${mark} ${who.personId}`,
  })
  const ofBike = ({ id, viewingNo }: { id: string; viewingNo: number }) =>
    [...(seesMoney ? [] : ['']), '/checks', '/checks/short', '/bench'].map((part) =>
      page(`/bikes/${viewingNo}${part}`, last.get(id)),
    )
  return [
    page('/device'),
    page('/bench/today', latest),
    ...(seesMoney ? [] : [page('/bikes', latest)]),
    ...(seesMoney && device?.ownerId === who.personId ? [page('/away')] : []),
    page('/tyres'),
    page('/words'),
    ...bikes.flatMap(ofBike),
  ]
}

/**
 * The small pictures that are seen on those pages, the newest first. They hold no money and are shown to everybody at
 * the bench; a photo that was taken back is shown nowhere and is kept nowhere.
 */
export async function readKeptPictures({ store }: Pick<Context, 'store'>): Promise<readonly string[]> {
  const { bikes } = await keptBikes(store.db)
  const photos = await store.db.photo.findMany({
    where: { bikeId: { in: bikes.map(({ id }) => id) }, withdrawnAt: null },
    orderBy: [{ receivedAt: 'desc' }, { id: 'desc' }],
    take: mostPictures,
    select: { id: true },
  })
  return photos.map(({ id }) => `/api/v1/photos/${id}?size=small`)
}

/** The bikes that are kept, those of the latest events first, and the number of the last event of every bike. */
async function keptBikes(db: Db) {
  const [bikes, lasts] = await Promise.all([
    db.bike.findMany({ where: { stage: { in: inHand } }, select: { id: true, viewingNo: true } }),
    db.event.groupBy({ by: ['bikeId'], _max: { seq: true }, where: { bikeId: { not: null } } }),
  ])
  const last = new Map(lasts.map(({ bikeId, _max }) => [bikeId, _max.seq ?? 0]))
  const latestFirst = bikes.sort((a, b) => (last.get(b.id) ?? 0) - (last.get(a.id) ?? 0))
  return { bikes: latestFirst.slice(0, mostBikes), last }
}
