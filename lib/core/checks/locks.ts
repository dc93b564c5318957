import type { LockKind, Round } from './catalogue'

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
