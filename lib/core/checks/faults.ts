import type { Call, CareState, LockKind, Source } from './catalogue'
import type { DecisionOf } from './decision.input'
import type { VerdictWord } from './judge'

/** One chance for every bike, or one for each way a bike can have been cared for. */
export type CareChance = number | Record<CareState, number>

/** Why something is said: opens to the check, its readings and the limit's source, or to a person's word. */
export type Evidence =
  | {
      from: 'check'
      check: string
      title: string
      verdict: VerdictWord
      says: string
      readings: readonly string[]
      limitSources: readonly Source[]
    }
  | { from: 'decision'; decision: string; says: string }

export type Cause = { job: string; share: number }

type FaultStateBase = {
  fault: string
  title: string
  means: string
  /** What it demands now: the catalogue's call, raised by the sale line, or what a person set. */
  call: Call
  /** The call before any decision. */
  derivedCall: Call
  changedCall: DecisionOf<'change-call'> | null
  locks: readonly LockKind[]
  clearedBy: 'job' | 'reason'
  /** Alternatives, the one in force first; empty where no work cures it or where causes are given. */
  jobs: readonly string[]
  chosenJob: DecisionOf<'choose-job'> | null
  /** Exactly one of these is true; shares sum to 1. Empty where the fault has no causes. */
  causes: readonly Cause[]
  rechecks: readonly string[]
  saleOffMinor: number
  because: readonly Evidence[]
  /** Keys of the checks that can raise it and have no verdict yet. */
  openChecks: readonly string[]
  source: Source | null
}

/** Where one fault stands on one bike. `chance` is the chance that it is there. */
export type FaultState = FaultStateBase &
  (
    | { state: 'found'; chance: 1 }
    | { state: 'added'; chance: 1; decision: DecisionOf<'add-fault'> }
    | { state: 'open'; chance: CareChance }
    | { state: 'clear'; chance: 0 }
    | {
        state: 'dropped'
        chance: 0
        decision: DecisionOf<'drop-fault'>
        was: 'found' | 'added' | 'open' | 'clear'
      }
  )
