import type { BikeKind } from '../core/checks/bike-kind'
import type { FaultState } from '../core/checks/faults'
import type { Judgement } from '../core/checks/judge'
import { judgeBike as judge } from '../core/checks/judge-bike'
import type { EnteredLimit } from '../core/checks/limits'
import type { RoundLock } from '../core/checks/locks'
import type { BikeToJudgeRow, LimitRow, ShopFacts } from './facts'
import { toJudge } from './to-work-out'

export type JudgedBike = {
  kind: BikeKind
  limits: readonly EnteredLimit[]
  judgements: readonly Judgement[]
  faults: readonly FaultState[]
  locks: readonly RoundLock[]
}

/** Verdicts, faults and locks of one bike, without its estimate: what a bench needs, at a small part of the work. */
export function judgeBike(
  bike: BikeToJudgeRow,
  given: { shop: ShopFacts; ownLimits: readonly LimitRow[]; now: Date },
): JudgedBike {
  const input = toJudge(bike, given)
  const { kind, limits } = input
  return { kind, limits, ...judge(input) }
}
