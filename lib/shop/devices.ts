import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import type { Tx } from '../data/store'
import { spendCode, writeCode } from './codes'
import { deed, requireFresh } from './deed'
import { idOf, lineOf, most, versionOf } from './fields'
import { refuseField } from './refusal'
import { newToken, tokenHash } from './tokens'
import { mayDo, type Role } from './who-may'

/** Writes a device down and answers the token for its cookie, of which only the hash is kept. */
export async function enrol(
  tx: Tx,
  { name, by, now, ownerId = null }: { name: string; by: string | null; now: Date; ownerId?: string | null },
): Promise<{ deviceId: string; deviceToken: string }> {
  const deviceId = uuidv7()
  const deviceToken = newToken()
  await tx.device.create({
    data: { id: deviceId, name, tokenHash: tokenHash(deviceToken), enrolledAt: now, enrolledBy: by, ownerId },
  })
  return { deviceId, deviceToken }
}

export const makeDeviceCodeInput = z.strictObject({
  /** Whose own the device is; empty for one of the bench. */
  owner: z.union([z.literal(''), idOf]).default(''),
})

/**
 * A manager's one-time code for a further device: for the bench, where anybody signs in, or somebody's own, which may
 * keep that person's viewings with their prices.
 */
export const makeDeviceCode = deed(
  'device:change',
  makeDeviceCodeInput,
  async ({ owner }, { tx, now, who }) => {
    const ownerId = owner || null
    const ownerName = ownerId && (await nameOfOwner(tx, ownerId))
    const made = await writeCode(tx, { purpose: 'device', madeBy: who.personId, now, ownerId })
    return {
      answer: { code: made.code, expiresAt: made.expiresAt.toISOString(), owner: ownerName },
      event: { bikeId: null, body: { made: 'device code', ...(ownerId && { owner: ownerId }) } },
    }
  },
)

/** Whoever takes viewings in may have a device of their own. */
export function mayOwnDevice(held: readonly Role[]): boolean {
  return mayDo(held, 'viewing:take-in')
}

async function nameOfOwner(tx: Tx, id: string): Promise<string> {
  const person = await tx.person.findFirst({ where: { id, leftAt: null }, include: { roles: true } })
  if (!person) return refuseField('owner', 'That person is not here any more. Choose somebody else.')
  if (!mayOwnDevice(person.roles.map(({ role }) => role as Role)))
    refuseField('owner', 'Only somebody who takes viewings in has a device of their own. Choose the bench.')
  return person.name
}

export const enrolDeviceInput = z.strictObject({
  code: lineOf(40, 'Type the code a manager gave you.'),
  deviceName: lineOf(most.name, 'Name this device, like "bench tablet".'),
})

export const enrolDevice = deed('device:enrol', enrolDeviceInput, async (input, { tx, now }) => {
  const { ownerId } = await spendCode(tx, { typed: input.code, purpose: 'device', now, field: 'code' })
  const enrolled = await enrol(tx, { name: input.deviceName, by: null, now, ownerId })
  return {
    answer: enrolled,
    event: { bikeId: null, body: { device: input.deviceName, ...(ownerId && { owner: ownerId }) } },
  }
})

export const revokeDeviceInput = z.strictObject({
  device: idOf,
  version: versionOf,
})

/** Ends a device and every session on it. */
export const revokeDevice = deed('device:change', revokeDeviceInput, async (input, { tx, now }) => {
  const { count } = await tx.device.updateMany({
    where: { id: input.device, version: input.version, revokedAt: null },
    data: { revokedAt: now, version: { increment: 1 } },
  })
  requireFresh(count, {})
  await tx.session.updateMany({
    where: { deviceId: input.device, endedAt: null },
    data: { endedAt: now },
  })
  return {
    answer: {},
    event: { bikeId: null, body: { revoked: input.device } },
  }
})
