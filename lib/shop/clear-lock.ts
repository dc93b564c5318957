import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import { neededCheck, type RoundLock } from '../core/checks/locks'
import { type Context, deed } from './deed'
import { idOf, reasonOf } from './fields'
import { secondsLater } from './instants'
import { readJudged } from './read-judged'
import { refuse } from './refusal'

export const clearedFor = ['ride', 'day'] as const

export const clearLockInput = z.strictObject({
  bike: idOf,
  /** Key of a fault, or of a check that lacks as `neededCheck` writes it. */
  fault: z.string().min(1).max(200),
  /** One ride is over at the next return, and never lasts longer than a day. */
  for: z.enum(clearedFor, { error: 'Choose one ride or one day.' }).default('day'),
  reason: reasonOf,
})

const oneDay = 24 * 3600

/**
 * A manager's reason opens a lock for one ride or one day; the fault stays, and so does the check that was not
 * done. Locks that guard against fire, a runaway or lost brakes are opened by nothing but the work and its
 * recheck, or by the check.
 */
export const clearLock = deed('lock:clear', clearLockInput, {
  prepare: ({ bike }, { store, now }: Context) => readJudged(store.db, { bikeId: bike, now }),
  work: async (input, { tx, now, who }, { locks }) => {
    const { bike: bikeId, fault, for: until, reason } = input
    requireClearable(locks, fault)
    const row = { bikeId, fault, reason, oneRide: until === 'ride', until: secondsLater(now, oneDay) }
    await tx.lockClearing.create({ data: { ...row, id: uuidv7(), personId: who.personId, at: now } })
    return {
      answer: { until: row.until.toISOString() },
      event: { bikeId, body: { fault, for: until, reason, until: row.until } },
    }
  },
})

function requireClearable(locks: readonly RoundLock[], named: string): void {
  const holder = locks.flatMap(({ by }) => by).find(({ fault }) => fault === named)
  const need = locks.flatMap(({ needs }) => needs).find(({ check }) => neededCheck(check) === named)
  if (!holder && !need) refuse('not-found', 'That lock is not there (any more).')
  if (holder?.clearedBy === 'job') refuse('rule', 'Only the repair and its recheck open this lock.')
  if (need && !need.byReason)
    refuse('rule', `No reason stands in for "${need.title}": only doing it opens this lock.`)
}
