import { type BikeKind, fitsKind } from './bike-kind'
import type { Catalogue, Check, GatedRound } from './catalogue'
import { faultNamed } from './catalogue-problems'
import { askOf } from './evidence'
import type { Judgement } from './judge'
import { type Reading, readSince } from './reading'

/** Why a check does not open its round. */
export type Lacking =
  /** Nobody has looked. */
  | 'not-checked'
  /** Looked at, and not good. */
  | 'not-good'
  /** Read, and there is nothing or too little to judge it by. */
  | 'not-judged'
  /** Good once, and longer ago than it counts for. */
  | 'too-old'
  /** Good once, and worked on since. */
  | 'worked-on'

export type GateNeed = {
  check: string
  title: string
  round: GatedRound
  lacks: Lacking
  /** False where only a good answer helps, since it guards against what no reason makes safe. */
  byReason: boolean
  /** Faults that its answer raises, where that is what lacks. */
  raises: readonly string[]
}

/**
 * What keeps the running and the road round shut for want of evidence. Every check that the round is gated by,
 * and that applies to the bike, must be within its limits or well answered, recently enough, and after the last
 * work on what it looks at. Not checked locks. The order is that of the catalogue.
 *
 * A reason may stand in for what lacks unless a fault that only its job clears is there or may be: an answer that
 * raises another fault tells that it is not (rough bearings are not loose ones), while a check that was not done, or
 * whose answer counts no longer, tells nothing.
 */
export function gateNeeds(asked: {
  catalogue: Pick<Catalogue, 'checks' | 'faults'>
  kind: BikeKind
  judgements: readonly Judgement[]
  readings: readonly Reading[]
  /** For each check the instant of the last work on what it looks at. */
  worked: ReadonlyMap<string, string>
  /** Instant, ISO 8601 in UTC. */
  now: string
}): GateNeed[] {
  const { catalogue, kind, worked, now } = asked
  const judged = new Map(asked.judgements.map((judgement) => [judgement.check, judgement]))
  const jobOnly = new Set(
    catalogue.faults.filter(({ clearedBy }) => clearedBy === 'job').map(({ key }) => key),
  )
  const since = readSince(asked.readings)
  return catalogue.checks.flatMap((check) => {
    if (!check.gate || !fitsKind(kind, check.appliesTo)) return []
    const judgement = judged.get(check.key)
    const lacks = gateLack(check, {
      judgement,
      takenAt: since.get(check.key) ?? null,
      workedAt: worked.get(check.key) ?? null,
      now,
    })
    if (lacks === null) return []
    const judgementThatLacks = lacks === 'not-good' ? judgement : undefined
    const byReason = !check.gate.noReason && !mayNeedJob(check, judgementThatLacks, jobOnly)
    const raises = judgementThatLacks ? raisedBy(check, judgementThatLacks) : []
    const { key, title } = check
    return check.gate.opens.map((round) => ({ check: key, title, round, lacks, byReason, raises }))
  })
}

/** Whether a fault that only its job clears is found by the check, or not ruled out by it. */
function mayNeedJob(check: Check, judgement: Judgement | undefined, jobOnly: ReadonlySet<string>): boolean {
  return check.raises.some(
    (raise) =>
      !('rulesOut' in raise) &&
      jobOnly.has(faultNamed(raise)) &&
      (!judgement || askOf(check, judgement, raise).is !== 'clean'),
  )
}

function raisedBy(check: Check, judgement: Judgement): string[] {
  return check.raises
    .filter((raise) => !('rulesOut' in raise) && askOf(check, judgement, raise).is === 'fires')
    .map(faultNamed)
}

/**
 * Why one check does not open the rounds that it gates, or null where it does. `takenAt` is the instant from
 * which on all that it rests on was read, `workedAt` that of the last work on what it looks at.
 */
export function gateLack(
  { gate }: Pick<Check, 'gate'>,
  given: {
    judgement: Judgement | undefined
    takenAt: string | null
    workedAt: string | null
    now: string
  },
): Lacking | null {
  const { judgement, takenAt, workedAt, now } = given
  if (!judgement || judgement.verdict === 'not-checked' || takenAt === null) return 'not-checked'
  if (judgement.verdict === 'not-judged') return 'not-judged'
  if (judgement.verdict !== 'within') return 'not-good'
  const taken = Date.parse(takenAt)
  if (workedAt !== null && taken <= Date.parse(workedAt)) return 'worked-on'
  const hours = (Date.parse(now) - taken) / 3_600_000
  return gate && hours > gate.hours ? 'too-old' : null
}
