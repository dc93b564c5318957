import { frameCheck } from '../core/checks/frame-looks'
import type { VerdictWord } from '../core/checks/judge'
import {
  type IdentityAnswer,
  type IdentityPoint,
  identityAnswers,
  identityPoints,
  isFinalPoint,
  isFinalWord,
  type MoneyLack,
  moneyGate,
  pointNames,
  type Register,
  type RegisterAnswer,
  registerNames,
  registers,
} from '../core/checks/money-gate'
import type { Prisma } from '../data/generated/client'
import type { Db } from '../data/store'
import { type BikeHead, headOf } from './bike-head'
import type { Context } from './deed'
import { readDistances } from './distances'
import type { DistancesShown } from './distances-of'
import { noSuchBike, readShopAndLimits, viewingNumber } from './facts'
import { readMoneyWords, readRegisterWords } from './identity'
import { judgeBike } from './judge-bike'
import { bikeToJudge } from './read-judged'

/** What a check of the round already says of a point. */
export type CheckKnown = { check: string; title: string; verdict: VerdictWord; says: string }

/** The dated distances of a bike for everybody at the bench: no money in it, and no seller. */
export type DistancePage = BikeHead & {
  distances: DistancesShown
  known: readonly CheckKnown[]
  zone: string
  today: string
}

export type RegisterSaid = {
  id: string
  askedOf: string
  day: string
  answer: RegisterAnswer
  amountMinor: number | null
  note: string
  who: string
}

export type RegisterShown = {
  register: Register
  name: string
  latest: RegisterSaid | null
  /** Newest first. */
  earlier: readonly RegisterSaid[]
  /** Nothing more can be said of it. */
  final: boolean
}

export type PointSaid = { id: string; answer: string; label: string; note: string; who: string; at: string }

export type PointShown = {
  point: IdentityPoint
  name: string
  latest: PointSaid | null
  earlier: readonly PointSaid[]
  final: boolean
  choices: readonly (IdentityAnswer & { key: string })[]
  known: readonly CheckKnown[]
}

/** The same page for those who may see money and seller. */
export type IdentityPage = DistancePage & {
  lacks: readonly MoneyLack[]
  registers: readonly RegisterShown[]
  points: readonly PointShown[]
  seller: { name: string | null; contact: string | null }
  frameNumber: string | null
  currency: string
}

const forDistances = {
  ...bikeToJudge,
  createdAt: true,
  distance: true,
  distanceUnit: true,
  clockChanged: true,
} satisfies Prisma.BikeSelect

export async function readDistancePage(context: Context, viewingNo: string): Promise<DistancePage> {
  return (await distancePage(context, viewingNo)).page
}

async function distancePage({ store, now }: Context, viewingNo: string) {
  const { db } = store
  const number = viewingNumber(viewingNo)
  const bike = number && (await db.bike.findUnique({ where: { viewingNo: number }, select: forDistances }))
  if (!bike) return noSuchBike()
  const { shop, ownLimits } = await readShopAndLimits(db, { bikeId: bike.id, now })
  const { judgements } = judgeBike(bike, { shop, ownLimits, now })
  const knownOf = (keys: readonly string[]): CheckKnown[] =>
    judgements
      .filter(({ check, verdict }) => keys.includes(check) && verdict !== 'does-not-apply')
      .map(({ check, title, verdict, says }) => ({ check, title, verdict, says }))
  const { zone, today } = shop
  const distances = await readDistances(db, bike, zone)
  const page: DistancePage = { ...headOf(bike), distances, known: knownOf(['distance-shown']), zone, today }
  return { page, knownOf, currency: shop.currency }
}

/** The checks of the rounds that already say something of a point. */
const checksOfPoint: Partial<Record<IdentityPoint, readonly string[]>> = {
  'frame-number': [frameCheck.key],
  keys: ['keys-counted', 'master-key'],
}

export async function readIdentityPage(context: Context, viewingNo: string): Promise<IdentityPage> {
  const { page, knownOf, currency } = await distancePage(context, viewingNo)
  const { db } = context.store
  const [{ words, asked, seen }, people, bike] = await Promise.all([
    readMoneyWords(db, { bikeId: page.id, now: context.now }),
    db.person.findMany({ select: { id: true, name: true } }),
    db.bike.findUniqueOrThrow({
      where: { id: page.id },
      select: { sellerName: true, sellerContact: true, frameNumber: true },
    }),
  ])
  const names = new Map(people.map(({ id, name }) => [id, name]))
  const who = (personId: string) => names.get(personId) ?? 'somebody'
  const said = registers.map((register): RegisterShown => {
    const mine = asked.filter((word) => word.register === register)
    // What is final counts, whatever was written down before it was.
    const counts = mine.findLast(isFinalWord) ?? mine.at(-1)
    const final = mine.some(isFinalWord)
    const shown = ({ id, askedOf, day, answer, amountMinor, note, personId }: (typeof asked)[number]) => ({
      ...{ id, askedOf, day, answer, amountMinor, note },
      who: who(personId),
    })
    return {
      register,
      name: registerNames[register],
      latest: counts ? shown(counts) : null,
      earlier: mine
        .filter((word) => word !== counts)
        .reverse()
        .map(shown),
      final,
    }
  })
  const financed = said.find(({ register }) => register === 'finance')?.latest?.answer === 'recorded'
  return {
    ...page,
    lacks: moneyGate(words),
    registers: said,
    points: identityPoints
      .filter((point) => point !== 'finance' || financed)
      .map((point): PointShown => {
        const mine = seen.filter((word) => word.point === point)
        const shown = ({ id, answer, note, personId, at }: (typeof seen)[number]): PointSaid => ({
          ...{ id, answer, note },
          label: identityAnswers[point][answer]?.label ?? answer,
          who: who(personId),
          at: at.toISOString(),
        })
        const [latest = null, ...earlier] = mine.map(shown).reverse()
        return {
          point,
          name: pointNames[point],
          latest,
          earlier,
          final: mine.some(isFinalPoint) || (point === 'frame-number' && words.frame.alteredAt !== null),
          choices: Object.entries(identityAnswers[point])
            // Where the register knows of finance, "none" settles nothing.
            .filter(([key]) => point !== 'finance' || key !== 'none')
            .map(([key, answer]) => ({ key, ...answer })),
          known: knownOf(checksOfPoint[point] ?? []),
        }
      }),
    seller: { name: bike.sellerName, contact: bike.sellerContact },
    frameNumber: bike.frameNumber,
    currency,
  }
}

/** What a register has on record that changes the price and not the right to sell. */
export type OnRecord = { register: 'write-off' | 'recall'; day: string }

/** What the latest answers of the registers say of a write-off or a recall. No money is in it. */
export async function readOnRecord(db: Db, bikeId: string): Promise<OnRecord[]> {
  const asked = await readRegisterWords(db, bikeId)
  return (['write-off', 'recall'] as const).flatMap((register) => {
    const latest = asked.findLast((word) => word.register === register)
    return latest?.answer === 'recorded' ? [{ register, day: latest.day }] : []
  })
}
