import type { Store, Tx } from '../data/store'
import { secondsLater } from './instants'
import { refuseField } from './refusal'
import { codeAsMeant, newCode, tokenHash } from './tokens'

export type CodePurpose = 'first-day' | 'device' | 'back-in'

const lifeSeconds = {
  'first-day': 24 * 3600,
  device: 30 * 60,
  'back-in': 24 * 3600,
} as const satisfies Record<CodePurpose, number>

/** Writes a new one-time code down (its hash) and answers the code itself, which is never stored. */
export async function writeCode(
  tx: Tx,
  given: { purpose: CodePurpose; madeBy: string | null; now: Date; ownerId?: string | null },
): Promise<{ code: string; expiresAt: Date }> {
  const code = newCode()
  const expiresAt = secondsLater(given.now, lifeSeconds[given.purpose])
  await tx.enrolCode.create({
    data: {
      codeHash: tokenHash(codeAsMeant(code)),
      purpose: given.purpose,
      madeBy: given.madeBy,
      madeAt: given.now,
      expiresAt,
      ownerId: given.ownerId ?? null,
    },
  })
  return { code, expiresAt }
}

/**
 * Uses a code up, once; refuses one that is unknown, used or too old, without telling which. Answers whose own the
 * device is to be.
 */
export async function spendCode(
  tx: Tx,
  given: { typed: string; purpose: CodePurpose; now: Date; field: string },
): Promise<{ ownerId: string | null }> {
  const codeHash = tokenHash(codeAsMeant(given.typed))
  const { count } = await tx.enrolCode.updateMany({
    where: { codeHash, purpose: given.purpose, usedAt: null, expiresAt: { gt: given.now } },
    data: { usedAt: given.now },
  })
  if (count === 0) refuseField(given.field, 'This code does not open anything (any more). Get a new one.')
  const { ownerId } = await tx.enrolCode.findUniqueOrThrow({ where: { codeHash } })
  return { ownerId }
}

/** A fresh first-day code while nobody has opened the shop; null once it is open. Earlier ones stop working. */
export async function makeFirstDayCode(store: Store, now: Date): Promise<string | null> {
  return store.transaction(async (tx) => {
    if (await tx.shop.findFirst()) return null
    await tx.enrolCode.deleteMany({ where: { purpose: 'first-day' } })
    return (await writeCode(tx, { purpose: 'first-day', madeBy: null, now })).code
  })
}
