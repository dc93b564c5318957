import { hash, verify } from '@node-rs/argon2'
import { z } from 'zod'

/**
 * Argon2id with 19 MiB and two passes, the least that OWASP's password storage page advises. A PIN has only a
 * million values, so what protects it is the pepper (kept outside the database and its backups), the enrolled
 * device and the rising delay.
 */
const cost = { memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const

export function hashPin(pin: string, pepper: Buffer): Promise<string> {
  return hash(pin, { ...cost, secret: pepper })
}

export function isPin(given: { pin: string; pinHash: string; pepper: Buffer }): Promise<boolean> {
  return verify(given.pinHash, given.pin, { ...cost, secret: given.pepper })
}

const sixDigits = 'A PIN has six digits.'

/** A PIN as typed at sign-in. */
export const typedPin = z
  .string({ error: sixDigits })
  .trim()
  .regex(/^\d{6}$/, sixDigits)

/** A new PIN: not one digit six times and not a run, which are tried first. */
export const newPin = typedPin.refine(
  (pin) => !/^(\d)\1{5}$/.test(pin) && !'01234567890'.includes(pin) && !'09876543210'.includes(pin),
  'Choose digits that are not all the same and not a run.',
)
