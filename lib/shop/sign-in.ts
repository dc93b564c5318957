import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import type { Store, Tx } from '../data/store'
import { type Context, deed, type Who } from './deed'
import { ownInDemo } from './demo-device'
import { idOf } from './fields'
import { secondsLater } from './instants'
import { isPin, typedPin } from './pin'
import { readDemoPeople } from './read-sign-in'
import { refuse, refuseField } from './refusal'
import { newToken, tokenHash } from './tokens'
import type { Role } from './who-may'

export const signInInput = z.strictObject({ person: idOf, pin: typedPin })

const sessionSeconds = 12 * 3600

/**
 * Seconds to wait after so many failed tries in a row: two slips are free, then 2, 4, 8 … up to 15 minutes. It
 * counts for one person on one device, so that nobody can shut a person out from elsewhere.
 */
export function delaySeconds(fails: number): number {
  return fails < 3 ? 0 : Math.min(2 ** (fails - 2), 900)
}

export const signIn = deed('session:start', signInInput, {
  prepare: async (input, context: Context) => ({
    right: await tryPin(input, context),
    demo: (await readDemoPeople(context.store)) !== null,
  }),
  work: async (input, { tx, now, deviceId }, { right, demo }) => {
    if (!right || !deviceId) return refuseWrongPin()
    await forgetTries(tx, { personId: input.person, deviceId })
    await ownInDemo(tx, { personId: input.person, deviceId, demo })
    const token = newToken()
    const expiresAt = secondsLater(now, sessionSeconds)
    await tx.session.create({
      data: {
        id: uuidv7(),
        tokenHash: tokenHash(token),
        personId: input.person,
        deviceId,
        startedAt: now,
        seenAt: now,
        expiresAt,
      },
    })
    return {
      answer: { token, expiresAt },
      event: { bikeId: null, body: { signedIn: input.person } },
    }
  },
})

/** Whether a PIN is right. The try is counted before the PIN is looked at, so that many at once gain nothing. */
export async function tryPin(given: { person: string; pin: string }, context: Context): Promise<boolean> {
  const counted = await countTry(given.person, context)
  const { pepper } = context.store
  return counted !== null && (await isPin({ pin: given.pin, pinHash: counted.pinHash, pepper }))
}

export const refuseWrongPin = () => refuseField('pin', 'That PIN is not right. Try again.')

/** A right PIN clears the count. */
export async function forgetTries(tx: Tx, key: { personId: string; deviceId: string }): Promise<void> {
  await tx.signInDelay.deleteMany({ where: key })
}

async function countTry(
  personId: string,
  { store, now, deviceId }: Context,
): Promise<{ pinHash: string } | null> {
  if (!deviceId) return null
  return store.transaction(async (tx) => {
    const person = await tx.person.findFirst({
      where: { id: personId, leftAt: null },
    })
    if (!person) return null
    const key = { personId, deviceId }
    const before = await tx.signInDelay.findUnique({
      where: { personId_deviceId: key },
    })
    if (before && before.nextAllowedAt > now) {
      const waitSeconds = Math.ceil((before.nextAllowedAt.getTime() - now.getTime()) / 1000)
      refuse('too-soon', `Wait ${waitSeconds} seconds, then try again.`, {
        waitSeconds,
      })
    }
    const fails = (before?.fails ?? 0) + 1
    const after = {
      fails,
      lastFailAt: now,
      nextAllowedAt: secondsLater(now, delaySeconds(fails)),
    }
    await tx.signInDelay.upsert({
      where: { personId_deviceId: key },
      create: { ...key, ...after },
      update: after,
    })
    return { pinHash: person.pinHash }
  })
}

export const signOut = deed('session:end', z.strictObject({}), async (_input, { tx, now, who, deviceId }) => {
  await tx.session.updateMany({
    where: {
      personId: who.personId,
      deviceId: deviceId ?? '',
      endedAt: null,
    },
    data: { endedAt: now },
  })
  return {
    answer: {},
    event: { bikeId: null, body: { signedOut: who.personId } },
  }
})

/** The device a token belongs to, unless it was revoked. */
export async function deviceOf(store: Store, token: string | undefined): Promise<string | null> {
  if (!token) return null
  const device = await store.db.device.findUnique({
    where: { tokenHash: tokenHash(token) },
  })
  return device && !device.revokedAt ? device.id : null
}

/**
 * Who a session token stands for on this device; null where it has ended, run out, or is another device's. On the
 * seller's side a person has the roles of a technician, so that every rule that keeps money from one holds.
 */
export async function whoOf(
  store: Store,
  given: {
    sessionToken: string | undefined
    deviceId: string | null
    now: Date
  },
): Promise<Who | null> {
  const { sessionToken, deviceId, now } = given
  if (!sessionToken || !deviceId) return null
  const session = await store.db.session.findUnique({
    where: { tokenHash: tokenHash(sessionToken) },
    include: { person: { include: { roles: true } } },
  })
  if (!session || session.endedAt || session.expiresAt <= now || session.deviceId !== deviceId) return null
  if (session.person.leftAt) return null
  return {
    personId: session.personId,
    name: session.person.name,
    roles: session.sellerSideAt ? ['technician'] : session.person.roles.map((row) => row.role as Role),
    deviceId,
    ...(session.sellerSideAt && { sellerSide: true }),
  }
}
