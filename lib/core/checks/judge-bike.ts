import type { BikeKind } from './bike-kind'
import type { Catalogue } from './catalogue'
import type { Decision } from './decision.input'
import { deriveFaults, type FaultState } from './faults'
import { foundEarlier } from './found-earlier'
import { gateNeeds } from './gates'
import { ageOfBike, type HiddenTerms } from './hidden'
import { type Judgement, judgeAll, type TyreAges } from './judge'
import type { EnteredLimit } from './limits'
import { type Clearing, locks, type RidePapers, type RoundLock } from './locks'
import type { OpenState } from './open-states'
import { type Reading, readSince } from './reading'
import { lastWorkOn, type WorkDone } from './work-done'

/** Work as far as safety asks: what was finished, what is begun, what it left open. */
export type WorkOnBike = {
  finished: readonly WorkDone[]
  /** Begun and not finished; `at` is when it was last touched. */
  underWay: readonly (WorkDone & { title: string })[]
  /** Begun, and given up or stopped: it cures nothing, and yet the part was opened. */
  givenUp: readonly WorkDone[]
  openStates: readonly OpenState[]
}

export const noWork: WorkOnBike = { finished: [], underWay: [], givenUp: [], openStates: [] }

/** All that verdicts, faults and locks of one bike rest on. */
export type BikeToJudge = {
  catalogue: Catalogue
  kind: BikeKind
  /** It cannot be started where it stands. */
  nonRunner?: boolean
  /** Model year; null or left out where nobody knows. */
  year?: number | null
  /** What the shop sets about hidden chances; without it the catalogue's stand as they are. */
  hidden?: HiddenTerms
  readings: readonly Reading[]
  /** Limits entered for this bike, its model or the shop, and the law's. */
  limits: readonly EnteredLimit[]
  /** Without those withdrawn. */
  decisions: readonly Decision[]
  clearings: readonly Clearing[]
  work: WorkOnBike
  ridePapers: RidePapers
  ages: TyreAges
  /** Day, YYYY-MM-DD. */
  asOf: string
  /** Instant, ISO 8601 in UTC. */
  now: string
}

export type BikeJudged = {
  judgements: Judgement[]
  faults: FaultState[]
  locks: RoundLock[]
}

/** The way from readings and work to verdicts, faults and locks, for every page and calculation alike. */
export function judgeBike(bike: BikeToJudge): BikeJudged {
  const { catalogue, kind, readings, limits, decisions, clearings, work, ages, asOf, now } = bike
  const { nonRunner = false, hidden } = bike
  const { finished, underWay, givenUp } = work
  const judgements = judgeAll({
    checks: catalogue.checks,
    readings,
    limits,
    kind,
    worked: lastWorkOn(catalogue, finished),
    asOf,
    ages,
  })
  const lastRead = readSince(readings)
  const earlier = foundEarlier(catalogue, readings)
  const faults = deriveFaults({
    catalogue,
    kind,
    judgements,
    decisions,
    finished,
    lastRead,
    earlier,
    nonRunner,
    hidden,
    ageYears: ageOfBike(bike.year, asOf),
  })
  const worked = lastWorkOn(catalogue, [...finished, ...underWay, ...givenUp])
  const needs = gateNeeds({ catalogue, kind, judgements, readings, worked, now })
  const openWork = underWay.map(({ title }) => title)
  const { openStates } = work
  const { ridePapers } = bike
  return {
    judgements,
    faults,
    locks: locks({ faults, clearings, now, needs, openStates, openWork, ridePapers }),
  }
}
