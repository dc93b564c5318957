import type { Prisma } from '../data/generated/client'
import type { Db } from '../data/store'
import { bikeHead } from './bike-head'
import { factsToJudge, readShopAndLimits, type ShopFacts } from './facts'
import { type JudgedBike, judgeBike } from './judge-bike'
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
