import { type BikeKind, fitsKind } from './bike-kind'
import { type CareSign, type CareState, type Catalogue, type Check, careStates } from './catalogue'
import type { CareChances } from './chance'
import { byTime, type Reading, standing } from './reading'
import { lastWorkOn, type WorkDone } from './work-done'

/** A tell-tale as it was seen on one bike. */
export type SignSeen = {
  sign: string
  check: string
  /** Title of the check. */
  title: string
  /** Key of the answer, and its words. */
  answer: string
  says: string
  /** Chance of that answer on a bike kept, average, neglected. */
  likelihood: Readonly<Record<CareState, number>>
}

/** How likely a bike was kept, average, neglected: before anybody looked, and by what its tell-tales say. */
export type CareTold = { before: CareChances; after: CareChances; signs: readonly SignSeen[] }

/**
 * Chances of the care states by Bayes' rule: after ∝ before × Π likelihood. Answers are taken as independent given
 * how the bike was cared for, so their order does not matter. They stay as they were where no state could have
 * given such answers.
 */
export function reweighed(before: CareChances, signs: readonly Pick<SignSeen, 'likelihood'>[]): CareChances {
  const weights = careStates.map((state) =>
    signs.reduce((weight, { likelihood }) => weight * likelihood[state], before[state]),
  )
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  if (signs.length === 0 || total === 0) return before
  return Object.fromEntries(careStates.map((state, place) => [state, weights[place]! / total])) as CareChances
}

/**
 * How one bike was cared for, by the tell-tales of the catalogue. Of each the first answer counts, taken before
 * anybody here worked on what it looks at: fresh fluid that the shop filled in says nothing of the years before.
 * A sign counts once, whether or not its answer raises a fault too. It counts in whatever condition it was taken.
 */
export function careOf(asked: {
  catalogue: Pick<Catalogue, 'checks' | 'faults' | 'jobs' | 'operations' | 'careSigns'>
  kind: BikeKind
  readings: readonly Reading[]
  /** Work that was finished on the bike. */
  finished: readonly WorkDone[]
  care: CareChances
}): CareTold {
  const { catalogue, care: before } = asked
  const signs = (catalogue.careSigns ?? []).flatMap((sign) => seenOf(sign, asked))
  return { before, after: reweighed(before, signs), signs }
}

function seenOf(sign: CareSign, asked: Parameters<typeof careOf>[0]): SignSeen[] {
  const { catalogue, readings, finished, kind } = asked
  for (const key of sign.checks) {
    const check = catalogue.checks.find((one) => one.key === key)
    if (check?.sort !== 'look' || !fitsKind(kind, check.appliesTo)) continue
    const first = standing(readings.filter((reading) => reading.check === key))
      .filter(({ kind: of }) => of === 'answer')
      .sort(byTime)[0]
    const seen = first && !isWorkedOn(catalogue, { check, before: first.takenAt, finished })
    const answer = seen && check.answers.find((one) => one.key === first.value)
    const likelihood = answer && sign.likelihood[answer.key]
    if (answer && likelihood) {
      const { title } = check
      return [{ sign: sign.key, check: key, title, answer: answer.key, says: answer.label, likelihood }]
    }
  }
  return []
}

function isWorkedOn(
  catalogue: Parameters<typeof lastWorkOn>[0],
  { check, before, finished }: { check: Check; before: string; finished: readonly WorkDone[] },
): boolean {
  const earlier = finished.filter(({ at }) => Date.parse(at) < Date.parse(before))
  return lastWorkOn(catalogue, earlier).has(check.key)
}
