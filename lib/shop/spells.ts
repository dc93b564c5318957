import type { Prisma } from '../data/generated/client'

/* Work at the bench and the stretches that people were at it. */

/** `stopped` is what a manager's answer makes of work that must not go on: like one given up, it cures nothing. */
export const runStates = ['started', 'paused', 'done', 'given up', 'stopped'] as const
export type RunState = (typeof runStates)[number]
/** Begun and not finished. */
export const underWayStates: readonly string[] = ['started', 'paused']

type Spell = Pick<Prisma.JobSpellGetPayload<object>, 'startedAt' | 'endedAt' | 'minutes'>

/** Whole minutes of a spell; one that still runs counts until now. */
export function minutesOf({ startedAt, endedAt, minutes }: Spell, now: Date): number {
  return minutes ?? minutesBetween(startedAt, endedAt ?? now)
}

export function minutesBetween(from: Date, to: Date): number {
  return Math.max(0, Math.round((to.getTime() - from.getTime()) / 60_000))
}
