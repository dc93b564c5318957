import { type LockKind, type Round, rounds } from './catalogue'
import type { FaultState } from './faults'
import type { GateNeed } from './gates'
import { type OpenState, openStateKinds } from './open-states'

/**
 * A manager's word that opens a lock until an instant (ISO 8601, UTC). `fault` is the key of a fault, or of a
 * check that lacks, as `neededCheck` writes it.
 */
export type Clearing = { fault: string; until: string }

export type LockHolder = {
  fault: string
  title: string
  lockKinds: readonly LockKind[]
  /** `job`: only the job and its recheck open it, or correcting a reading that was wrong; `reason`: a manager may. */
  clearedBy: 'job' | 'reason'
  /** Until when a clearing holds it open, or null. */
  clearedUntil: string | null
}

/**
 * A check whose evidence lacks, and until when a manager's reason stands in for it: one given for the check itself,
 * or for every lock of the faults that its answer raises, which say the same.
 */
export type HeldNeed = GateNeed & { clearedUntil: string | null }

/** What a ride needs beside a sound bike: who rides, with what cover and what plates. */
export type RidePapers = { noted: boolean }

/**
 * For so many hours after a ride came back its papers still count, so that what was felt can be written down with
 * the instruction at hand. A working day and no more: a ride of yesterday is none of today. Common practice, no
 * published source.
 */
export const ridePapersHours = 12

/** Whether the papers of a ride are noted: it is out now, or came back not long ago. Instants ISO 8601, UTC. */
export function ridePapersOf(rides: readonly { inAt: string | null }[], now: string): RidePapers {
  const oldest = Date.parse(now) - ridePapersHours * 3_600_000
  return { noted: rides.some(({ inAt }) => inAt === null || Date.parse(inAt) > oldest) }
}

export type RoundLock = {
  round: Round
  open: boolean
  /** Faults that shut it. */
  by: readonly LockHolder[]
  /** Checks without which it does not open. */
  needs: readonly HeldNeed[]
  /** What work has left open. */
  states: readonly OpenState[]
  /** Titles of work that is begun and not finished. */
  openWork: readonly string[]
  /** True where nobody has noted the rider's licence, cover and plates. */
  wantsRidePapers: boolean
}

/** How a clearing names a check that lacks, beside the keys of faults. */
export function neededCheck(check: string): string {
  return `check:${check}`
}

export type ToLock = {
  faults: readonly FaultState[]
  clearings: readonly Clearing[]
  /** Instant, ISO 8601 in UTC. */
  now: string
  needs?: readonly GateNeed[]
  openStates?: readonly OpenState[]
  /** Titles of jobs that are started or paused. */
  openWork?: readonly string[]
  /** Left out where no ride is asked about: then no papers are wanted. */
  ridePapers?: RidePapers
}

/**
 * Which rounds are shut, and by what. The cold and the stand round are never shut, and recording never is.
 * - Ignition and engine locks of faults shut the running round, every lock the road round. A stop fault that
 *   names no lock shuts the road. No decision opens a lock: a fault that a person dropped, or whose call was
 *   changed, still holds, because a reading that was wrong is corrected and not argued away.
 * - A check that the round is gated by and that is not done, not good, too old or older than the last work on
 *   its part shuts it.
 * - What work left open shuts it, and the road is shut while any work is begun and not finished, and until the
 *   papers of the ride are noted.
 * A manager's clearing opens until its time what a reason may open; what only the job clears stays shut, and an
 * open state is ended by putting it back and by nothing else.
 */
export function locks(asked: ToLock): RoundLock[] {
  const { needs = [], openStates = [], openWork = [], ridePapers } = asked
  const holders = asked.faults.flatMap((fault) => holderOf(fault, asked))
  return rounds.map((round) => {
    const isRoad = round === 'road'
    const by = holders.filter(({ lockKinds }) => shutsRound(lockKinds, round))
    const lock = {
      round,
      by,
      needs: needs
        .filter((need) => need.round === round)
        .map((need) => ({ ...need, clearedUntil: clearedUntilOf(need, { ...asked, by }) })),
      states: openStates.filter(({ kind }) => shutsRound(openStateKinds[kind].locks, round)),
      openWork: isRoad ? openWork : [],
      wantsRidePapers: isRoad && ridePapers !== undefined && !ridePapers.noted,
    }
    return { ...lock, open: isOpen(lock) }
  })
}

function isOpen(lock: Omit<RoundLock, 'open'>): boolean {
  const cleared = [...lock.by, ...lock.needs].every(({ clearedUntil }) => clearedUntil !== null)
  return cleared && lock.states.length === 0 && lock.openWork.length === 0 && !lock.wantsRidePapers
}

const shuts: Record<LockKind, readonly Round[]> = {
  ignition: ['running', 'road'],
  engine: ['running', 'road'],
  road: ['road'],
}

function shutsRound(kinds: readonly LockKind[], round: Round): boolean {
  return kinds.some((kind) => shuts[kind].includes(round))
}

function holderOf(fault: FaultState, { clearings, now }: ToLock): LockHolder[] {
  const state = fault.state === 'dropped' ? fault.was : fault.state
  const isThere = state === 'found' || state === 'added'
  const unsafe = fault.call === 'stop' || fault.derivedCall === 'stop'
  const lockKinds: readonly LockKind[] = fault.locks.length > 0 ? fault.locks : unsafe ? ['road'] : []
  if (!isThere || lockKinds.length === 0) return []
  const { fault: key, title, clearedBy } = fault
  const clearedUntil = clearedBy === 'reason' ? clearedUntilFor(key, clearings, now) : null
  return [{ fault: key, title, lockKinds, clearedBy, clearedUntil }]
}

function clearedUntilOf(
  { check, byReason, raises }: GateNeed,
  { by, clearings, now }: ToLock & { by: readonly LockHolder[] },
): string | null {
  if (!byReason) return null
  const ends = by.filter(({ fault }) => raises.includes(fault)).map(({ clearedUntil }) => clearedUntil)
  return clearedUntilFor(neededCheck(check), clearings, now) ?? earliest(ends)
}

/** Null where there is none, or where one of them is open no longer. */
function earliest(ends: readonly (string | null)[]): string | null {
  const known = ends.filter((end) => end !== null)
  if (known.length === 0 || known.length < ends.length) return null
  return known.reduce((first, end) => (Date.parse(end) < Date.parse(first) ? end : first))
}

function clearedUntilFor(key: string, clearings: readonly Clearing[], now: string): string | null {
  const holding = clearings
    .filter((clearing) => clearing.fault === key && Date.parse(clearing.until) > Date.parse(now))
    .sort((a, b) => Date.parse(b.until) - Date.parse(a.until))
  return holding[0]?.until ?? null
}
