import { uuidv7 } from 'uuidv7'
import type { BikeKind } from '../../../lib/core/checks/bike-kind'
import type { Store } from '../../../lib/data/store'
import type { Story } from '../../../lib/desk/demo/story'
import { tell } from '../../../lib/desk/demo/tell'
import { setBikeLimit } from '../../../lib/shop/bike-limit'
import type { Context } from '../../../lib/shop/deed'
import { enrolDemoDevice } from '../../../lib/shop/demo-device'
import { refreshBoardRows, rowsWorkedOut } from '../../../lib/shop/derived'
import { revokeDevice } from '../../../lib/shop/devices'
import { readBoard } from '../../../lib/shop/read-board'
import { readDemoPeople } from '../../../lib/shop/read-sign-in'
import { startSellerSide } from '../../../lib/shop/seller-side'
import { deviceOf, signIn, whoOf } from '../../../lib/shop/sign-in'
import { takeInBike } from '../../../lib/shop/take-in-bike'
import type { Role } from '../../../lib/shop/who-may'
import { deviceCookie, sessionCookie } from '../../../lib/web/cookies'

/*
 * Runs in the server's process, alongside it: what a test needs of the demo without walking through the pages.
 * Everything goes through the deeds that a person at a screen would use.
 */

/** Somebody signed in on a device of their own. */
export type SignedIn = { person: string; name: string; device: string; session: string; cookie: string }

/** A bike of the demo and every amount of money that the shop knows of it, in minor units. */
export type DemoBike = {
  id: string
  viewingNo: number
  name: string
  stage: string
  version: number
  /** What is stored stands first: asked, sale low, likely and high, paid, offered; then what is worked out. */
  amounts: number[]
  storedCount: number
  /** Prices offered, which its seller knows too. */
  offered: number[]
}

export type Asked =
  | { want: 'sign in'; name: string }
  | { want: "seller's side"; name: string }
  | { want: 'at the bench'; name: string }
  | { want: 'bikes' }
  | { want: 'supplier'; name: string }
  | { want: 'readings'; bike: string }
  | { want: 'photos'; bike: string }
  | { want: 'sign in beside'; name: string; device: string }
  | { want: 'shut out'; device: string }
  | { want: 'take in'; make: string; model: string; plate: string; kind?: Partial<BikeKind> }
  | { want: 'tell'; story: Story }
  | { want: 'limit'; viewing: number; check: string; min: string; asNew: string; saleMin: string }

export default async function answer(store: Store, asked: Asked): Promise<unknown> {
  switch (asked.want) {
    case 'sign in':
      return signedIn(store, asked.name)
    case "seller's side":
      return onSellerSide(store, asked.name)
    case 'at the bench':
      return atTheBench(store, asked.name)
    case 'bikes':
      return bikes(store)
    case 'supplier':
      return (await store.db.supplier.findFirstOrThrow({ where: { name: asked.name } })).id
    case 'take in':
      return takeIn(store, asked)
    case 'tell':
      return told(store, asked.story)
    case 'limit':
      return limit(store, asked)
    case 'shut out':
      return shutOut(store, asked.device)
    case 'photos':
      return store.db.photo.findMany({ where: { bikeId: asked.bike } })
    case 'sign in beside':
      return signedIn(store, asked.name, asked.device)
    case 'readings':
      return store.db.reading.findMany({ where: { bikeId: asked.bike }, orderBy: { seq: 'asc' } })
  }
}

/** On a device of their own, or on one that is there already. */
async function signedIn(store: Store, name: string, device?: string): Promise<SignedIn> {
  const nobody: Context = { store, now: new Date(), who: null, deviceId: null }
  const { deviceId, deviceToken } = device ? await known(store, device) : await enrolled(nobody)
  const pin = (await readDemoPeople(store))?.find((one) => one.name === name)?.pin
  const { id } = await store.db.person.findFirstOrThrow({ where: { name } })
  const entered = await signIn({ person: id, pin }, { ...nobody, deviceId })
  if (!entered.ok) throw new Error(entered.refusal.message)
  const { token } = entered.answer
  const cookie = `${deviceCookie}=${deviceToken}; ${sessionCookie}=${token}`
  return { person: id, name, device: deviceToken, session: token, cookie }
}

/** Somebody signed in on a device of the bench. In the demo a device is otherwise the own one of who signs in first. */
async function atTheBench(store: Store, name: string): Promise<SignedIn> {
  const person = await signedIn(store, name)
  const id = (await deviceOf(store, person.device)) ?? ''
  await store.db.device.update({ where: { id }, data: { ownerId: null } })
  return person
}

/** As a manager does with a device that was lost. */
async function shutOut(store: Store, deviceToken: string): Promise<null> {
  const { deviceId: id } = await known(store, deviceToken)
  const { version } = await store.db.device.findUniqueOrThrow({ where: { id } })
  const manager = await store.db.person.findFirstOrThrow({ where: { roles: { some: { role: 'manager' } } } })
  const who = { personId: manager.id, name: manager.name, roles: ['manager'] as const, deviceId: null }
  const done = await revokeDevice({ device: id, version }, { store, now: new Date(), who, deviceId: null })
  if (!done.ok) throw new Error(done.refusal.message)
  return null
}

async function enrolled(nobody: Context) {
  const made = await enrolDemoDevice({}, nobody)
  if (!made.ok) throw new Error(made.refusal.message)
  return made.answer
}

async function known(store: Store, deviceToken: string) {
  const deviceId = await deviceOf(store, deviceToken)
  if (deviceId === null) throw new Error('there is no such device')
  return { deviceId, deviceToken }
}

/** Somebody signed in on a device of their own, whom a seller looks over the shoulder. */
async function onSellerSide(store: Store, name: string): Promise<SignedIn> {
  const person = await signedIn(store, name)
  const now = new Date()
  const deviceId = await deviceOf(store, person.device)
  const who = await whoOf(store, { sessionToken: person.session, deviceId, now })
  const started = await startSellerSide({ from: '/board' }, { store, now, who, deviceId })
  if (!started.ok) throw new Error(started.refusal.message)
  return person
}

/** A viewing as the dealer takes it in, with nothing checked yet; its viewing number. */
async function takeIn(
  store: Store,
  { make, model, plate, kind }: { make: string; model: string; plate: string; kind?: Partial<BikeKind> },
): Promise<number> {
  const who = await dealer(store)
  const taken = await takeInBike(
    {
      id: uuidv7(),
      make,
      model,
      year: '1998',
      registration: plate,
      frameNumber: '',
      kind: { ...commonKind, ...kind },
      distance: '27300',
      distanceUnit: 'mi',
      sellerName: 'A seller',
      sellerContact: '',
      asking: '1250',
      saleLow: '2000',
      saleLikely: '2300',
      saleHigh: '2500',
      notes: '',
    },
    { store, now: new Date(), who, deviceId: null },
  )
  if (!taken.ok) throw new Error(JSON.stringify(taken.refusal))
  return taken.answer.viewingNo
}

/** A bike with all that has happened to it so far, told as the demo tells its own; its viewing number. */
async function told(store: Store, story: Story): Promise<number> {
  const made = new Date()
  const as = async (role: Role): Promise<Context> => {
    const { id: personId, name } = await store.db.person.findFirstOrThrow({
      where: { roles: { some: { role } } },
    })
    return { store, now: made, who: { personId, name, roles: [role], deviceId: null }, deviceId: null }
  }
  const staff = {
    manager: await as('manager'),
    dealer: await as('dealer'),
    technician: await as('technician'),
  }
  const { zone } = await store.db.shop.findFirstOrThrow()
  await tell(story, { staff, zone, made })
  const { _max } = await store.db.bike.aggregate({ _max: { viewingNo: true } })
  return _max.viewingNo ?? 0
}

/** A limit in millimetres with its sale line, for one bike, as somebody of the shop would enter it. */
async function limit(
  store: Store,
  { viewing, check, min, asNew, saleMin }: Extract<Asked, { want: 'limit' }>,
): Promise<null> {
  const bike = await store.db.bike.findUniqueOrThrow({ where: { viewingNo: viewing } })
  const who = await dealer(store)
  const figures = { min, max: null, asNew, saleMin, saleMax: null, unit: 'mm' }
  const set = await setBikeLimit(
    { id: uuidv7(), bike: bike.id, check, position: null, source: 'stamped', note: '', ...figures },
    { store, now: new Date(), who, deviceId: null },
  )
  if (!set.ok) throw new Error(JSON.stringify(set.refusal))
  return null
}

async function dealer(store: Store) {
  const { id, name } = await store.db.person.findFirstOrThrow({
    where: { roles: { some: { role: 'dealer' } } },
  })
  return { personId: id, name, roles: ['dealer'] as const, deviceId: null }
}

const commonKind = {
  finalDrive: 'chain',
  cooling: 'air',
  fuelling: 'carburettors',
  frontBrake: 'twin-disc',
  rearBrake: 'disc',
  abs: 'no',
  wheels: 'cast',
  strokes: 'four',
  centreStand: 'yes',
} as const

async function bikes(store: Store): Promise<DemoBike[]> {
  const rows = await store.db.bike.findMany({
    include: { purchase: true, offers: true, partLines: true },
    orderBy: { viewingNo: 'asc' },
  })
  // Whatever was told of a bike since the board was last looked at is worked out before it is read.
  await refreshBoardRows(store, new Date())
  await rowsWorkedOut(store)
  const { lines } = await readBoard(store, new Date(), { by: 'margin', stage: 'all', search: '', page: 1 })
  return rows.map((row) => {
    const line = lines.find(({ id }) => id === row.id)
    const stored = [
      row.askingMinor,
      row.saleLowMinor,
      row.saleLikelyMinor,
      row.saleHighMinor,
      row.purchase?.priceMinor,
      ...row.offers.map(({ priceMinor }) => priceMinor),
    ].filter((one) => typeof one === 'number')
    const workedOut = [
      line?.marginMean,
      line?.marginLow,
      line?.marginHigh,
      line?.marginPerBenchHour,
      line?.gainFromGoingOn,
      line?.leftAfterKeep,
      line?.walkAway,
      ...row.partLines.map(({ unitMinor }) => unitMinor),
    ].filter((one) => typeof one === 'number')
    return {
      id: row.id,
      viewingNo: row.viewingNo,
      name: `${row.make} ${row.model}`,
      stage: row.stage,
      version: row.version,
      amounts: [...stored, ...workedOut],
      storedCount: stored.length,
      offered: row.offers.map(({ priceMinor }) => priceMinor),
    }
  })
}
