import { copyFileSync, cpSync, existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { uuidv7 } from 'uuidv7'
import { registers } from '../../lib/core/checks/money-gate'
import { openStore } from '../../lib/data/store'
import { makeFirstDayCode } from '../../lib/shop/codes'
import type { Context, DeedResult, Who } from '../../lib/shop/deed'
import { noteIdentity, noteRegister } from '../../lib/shop/identity'
import { openShop } from '../../lib/shop/open-shop'
import { addPerson } from '../../lib/shop/people'
import type { Role } from '../../lib/shop/who-may'
import { type FreshFolder, removeFolder, scratchFolder, templateDatabase } from './shop-folder'

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
  const { folder: opened, ...ids } = await openedOnce()
  const folder = scratchFolder()
  cpSync(opened, folder, { recursive: true })
  const store = await openStore(folder)
  // No test of a deed pulls the plug: those that do (tests/harm) open their shops themselves.
  await store.db.$executeRawUnsafe('PRAGMA synchronous = OFF')
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
    async dispose() {
      await store.close()
      removeFolder(folder)
    },
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

/**
 * The shop of all tests is opened once a run, through its deeds, and copied: a test pays a copy of its folder and not
 * the hashes of three PINs. Made under another name and renamed: of several workers at once, whichever wins is whole.
 */
async function openedOnce(): Promise<Opened & { folder: string }> {
  const shared = process.env.STAND_LEDGER_TEST_RUN
  if (!shared) throw new Error('tests/support/global-setup.ts has not run')
  const made = join(shared, 'opened')
  if (!existsSync(made)) {
    const making = join(shared, `opening-${uuidv7()}`)
    const folder = join(making, 'shop')
    mkdirSync(folder, { recursive: true })
    copyFileSync(await templateDatabase(), join(folder, 'shop.db'))
    writeFileSync(join(making, 'ids.json'), JSON.stringify(await openIn(folder)))
    try {
      renameSync(making, made)
    } catch (error) {
      if (!existsSync(made)) throw error
    }
  }
  const ids = JSON.parse(readFileSync(join(made, 'ids.json'), 'utf8')) as Opened
  return { ...ids, folder: join(made, 'shop') }
}

async function openIn(folder: string): Promise<Opened> {
  const store = await openStore(folder)
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
  await store.close()
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
