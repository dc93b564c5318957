import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import type { Tx } from '../data/store'
import { spendCode, writeCode } from './codes'
import { deed, requireFresh } from './deed'
import { idOf, lineOf, most, versionOf } from './fields'
import { newToken, tokenHash } from './tokens'

/** Writes a device down and answers the token for its cookie, of which only the hash is kept. */
export async function enrol(
  tx: Tx,
  { name, by, now }: { name: string; by: string | null; now: Date },
): Promise<{ deviceId: string; deviceToken: string }> {
  const deviceId = uuidv7()
  const deviceToken = newToken()
  await tx.device.create({
    data: { id: deviceId, name, tokenHash: tokenHash(deviceToken), enrolledAt: now, enrolledBy: by },
  })
  return { deviceId, deviceToken }
}

/** A manager's one-time code for a further device. */
export const makeDeviceCode = deed('device:change', z.strictObject({}), async (_input, { tx, now, who }) => {
  const made = await writeCode(tx, {
    purpose: 'device',
    madeBy: who.personId,
    now,
  })
  return {
    answer: { code: made.code, expiresAt: made.expiresAt.toISOString() },
    event: { bikeId: null, body: { made: 'device code' } },
  }
})

export const enrolDeviceInput = z.strictObject({
  code: lineOf(40, 'Type the code a manager gave you.'),
  deviceName: lineOf(most.name, 'Name this device, like "bench tablet".'),
})

export const enrolDevice = deed('device:enrol', enrolDeviceInput, async (input, { tx, now }) => {
  await spendCode(tx, {
    typed: input.code,
    purpose: 'device',
    now,
    field: 'code',
  })
  const enrolled = await enrol(tx, { name: input.deviceName, by: null, now })
  return {
    answer: enrolled,
    event: { bikeId: null, body: { device: input.deviceName } },
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
