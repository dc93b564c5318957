import { uuidv7 } from 'uuidv7'
import { registers } from '../../lib/core/checks/money-gate'
import type { Store } from '../../lib/data/store'
import { makeDemo } from '../../lib/desk/demo/make-demo'
import { makeFirstDayCode } from '../../lib/shop/codes'
import type { Context, DeedResult, Who } from '../../lib/shop/deed'
import { noteIdentity, noteRegister } from '../../lib/shop/identity'
import { openShop } from '../../lib/shop/open-shop'
import { addPerson } from '../../lib/shop/people'
import type { Role } from '../../lib/shop/who-may'
import { copyOfMade, type FreshFolder } from './shop-folder'

/** The day the tests fix: noon in the shop's zone. */
export const testDay = '2026-11-25'
export const testNow = new Date('2026-11-25T12:00:00Z')

export type OpenShop = FreshFolder & {
  deviceId: string
  deviceToken: string
  nobody: Context
  manager: Context
  dealer: Context
  technician: Context
  /** The same person at another instant. */
  at(context: Context, instant: string): Context
}

export const pins = { manager: '274951', dealer: '385162', technician: '496273' } as const

/** A shop in London, in GBP, under the margin scheme, labour 52 an hour, with one person in each role. */
export async function openTestShop(): Promise<OpenShop> {
  const { folder, store, dispose, told: ids } = await copyOfMade('opened', openIn)
  const { deviceId } = ids
  const as = ({ name, role, id }: { name: string; role: Role[]; id: string }): Context => ({
    store,
    now: testNow,
    who: { personId: id, name, roles: role, deviceId },
    deviceId,
  })
  return {
    folder,
    store,
    dispose,
    deviceId,
    deviceToken: ids.deviceToken,
    nobody: { store, now: testNow, who: null, deviceId },
    manager: as({ name: 'Mara', role: ['manager', 'dealer'], id: ids.manager }),
    dealer: as({ name: 'Dele', role: ['dealer'], id: ids.dealer }),
    technician: as({ name: 'Tove', role: ['technician'], id: ids.technician }),
    at: (context, instant) => ({ ...context, now: new Date(instant) }),
  }
}

type Opened = { deviceId: string; deviceToken: string; manager: string; dealer: string; technician: string }

/** Through its deeds, as people would. */
async function openIn(store: Store): Promise<Opened> {
  const opened = done(
    await openShop(
      {
        code: await makeFirstDayCode(store, testNow),
        shopName: 'Plover Lane Motorcycles',
        currency: 'GBP',
        lengthUnit: 'mi',
        zone: 'Europe/London',
        country: 'GB',
        taxScheme: 'margin',
        taxRate: '20',
        labourCost: '52',
        personName: 'Mara',
        pin: pins.manager,
        deviceName: 'office',
      },
      { store, now: testNow, who: null, deviceId: null },
    ),
  )
  const { deviceId, deviceToken, personId } = opened
  const who: Who = { personId, name: 'Mara', roles: ['manager', 'dealer'], deviceId }
  const person = async (name: string, role: Role, pin: string) =>
    done(await addPerson({ name, roles: [role], pin }, { store, now: testNow, who, deviceId })).person
  const dealer = await person('Dele', 'dealer', pins.dealer)
  const technician = await person('Tove', 'technician', pins.technician)
  return { deviceId, deviceToken, manager: personId, dealer, technician }
}

/** Signs a person of the test shop in on the device of its context, as signing in does, without the PIN. */
export async function signedInHere({ store, who, deviceId, now }: Context, device = deviceId): Promise<void> {
  const { personId } = who!
  const id = uuidv7()
  await store.db.session.create({
    data: {
      id,
      tokenHash: id,
      personId,
      deviceId: device!,
      startedAt: now,
      seenAt: now,
      expiresAt: new Date(now.getTime() + 12 * 3600 * 1000),
    },
  })
}

/** The answer of a deed that must have worked. */
export function done<R>(result: DeedResult<R>): R {
  if (!result.ok) throw new Error(`${result.refusal.message} ${JSON.stringify(result.refusal.fields)}`)
  return result.answer
}

/** The refusal of a deed that must have been refused. */
export function refused(result: DeedResult<unknown>) {
  if (result.ok) throw new Error(`was not refused: ${JSON.stringify(result.answer)}`)
  return result.refusal
}

export const chainDriven = {
  finalDrive: 'chain',
  cooling: 'liquid',
  fuelling: 'carburettors',
  frontBrake: 'twin-disc',
  rearBrake: 'disc',
  abs: 'no',
  wheels: 'cast',
  strokes: 'four',
  centreStand: 'yes',
} as const

/** What a form for a viewing sends; every part can be set otherwise. */
export function viewing(over: Record<string, unknown> = {}): Record<string, unknown> & { id: string } {
  return {
    id: uuidv7(),
    kind: chainDriven,
    frameNumber: '',
    registration: '',
    make: 'Calder',
    model: '600 four',
    year: '1997',
    distance: '31200',
    distanceUnit: 'mi',
    sellerName: 'A seller',
    sellerContact: '',
    asking: '1450',
    saleLow: '2000',
    saleLikely: '2350',
    saleHigh: '2600',
    notes: '',
    ...over,
  } as Record<string, unknown> & { id: string }
}

/** What the seller, the numbers and the keys of a bike that may be bought look like. */
export const allSeen = {
  'seller-identity': 'seen',
  'right-to-sell': 'keeper-and-payee',
  'frame-number': 'same',
  keys: 'counted',
} as const

/** Notes what must be known before a bike is bought: every register asked and clear, everything seen. */
export async function cleared({ dealer }: Pick<OpenShop, 'dealer'>, bike: string): Promise<void> {
  for (const register of registers) {
    const answered = { askedOf: 'the register, by telephone', day: testDay, answer: 'clear' }
    done(await noteRegister({ id: uuidv7(), bike, register, ...answered }, dealer))
  }
  for (const [point, answer] of Object.entries(allSeen)) {
    done(await noteIdentity({ id: uuidv7(), bike, point, answer }, dealer))
  }
}

/** The invented shop with all its stories, told by the clock of the tests. */
export async function openInventedShop(): Promise<FreshFolder> {
  return copyOfMade('invented', (store) => makeDemo(store, testNow, () => {}))
}
