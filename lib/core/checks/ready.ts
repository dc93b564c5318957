import { type BikeKind, fitsKind } from './bike-kind'
import type { Catalogue } from './catalogue'
import type { FaultState } from './faults'
import { gateNeeds } from './gates'
import type { Judgement } from './judge'
import type { WorkOnBike } from './judge-bike'
import { type Reading, readSince } from './reading'
import { lastWorkOn } from './work-done'

export const readyPoints = ['second-person', 'certificate'] as const
export type ReadyPoint = (typeof readyPoints)[number]

/** What only a person can say; `day` is that of the shop's zone, YYYY-MM-DD. */
export type ReadyWord = { point: ReadyPoint; person: string; at: string; day: string }

/** A ride that came back. */
export type RideDone = { purpose: string; inAt: string }

/** What keeps a bike from being ready, and where it is put right. */
export type ReadyLack = {
  about:
    | 'identity'
    | 'fault'
    | 'check'
    | 'work'
    | 'open-state'
    | 'torque'
    | 'ride'
    | 'second-person'
    | 'certificate'
  /** Key of the fault, check or open state; empty for the rest. */
  key: string
  says: string
}

export type ToBeReady = {
  catalogue: Pick<Catalogue, 'checks' | 'faults' | 'jobs' | 'operations'>
  kind: BikeKind
  judgements: readonly Judgement[]
  faults: readonly FaultState[]
  readings: readonly Reading[]
  work: WorkOnBike
  /** When what was open was put back, with work or without: instants, ISO 8601 in UTC. */
  putBackAt: readonly string[]
  /** Everybody who worked on the bike. */
  workers: readonly string[]
  /** The day, in the shop's zone, on which the last work ended or something was put back; null where neither was. */
  lastWorkDay: string | null
  rides: readonly RideDone[]
  words: readonly ReadyWord[]
  certificateWanted: boolean
  /** On record as stolen, or its number was altered: the money gate says never. */
  neverSold: boolean
  /** One person alone works here: then the same person looks again on a later day. */
  onePersonShop: boolean
  /** Instant, ISO 8601 in UTC. */
  now: string
}

/**
 * Everything that a bike lacks to be ready: nothing known of it that ends every sale, a stop or must that is open,
 * work begun or left open, a check that guards a ride and is not done, not good or older than the work, the torque of
 * brake, wheel and steering fasteners, a final ride after the last work, a second person's check after it, and the certificate where the
 * shop wants one. Empty means ready. What was proven after the last work stays proven, however often the bike
 * goes back to the bench. Common practice, no published source.
 */
export function readyLacks(bike: ToBeReady): ReadyLack[] {
  return [
    ...identityLacks(bike),
    ...faultLacks(bike),
    ...workLacks(bike),
    ...evidenceLacks(bike),
    ...torqueLacks(bike),
    ...rideLacks(bike),
    ...wordLacks(bike),
  ]
}

function identityLacks({ neverSold }: ToBeReady): ReadyLack[] {
  const says =
    'It may not be sold: a register or its frame number says so. A manager settles it with the law.'
  return neverSold ? [{ about: 'identity', key: '', says }] : []
}

/**
 * A stop holds it whatever a person decided about it, as it shuts its rounds: a wrong reading is corrected, not
 * argued away.
 */
function faultLacks({ faults }: ToBeReady): ReadyLack[] {
  return faults.filter(holdsIt).map(({ fault, title, awaitsRecheck, ...of }) => ({
    about: 'fault',
    key: fault,
    says: awaitsRecheck
      ? `${title}: the work is done and its recheck is not.`
      : `${title} is not put right${of.state === 'dropped' ? ', although it was dropped' : ''}.`,
  }))
}

function holdsIt(fault: FaultState): boolean {
  const state = fault.state === 'dropped' ? fault.was : fault.state
  if (state !== 'found' && state !== 'added') return false
  if (fault.derivedCall === 'stop') return true
  return fault.state !== 'dropped' && (fault.call === 'stop' || fault.call === 'must')
}

function workLacks({ work }: ToBeReady): ReadyLack[] {
  return [
    ...work.underWay.map(
      ({ job, title }): ReadyLack => ({
        about: 'work',
        key: job,
        says: `${title} is begun and not finished.`,
      }),
    ),
    ...work.openStates.map(
      ({ id, kind }): ReadyLack => ({
        about: 'open-state',
        key: id,
        says: `Not put back: ${kind.replace('-', ' ')}.`,
      }),
    ),
  ]
}

/** How old an answer is does not matter here, only that it is good and from after the work. */
function evidenceLacks(bike: ToBeReady): ReadyLack[] {
  const { catalogue, kind, judgements, readings, work, now } = bike
  const worked = lastWorkOn(catalogue, [...work.finished, ...work.underWay, ...work.givenUp])
  const needs = gateNeeds({ catalogue, kind, judgements, readings, worked, now })
  const lacking = needs.filter(({ round, lacks }) => round === 'road' && lacks !== 'too-old')
  return lacking.map(({ check, title, lacks }) => ({
    about: 'check',
    key: check,
    says: `${title}: ${lackWords[lacks]}.`,
  }))
}

const lackWords = {
  'not-checked': 'not checked',
  'not-good': 'not good',
  'not-judged': 'nothing to judge it by',
  'too-old': 'too long ago',
  'worked-on': 'read before the work on it',
} as const

function torqueLacks({ catalogue, kind, readings, judgements, work }: ToBeReady): ReadyLack[] {
  const read = readSince(readings)
  const worked = lastWorkOn(catalogue, [...work.finished, ...work.givenUp])
  return catalogue.checks.flatMap((check): ReadyLack[] => {
    if (check.sort !== 'measured' || !check.fastener || !fitsKind(kind, check.appliesTo)) return []
    const { key, title } = check
    const at = read.get(key)
    const judgement = judgements.find((one) => one.check === key)
    if (at === undefined) return [{ about: 'torque', key, says: `${title}: note the torque.` }]
    if (judgement?.verdict === 'outside')
      return [{ about: 'torque', key, says: `${title}: the torque is outside its limit.` }]
    const since = worked.get(key)
    return since !== undefined && Date.parse(at) <= Date.parse(since)
      ? [{ about: 'torque', key, says: `${title}: note the torque again, it was worked on since.` }]
      : []
  })
}

function rideLacks(bike: ToBeReady): ReadyLack[] {
  const ended = lastEnd(bike)
  const final = bike.rides.some(({ purpose, inAt }) => purpose === 'final' && Date.parse(inAt) > ended)
  return final ? [] : [{ about: 'ride', key: '', says: 'A final ride after the last work.' }]
}

function wordLacks(bike: ToBeReady): ReadyLack[] {
  const { words, certificateWanted } = bike
  const lacks: ReadyLack[] = []
  if (!words.some((word) => word.point === 'second-person' && isSecondLook(word, bike)))
    lacks.push({
      about: 'second-person',
      key: '',
      says: bike.onePersonShop
        ? 'A second look on a day after the last work.'
        : 'A check by a second person, who did none of the work.',
    })
  if (certificateWanted && !words.some(({ point }) => point === 'certificate'))
    lacks.push({ about: 'certificate', key: '', says: 'The certificate that this shop wants.' })
  return lacks
}

function isSecondLook({ person, at, day }: ReadyWord, bike: ToBeReady): boolean {
  if (Date.parse(at) <= lastEnd(bike)) return false
  if (!bike.workers.includes(person)) return true
  return bike.onePersonShop && bike.lastWorkDay !== null && day > bike.lastWorkDay
}

function lastEnd({ work: { finished, givenUp }, putBackAt }: ToBeReady): number {
  const ends = [...[...finished, ...givenUp].map(({ at }) => at), ...putBackAt]
  return Math.max(Number.NEGATIVE_INFINITY, ...ends.map((at) => Date.parse(at)))
}
