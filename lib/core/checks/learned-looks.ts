import { type BikeKind, fitsKind } from './bike-kind'
import type { Catalogue, Check } from './catalogue'
import { askOf } from './evidence'
import { canBeLearned } from './hidden'
import { judge, type TyreAges } from './judge'
import type { Counted } from './learned'
import type { EnteredLimit } from './limits'
import { byTime, type Reading, standing } from './reading'
import { lastWorkOn, type WorkDone } from './work-done'

/** What a bike must tell for its looks to be counted. */
export type BikeLooked = {
  kind: BikeKind
  nonRunner: boolean
  readings: readonly Reading[]
  limits: readonly EnteredLimit[]
  /** Work that was begun or finished on it. */
  work: readonly WorkDone[]
}

/** A round is gone through in one go: what was answered within so many hours of a look belongs to it. */
const sweepHours = 12
/** So much of a round must be answered for its looks to be routine. */
const sweepShare = 0.5

/**
 * By fault, whether a look done as routine found it on this bike. Of each check the first answers count, taken
 * before anybody here worked on what it looks at. A look is routine where at least half of the checks of its
 * round that apply, or of the short round where it belongs to that, were answered within twelve hours of it: one
 * that was taken alone was taken because something pointed there, and says nothing of bikes in general. What was
 * left out, not judged or too close to call is no look. A bike that cannot be started says nothing of faults
 * whose chance is another on such a bike.
 */
export function routineLooks(
  bike: BikeLooked,
  { catalogue, ages }: { catalogue: Catalogue; ages: TyreAges },
): Map<string, { found: boolean }> {
  const firsts = firstAnswers(bike, catalogue)
  const routine = catalogue.checks.filter((check) => isRoutine(check, { firsts, catalogue, kind: bike.kind }))
  const learnable = new Set(
    catalogue.faults
      .filter((fault) => canBeLearned(fault) && !(bike.nonRunner && fault.nonRunner !== undefined))
      .map(({ key }) => key),
  )
  const looks = new Map<string, { found: boolean }>()
  for (const check of routine) {
    const readings = firsts.get(check.key) ?? []
    const asOf = readings[0]!.takenAt.slice(0, 10)
    const judgement = judge({ check, readings, limits: bike.limits, kind: bike.kind, asOf, ages })
    for (const raise of check.raises) {
      if (!('fault' in raise) || !learnable.has(raise.fault)) continue
      const ask = askOf(check, judgement, raise)
      if (ask.is !== 'fires' && ask.is !== 'clean') continue
      const found = ask.is === 'fires' || looks.get(raise.fault)?.found === true
      looks.set(raise.fault, { found })
    }
  }
  return looks
}

/** Of each check that applies what stands of its first twelve hours, where nobody had worked on it before. */
function firstAnswers(bike: BikeLooked, catalogue: Catalogue): Map<string, Reading[]> {
  const byCheck = new Map<string, Reading[]>()
  for (const reading of standing(bike.readings).sort(byTime)) {
    if (reading.kind === 'skipped') continue
    byCheck.set(reading.check, [...(byCheck.get(reading.check) ?? []), reading])
  }
  const firsts = new Map<string, Reading[]>()
  for (const check of catalogue.checks) {
    const all = byCheck.get(check.key)
    if (!all || !fitsKind(bike.kind, check.appliesTo)) continue
    const first = all[0]!
    const earlier = bike.work.filter(({ at }) => Date.parse(at) < Date.parse(first.takenAt))
    if (lastWorkOn(catalogue, earlier).has(check.key)) continue
    const worked = lastWorkOn(catalogue, bike.work).get(check.key)
    const isBefore = ({ takenAt }: Reading) =>
      worked === undefined || Date.parse(takenAt) < Date.parse(worked)
    firsts.set(
      check.key,
      all.filter((reading) => reading === first || (isNear(reading, first) && isBefore(reading))),
    )
  }
  return firsts
}

function isRoutine(
  check: Check,
  {
    firsts,
    catalogue,
    kind,
  }: { firsts: ReadonlyMap<string, readonly Reading[]>; catalogue: Catalogue; kind: BikeKind },
): boolean {
  const first = firsts.get(check.key)?.[0]
  if (!first) return false
  const applying = catalogue.checks.filter(({ appliesTo }) => fitsKind(kind, appliesTo))
  const rounds = [applying.filter(({ round }) => round === check.round)]
  if (check.short) rounds.push(applying.filter(({ short }) => short !== undefined))
  return rounds.some((round) => {
    const done = round.filter(({ key }) => {
      const [other] = firsts.get(key) ?? []
      return other !== undefined && isNear(other, first)
    })
    return done.length >= sweepShare * round.length
  })
}

function isNear(a: Reading, b: Reading): boolean {
  return Math.abs(Date.parse(a.takenAt) - Date.parse(b.takenAt)) <= sweepHours * 3_600_000
}

/** Over several bikes: by fault, on how many a routine look was for it, and on how many it found it. */
export function countLooks(bikes: readonly ReadonlyMap<string, { found: boolean }>[]): Map<string, Counted> {
  const counts = new Map<string, Counted>()
  for (const looks of bikes) {
    for (const [fault, { found }] of looks) {
      const { found: before, looked } = counts.get(fault) ?? { found: 0, looked: 0 }
      counts.set(fault, { found: before + (found ? 1 : 0), looked: looked + 1 })
    }
  }
  return counts
}
