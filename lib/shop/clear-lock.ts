import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import { type Context, deed } from './deed'
import { idOf, reasonOf } from './fields'
import { secondsLater } from './instants'
import { readJudged } from './judge-bike'
import { refuse } from './refusal'

export const clearLockInput = z.strictObject({
  bike: idOf,
  fault: z.string().min(1).max(200),
  reason: reasonOf,
})

const oneDay = 24 * 3600

/**
 * A manager's reason opens a lock for one day; the fault stays. Locks that guard against fire, a runaway or
 * lost brakes are opened by nothing but the work and its recheck.
 */
export const clearLock = deed('lock:clear', clearLockInput, {
  prepare: ({ bike }, { store, now }: Context) => readJudged(store.db, { bikeId: bike, now }),
  work: async ({ bike: bikeId, fault, reason }, { tx, now, who }, { locks }) => {
    const lock = locks.flatMap(({ by }) => by).find((one) => one.fault === fault)
    if (!lock) return refuse('not-found', 'That lock is not there (any more).')
    if (lock.clearedBy === 'job') refuse('rule', 'Only the repair and its recheck open this lock.')
    const until = secondsLater(now, oneDay)
    await tx.lockClearing.create({
      data: { id: uuidv7(), bikeId, fault, reason, personId: who.personId, at: now, until },
    })
    return { answer: { until: until.toISOString() }, event: { bikeId, body: { fault, reason, until } } }
  },
})
