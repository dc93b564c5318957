import { type BikeKind, fitsKind } from '../checks/bike-kind'
import { type Call, type Catalogue, calls, type Job } from '../checks/catalogue'
import { type CareChance, impossible, mapChance } from '../checks/chance'
import type { Decision, DecisionOf } from '../checks/decision.input'
import { decisionOn, decisionsOf } from '../checks/decisions'
import type { FaultState } from '../checks/faults'

/** A fault that is or may be there. */
export type Live = Extract<FaultState, { state: 'found' | 'added' | 'open' }>

/**
 * What asks for a job: a fault, with the share of the job where the fault has several causes. A `diagnosis`
 * finds the cause and cures nothing.
 */
export type Claim = { fault: Live; does: 'cures' | 'finds-cause'; share: number | null; chance: CareChance }

export type KnownJob = Job & { own: boolean }

/** Those that are there before those that may be, severest first, else in the order given. */
export function liveFaults(faults: readonly FaultState[]): Live[] {
  return faults
    .filter((fault) => isLive(fault))
    .sort(
      (a, b) =>
        Number(a.state === 'open') - Number(b.state === 'open') ||
        calls.indexOf(a.call) - calls.indexOf(b.call),
    )
}

function isLive(fault: FaultState): fault is Live {
  if (fault.state === 'open') return !impossible(fault.chance)
  return fault.state === 'found' || fault.state === 'added'
}

/** Jobs of the catalogue that fit the bike or that a person named all the same, then the ones described by hand. */
export function knownJobs(asked: {
  catalogue: Pick<Catalogue, 'jobs'>
  kind: BikeKind
  decisions: readonly Decision[]
}): Map<string, KnownJob> {
  const added = decisionsOf(asked.decisions, 'add-job')
  const named = new Set([
    ...added.map(({ key }) => key),
    ...decisionsOf(asked.decisions, 'choose-job').map(({ job }) => job),
  ])
  const known = new Map<string, KnownJob>()
  for (const job of asked.catalogue.jobs) {
    if (fitsKind(asked.kind, job.appliesTo) || named.has(job.key)) known.set(job.key, { ...job, own: false })
  }
  for (const decision of added) {
    if (!known.has(decision.key)) known.set(decision.key, describedByHand(decision))
  }
  return known
}

function describedByHand({ key, own, reason }: DecisionOf<'add-job'>): KnownJob {
  return {
    key,
    title: own?.title ?? key,
    operations: [],
    hours: own?.hours ?? 0,
    parts: own?.parts ?? [],
    outsideWork: own?.outsideWork ?? 0,
    source: { kind: 'starting value', says: reason },
    own: true,
  }
}

const demanded: readonly Call[] = ['stop', 'must']

/**
 * Which fault asks for which job. `live` must come in the order of `liveFaults`; those that leave no choice of
 * job ask first, so that one with a choice can be cured by what is done anyway.
 */
export function claimsOn(asked: {
  known: ReadonlyMap<string, KnownJob>
  live: readonly Live[]
  decisions: readonly Decision[]
}): Map<string, Claim[]> {
  const { known, live, decisions } = asked
  const claims = new Map<string, Claim[]>()
  const claim = (job: string, of: Claim) => claims.set(job, [...(claims.get(job) ?? []), of])
  // Certain to be done: what a person added, then what the faults that are there have brought in so far.
  const certain = new Set(
    decisionsOf(decisions, 'add-job')
      .map(({ key }) => key)
      .filter((key) => !isDropped(decisions, key)),
  )
  const candidatesOf = (fault: Live) => fault.jobs.filter((job) => known.has(job))
  const hasChoice = (fault: Live) => !fault.chosenJob && candidatesOf(fault).length > 1
  const inTurn = [...live].sort(
    (a, b) =>
      Number(a.state === 'open') - Number(b.state === 'open') || Number(hasChoice(a)) - Number(hasChoice(b)),
  )
  for (const fault of inTurn) {
    // Its work is done and waits for its recheck: nothing more is to be spent on it.
    if (fault.awaitsRecheck) continue
    if (fault.causes.length > 0) {
      if (!demanded.includes(fault.call)) continue
      if (fault.diagnosis && known.has(fault.diagnosis))
        claim(fault.diagnosis, { fault, does: 'finds-cause', share: null, chance: fault.chance })
      for (const { job, share } of fault.causes) {
        if (known.has(job)) {
          claim(job, { fault, does: 'cures', share, chance: mapChance([fault.chance], (c = 0) => c * share) })
        }
      }
      continue
    }
    const candidates = candidatesOf(fault)
    const done = fault.chosenJob ? undefined : candidates.find((job) => certain.has(job))
    const job = done ?? candidates[0]
    if (job === undefined || !(demanded.includes(fault.call) || certain.has(job))) continue
    claim(job, { fault, does: 'cures', share: null, chance: fault.chance })
    if (fault.state !== 'open' && !isDropped(decisions, job)) certain.add(job)
  }
  return claims
}

/** Dropped and not added again since: ids sort by time. */
export function isDropped(decisions: readonly Decision[], job: string): boolean {
  const dropped = decisionOn(decisions, 'drop-job', job)
  const added = decisionOn(decisions, 'add-job', job)
  return dropped !== null && (added === null || dropped.id > added.id)
}
