import type { BikeKind } from '../core/checks/bike-kind'
import { deriveFaults, type FaultState } from '../core/checks/faults'
import { type Judgement, judgeAll } from '../core/checks/judge'
import type { EnteredLimit } from '../core/checks/limits'
import { locks, type RoundLock } from '../core/checks/locks'
import type { Prisma } from '../data/generated/client'
import { bikeKindInput } from './bike-fields'
import { asDecision, asReading, type LimitRow, limitsFor, type ShopFacts } from './facts'

/** What the verdicts, faults and locks of a bike rest on, column by column: none of them is money. */
export const bikeToJudge = {
  id: true,
  viewingNo: true,
  stockNo: true,
  stage: true,
  kind: true,
  make: true,
  makeKey: true,
  model: true,
  modelKey: true,
  year: true,
  registration: true,
  readings: { orderBy: { seq: 'asc' } },
  decisions: { where: { withdrawnAt: null }, orderBy: { at: 'asc' } },
  clearings: true,
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
  const { shop, ownLimits, now } = given
  const { catalogue, figures, today } = shop
  const kind = bikeKindInput.parse(JSON.parse(bike.kind))
  const limits = limitsFor(bike, { shop, ownLimits, kind })
  const judgements = judgeAll({
    checks: catalogue.checks,
    readings: bike.readings.map(asReading),
    limits,
    kind,
    asOf: today,
    ages: figures.tyreAges,
  })
  const faults = deriveFaults({ catalogue, kind, judgements, decisions: bike.decisions.map(asDecision) })
  const clearings = bike.clearings.map(({ fault, until }) => ({ fault, until: until.toISOString() }))
  return { kind, limits, judgements, faults, locks: locks({ faults, clearings, now: now.toISOString() }) }
}
