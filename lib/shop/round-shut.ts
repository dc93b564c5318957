import type { Catalogue, Round } from '../core/checks/catalogue'
import type { FaultState } from '../core/checks/faults'
import type { Lacking } from '../core/checks/gates'
import type { Judgement } from '../core/checks/judge'
import { type LockHolder, neededCheck, type RoundLock } from '../core/checks/locks'
import { type OpenStateKind, openStateKinds } from '../core/checks/open-states'
import { type Reading, readSince } from '../core/checks/reading'
import type { BikeToJudgeRow } from './facts'
import { gateSays } from './gate-words'

/*
 * What keeps a round shut, told as people at the bench read it: who left what open, which check lacks what, and
 * who opened a lock with which reason. There is no money in it.
 */

/** A manager's word that holds a lock open. */
export type Cleared = { until: string; who: string; reason: string; oneRide: boolean }

export type SheetLock = Pick<LockHolder, 'fault' | 'title' | 'clearedBy' | 'clearedUntil'> & {
  means: string
  /** Titles of the work that cures it, one of which is enough. */
  jobs: readonly string[]
  /** Titles of the checks that prove the cure. */
  rechecks: readonly string[]
  cleared: Cleared | null
}

/** A check that has to be done, or done again, first. */
export type SheetNeed = {
  check: string
  title: string
  /** The round in which that check is done. */
  doneIn: Round
  lacks: Lacking
  says: string
  byReason: boolean
  cleared: Cleared | null
}

/** What work has left open. */
export type SheetOpenState = { id: string; title: string; tag: string; note: string; who: string; at: string }

export type RoundShut = {
  locks: readonly SheetLock[]
  needs: readonly SheetNeed[]
  states: readonly SheetOpenState[]
  /** Titles of work that is begun and not finished. */
  openWork: readonly string[]
  wantsRidePapers: boolean
}

export type ToTellShut = {
  bike: Pick<BikeToJudgeRow, 'clearings' | 'openStates'>
  readings: readonly Reading[]
  judgements: readonly Judgement[]
  faults: readonly FaultState[]
  catalogue: Catalogue
  names: ReadonlyMap<string, string>
  now: Date
}

/** One lock of the calculation with the words, names and days that go with it. */
export function roundShut(lock: RoundLock, told: ToTellShut): RoundShut {
  const { openWork, wantsRidePapers } = lock
  const since = readSince(told.readings)
  const { bike, judgements, catalogue, names, now } = told
  return {
    locks: lock.by.map((holder) => sheetLock(holder, told)),
    needs: lock.needs.flatMap(({ check: key, title, lacks, byReason, clearedUntil }) => {
      const check = catalogue.checks.find((one) => one.key === key)
      if (!check) return []
      const judgement = judgements.find((one) => one.check === key)
      const takenAt = since.get(key) ?? null
      const says = gateSays({ lacks, check, judgement, takenAt, now: now.toISOString() })
      const cleared = clearedUntil === null ? null : clearedOf(neededCheck(key), told)
      // Open because the lock of its fault is: told with that lock, and not twice.
      if (clearedUntil !== null && cleared === null) return []
      return [{ check: key, title, doneIn: check.round, lacks, says, byReason, cleared }]
    }),
    states: bike.openStates
      .filter(({ id }) => lock.states.some((state) => state.id === id))
      .map(({ id, kind, note, personId, at }) => {
        const { title, tag } = openStateKinds[kind as OpenStateKind]
        return { id, title, tag, note, who: names.get(personId) ?? 'somebody', at: at.toISOString() }
      }),
    openWork,
    wantsRidePapers,
  }
}

function sheetLock(holder: LockHolder, told: ToTellShut): SheetLock {
  const { fault: key, title, clearedBy, clearedUntil } = holder
  const { faults, catalogue } = told
  const fault = faults.find((one) => one.fault === key)
  const cures = [...(fault?.jobs ?? []), ...(fault?.causes ?? []).map(({ job }) => job)]
  return {
    fault: key,
    title,
    clearedBy,
    clearedUntil,
    means: fault?.means ?? '',
    jobs: titlesOf(cures, catalogue.jobs),
    rechecks: titlesOf(fault?.rechecks ?? [], catalogue.checks),
    cleared: clearedUntil === null ? null : clearedOf(key, told),
  }
}

/** The clearing that holds longest, as the calculation takes it. */
function clearedOf(key: string, { bike, names, now }: ToTellShut): Cleared | null {
  const [row] = bike.clearings
    .filter(({ fault, until }) => fault === key && until > now)
    .sort((a, b) => b.until.getTime() - a.until.getTime())
  if (!row) return null
  const { until, reason, oneRide, personId } = row
  return { until: until.toISOString(), who: names.get(personId) ?? 'somebody', reason, oneRide }
}

function titlesOf(keys: readonly string[], of: readonly { key: string; title: string }[]): string[] {
  return keys.flatMap((key) => of.find((one) => one.key === key)?.title ?? [])
}

/** The checks that are still to be done before the round opens. */
export function toDoFirst<N extends Pick<SheetNeed, 'cleared'>>(needs: readonly N[]): N[] {
  return needs.filter(({ cleared }) => cleared === null)
}
