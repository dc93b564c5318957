import type { BoardRow } from '../core/board/row'
import type { BikeKind } from '../core/checks/bike-kind'
import { type Round, rounds } from '../core/checks/catalogue'
import { vin } from '../core/codes/vin'
import type { Prisma } from '../data/generated/client'
import { type BikeHead, headOf } from './bike-head'
import type { Context } from './deed'
import { readBoardRow } from './derived'
import { noSuchBike, readBike, readShopAndLimits, type ShopFacts, viewingNumber } from './facts'
import { type JudgedBike, judgeBike } from './judge-bike'
import { readNoted, saleOf } from './noted-prices'
import { bikeToJudge } from './read-judged'
import { type Progress, progressOf } from './round-progress'
import { type Spent, spentShown } from './spent'

export type PhotoShown = { id: string; caption: string; check: string | null; takenAt: string }

/** What a frame number says of itself. */
export type FrameShown = {
  number: string
  checkDigit: 'right' | 'wrong' | 'note' | 'none'
  modelYears: readonly number[]
  claimedYearFits: boolean | null
  problems: readonly string[]
}

/** One bike for everybody at the bench: there is no money in it, and no seller. */
export type BikeForBench = BikeHead & {
  kind: BikeKind
  distance: number | null
  distanceUnit: string
  frame: FrameShown | null
  photos: readonly PhotoShown[]
  progress: Progress
  rounds: readonly { round: Round; open: boolean; progress: Progress }[]
  /** Faults that are there, severest first. */
  faults: readonly { key: string; title: string; call: 'stop' | 'must' | 'pays' | 'leave' }[]
  zone: string
  today: string
}

/** The same bike for those who may see its money. */
export type BikeForMoney = BikeForBench & {
  version: number
  sellerName: string | null
  sellerContact: string | null
  notes: string
  askingMinor: number | null
  sale: { low: number; likely: number; high: number } | null
  purchase: { priceMinor: number; day: string } | null
  /** Parts and outside work so far, minor units, and minutes at the bench. */
  spent: Pick<Spent, 'sumMinor' | 'minutes'>
  offers: readonly { id: string; priceMinor: number; validUntil: string; at: string }[]
  row: BoardRow
  currency: string
}

const photosShown = {
  where: { withdrawnAt: null },
  select: { id: true, caption: true, check: true, takenAt: true },
  orderBy: { receivedAt: 'asc' },
} as const satisfies Prisma.Bike$photosArgs

/** Column by column, so that no money is even read. */
const bikeAtBench = {
  ...bikeToJudge,
  distance: true,
  distanceUnit: true,
  frameNumber: true,
  photos: photosShown,
} satisfies Prisma.BikeSelect

type BikeAtBench = Prisma.BikeGetPayload<{ select: typeof bikeAtBench }>

export async function readBikeForBench({ store, now }: Context, viewingNo: string): Promise<BikeForBench> {
  const { db } = store
  const number = viewingNumber(viewingNo)
  const bike = number && (await db.bike.findUnique({ where: { viewingNo: number }, select: bikeAtBench }))
  if (!bike) return noSuchBike()
  const { shop, ownLimits } = await readShopAndLimits(db, { bikeId: bike.id, now })
  return benchOf(bike, { shop, judged: judgeBike(bike, { shop, ownLimits, now }) })
}

export async function readBikeForMoney({ store, now }: Context, viewingNo: string): Promise<BikeForMoney> {
  const bike = await readBike(store.db, viewingNo)
  const { shop, ownLimits } = await readShopAndLimits(store.db, { bikeId: bike.id, now })
  const photos = await store.db.photo.findMany({
    ...photosShown,
    where: { bikeId: bike.id, withdrawnAt: null },
  })
  const judged = judgeBike(bike, { shop, ownLimits, now })
  const bench = benchOf({ ...bike, photos }, { shop, judged })
  const row = await readBoardRow(store, { bikeId: bike.id, now })
  const noted = await readNoted(store.db, bike)
  return {
    ...bench,
    version: bike.version,
    sellerName: bike.sellerName,
    sellerContact: bike.sellerContact,
    notes: bike.notes,
    askingMinor: bike.askingMinor,
    sale: saleOf(bike, { shop, noted }),
    purchase: bike.purchase && { priceMinor: bike.purchase.priceMinor, day: bike.purchase.day },
    spent: spentShown(bike, { now, name: () => '' }),
    offers: bike.offers.map(({ id, priceMinor, validUntil, at }) => ({
      id,
      priceMinor,
      validUntil,
      at: at.toISOString(),
    })),
    row,
    currency: shop.currency,
  }
}

function benchOf(bike: BikeAtBench, { shop, judged }: { shop: ShopFacts; judged: JudgedBike }): BikeForBench {
  const severity = ['stop', 'must', 'pays', 'leave'] as const
  return {
    ...headOf(bike),
    kind: judged.kind,
    distance: bike.distance,
    distanceUnit: bike.distanceUnit,
    frame:
      bike.frameNumber === null ? null : frameOf(bike.frameNumber, { year: bike.year, today: shop.today }),
    photos: bike.photos.map(({ id, caption, check, takenAt }) => ({
      id,
      caption,
      check,
      takenAt: takenAt.toISOString(),
    })),
    progress: progressOf(judged.judgements),
    rounds: rounds.map((round) => {
      const keys = new Set(
        shop.catalogue.checks.filter((check) => check.round === round).map(({ key }) => key),
      )
      return {
        round,
        open: judged.locks.find((lock) => lock.round === round)?.open ?? true,
        progress: progressOf(judged.judgements.filter(({ check }) => keys.has(check))),
      }
    }),
    faults: judged.faults
      .filter(({ state }) => state === 'found' || state === 'added')
      .map(({ fault, title, call }) => ({ key: fault, title, call }))
      .sort((a, b) => severity.indexOf(a.call) - severity.indexOf(b.call)),
    zone: shop.zone,
    today: shop.today,
  }
}

function frameOf(number: string, { year, today }: { year: number | null; today: string }): FrameShown {
  const read = vin({ vin: number, asOf: today, ...(year === null ? {} : { claimedYear: year }) })
  const { checkDigit } = read
  const state =
    checkDigit === null ? 'none' : checkDigit.match ? 'right' : checkDigit.required ? 'wrong' : 'note'
  return {
    number,
    checkDigit: state,
    modelYears: read.modelYears,
    claimedYearFits: read.claimedYearFits,
    problems: read.problems,
  }
}
