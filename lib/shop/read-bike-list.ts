import { type Round, rounds } from '../core/checks/catalogue'
import type { Prisma } from '../data/generated/client'
import { type BikeHead, headOf } from './bike-head'
import type { Context } from './deed'
import { readShopFacts, type ShopFacts } from './facts'
import { searchKey } from './fields'
import { type JudgedBike, judgeBike } from './judge-bike'
import { type BikeToJudge, bikeToJudge } from './read-judged'
import { type Progress, progressOf } from './round-progress'
import { type Stage, stages } from './stage-names'

/** What a bike's list may be narrowed to; words that are no filter are passed over. */
export type BikeListAsked = { search?: string | undefined; stage?: string | undefined }

export type NextStep =
  /** A round that is open and has checks to do. */
  | { do: 'check'; round: Round; started: boolean; open: number }
  /** Everything that may be checked is; a shut round waits for a stop to be dealt with. */
  | { do: 'clear-stops'; round: Round }
  | { do: 'look' }

/** One bike for everybody at the bench: there is no money in it. */
export type BikeListRow = BikeHead & {
  progress: Progress
  rounds: readonly { round: Round; open: boolean; progress: Progress }[]
  /** Titles of the faults that say stop. */
  stops: readonly string[]
  next: NextStep
}

/** The bikes that fit, the latest seen first; `none` where the shop has no bike at all. */
export async function readBikeList(
  { store, now }: Context,
  asked: BikeListAsked = {},
): Promise<{ bikes: BikeListRow[]; none: boolean }> {
  const { db } = store
  const shop = await readShopFacts(db, now)
  const bikes = await db.bike.findMany({
    where: whereOf(asked),
    select: bikeToJudge,
    orderBy: { viewingNo: 'desc' },
  })
  const limits = await db.limit.findMany({
    where: { bikeId: { in: bikes.map(({ id }) => id) }, scope: 'bike', withdrawnAt: null },
  })
  const rows = bikes.map((bike) => {
    const ownLimits = limits.filter((limit) => limit.bikeId === bike.id)
    return listRow(bike, judgeBike(bike, { shop, ownLimits, now }), shop)
  })
  return { bikes: rows, none: rows.length === 0 && (await db.bike.count()) === 0 }
}

/** Found by either number, or by a part of plate, make or model however it is spaced and cased. */
function whereOf({ search = '', stage }: BikeListAsked): Prisma.BikeWhereInput {
  const inStage = stages.includes(stage as Stage) ? { stage } : {}
  const key = searchKey(search)
  if (key === '') return inStage
  const number = /^\d{1,9}$/.test(key) ? Number(key) : null
  const byWords = [
    { registrationKey: { contains: key } },
    { makeKey: { contains: key } },
    { modelKey: { contains: key } },
  ]
  const byNumber = number === null ? [] : [{ viewingNo: number }, { stockNo: number }]
  return { ...inStage, OR: [...byNumber, ...byWords] }
}

function listRow(bike: BikeToJudge, judged: JudgedBike, { catalogue }: ShopFacts): BikeListRow {
  const byRound = rounds.map((round) => {
    const keys = new Set(catalogue.checks.filter((check) => check.round === round).map(({ key }) => key))
    const progress = progressOf(judged.judgements.filter(({ check }) => keys.has(check)))
    return { round, open: judged.locks.find((lock) => lock.round === round)?.open ?? true, progress }
  })
  const progress = progressOf(judged.judgements)
  return {
    ...headOf(bike),
    progress,
    rounds: byRound,
    stops: judged.faults
      .filter(({ state, call }) => call === 'stop' && (state === 'found' || state === 'added'))
      .map(({ title }) => title),
    next: nextStep(bike.stage, byRound),
  }
}

/** Stages of a bike that nobody checks any more. */
const finished: readonly string[] = ['sold', 'passed up']

function nextStep(stage: string, byRound: BikeListRow['rounds']): NextStep {
  if (finished.includes(stage)) return { do: 'look' }
  const waiting = byRound.filter(({ progress }) => progress.open > 0)
  const doable = waiting.find(({ open }) => open)
  if (doable) {
    const { round, progress } = doable
    return { do: 'check', round, open: progress.open, started: progress.open < progress.applicable }
  }
  const shut = waiting[0]
  return shut ? { do: 'clear-stops', round: shut.round } : { do: 'look' }
}
