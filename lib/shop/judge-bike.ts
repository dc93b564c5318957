import type { BikeKind } from '../core/checks/bike-kind'
import type { FaultState } from '../core/checks/faults'
import type { Judgement } from '../core/checks/judge'
import { judgeBike as judge } from '../core/checks/judge-bike'
import type { EnteredLimit } from '../core/checks/limits'
import type { RoundLock } from '../core/checks/locks'
import type { Prisma } from '../data/generated/client'
import type { Db } from '../data/store'
import { bikeHead } from './bike-head'
import { factsToJudge, type LimitRow, readShopAndLimits, type ShopFacts, toJudge } from './facts'
import { refuse } from './refusal'

/** What the verdicts, faults and locks of a bike rest on, column by column: none of them is money. */
export const bikeToJudge = {
  ...bikeHead,
  kind: true,
  nonRunner: true,
  makeKey: true,
  modelKey: true,
  ...factsToJudge,
} satisfies Prisma.BikeSelect

export type BikeToJudge = Prisma.BikeGetPayload<{ select: typeof bikeToJudge }>

export type JudgedBike = {
  kind: BikeKind
  limits: readonly EnteredLimit[]
  judgements: readonly Judgement[]
  faults: readonly FaultState[]
  locks: readonly RoundLock[]
}

/** Verdicts, faults and locks of one bike, without its estimate: what a bench needs, at a small part of the work. */
export function judgeBike(
  bike: BikeToJudge,
  given: { shop: ShopFacts; ownLimits: readonly LimitRow[]; now: Date },
): JudgedBike {
  const input = toJudge(bike, given)
  const { kind, limits } = input
  return { kind, limits, ...judge(input) }
}

/** The same for a deed that rests on it, read at this moment. */
export async function readJudged(
  db: Db,
  { bikeId, now }: { bikeId: string; now: Date },
): Promise<JudgedBike & { shop: ShopFacts }> {
  const bike = await db.bike.findUnique({ where: { id: bikeId }, select: bikeToJudge })
  if (!bike) return refuse('not-found', 'That bike is not there.')
  const { shop, ownLimits } = await readShopAndLimits(db, { bikeId, now })
  return { ...judgeBike(bike, { shop, ownLimits, now }), shop }
}
