import { type LockKind, type Round, rounds } from './catalogue'
import type { FaultState } from './faults'

/** A manager's word that opens a lock until an instant (ISO 8601, UTC). */
export type Clearing = { fault: string; until: string }

export type LockHolder = {
  fault: string
  title: string
  lockKinds: readonly LockKind[]
  /** `job`: only a corrected or later reading opens it; `reason`: a manager may. */
  clearedBy: 'job' | 'reason'
  /** Until when a clearing holds it open, or null. */
  clearedUntil: string | null
}

export type RoundLock = {
  round: Round
  open: boolean
  by: readonly LockHolder[]
}

/**
 * Which rounds are shut, and by what. Ignition and engine locks shut the running round, every lock the road
 * round; the cold and the stand round are never shut, and recording never is. A stop fault that names no lock
 * shuts the road. No decision opens a lock: a fault that a person dropped, or whose call was changed, still
 * holds, because a reading that was wrong is corrected and not argued away. A manager's clearing opens until
 * its time what a reason may open; what only the job clears stays shut.
 */
export function locks(asked: {
  faults: readonly FaultState[]
  clearings: readonly Clearing[]
  /** Instant, ISO 8601 in UTC. */
  now: string
}): RoundLock[] {
  const holders = asked.faults.flatMap((fault) => holderOf(fault, asked))
  return rounds.map((round) => {
    const by = holders.filter(({ lockKinds }) => lockKinds.some((kind) => shuts[kind].includes(round)))
    return { round, open: by.every(({ clearedUntil }) => clearedUntil !== null), by }
  })
}

const shuts: Record<LockKind, readonly Round[]> = {
  ignition: ['running', 'road'],
  engine: ['running', 'road'],
  road: ['road'],
}

function holderOf(
  fault: FaultState,
  { clearings, now }: { clearings: readonly Clearing[]; now: string },
): LockHolder[] {
  const state = fault.state === 'dropped' ? fault.was : fault.state
  const isThere = state === 'found' || state === 'added'
  const unsafe = fault.call === 'stop' || fault.derivedCall === 'stop'
  const lockKinds: readonly LockKind[] = fault.locks.length > 0 ? fault.locks : unsafe ? ['road'] : []
  if (!isThere || lockKinds.length === 0) return []
  const { fault: key, title, clearedBy } = fault
  const clearedUntil = clearedBy === 'reason' ? clearedUntilOf(key, clearings, now) : null
  return [{ fault: key, title, lockKinds, clearedBy, clearedUntil }]
}

function clearedUntilOf(fault: string, clearings: readonly Clearing[], now: string): string | null {
  const holding = clearings
    .filter((clearing) => clearing.fault === fault && Date.parse(clearing.until) > Date.parse(now))
    .sort((a, b) => Date.parse(b.until) - Date.parse(a.until))
  return holding[0]?.until ?? null
}
