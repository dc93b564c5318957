import type { BikeKind } from '../core/checks/bike-kind'
import type { Call, Caution, Check, Round } from '../core/checks/catalogue'
import type { ShopInstrument } from '../core/checks/instruments'
import type { Judgement, TyreAges } from '../core/checks/judge'
import type { EnteredLimit } from '../core/checks/limits'
import type { Reading } from '../core/checks/reading'
import type { Unit } from '../core/quantity/units'
import type { Db } from '../data/store'
import type { Disputed } from './answered-differently'
import type { BikeHead } from './bike-head'
import { checkSheetOf } from './check-sheet-of'
import type { Context, Who } from './deed'
import { readShopFacts } from './facts'
import type { LimitShown } from './limit-words'
import type { PhotoMark } from './photo-marks'
import { bikeToJudge } from './read-judged'
import { refuse } from './refusal'
import type { Progress } from './round-progress'
import type { RoundShut } from './round-shut'

/*
 * The check sheet of one bike as plain rows, so that a tablet can keep them and judge by itself. Everybody at
 * the bench reads this, so no money and nothing of the seller is in it.
 */

type WithoutHow<C> = C extends Check ? Omit<C, 'how' | 'cautions'> & { how: readonly string[] | null } : never

/** A check as shown. `how` is null where its round is shut: the instruction is held back, never the recording. */
export type CheckShown = WithoutHow<Check>

/** A reading with who took it, and whether that was the reader. Superseded and taken-back ones are among them. */
export type SheetReading = Reading & { who: string; mine: boolean }

export type SheetPhoto = {
  id: string
  caption: string
  takenAt: string
  who: string
  width: number
  height: number
  /** What is drawn beside it, and the version that it counts on from. */
  marks: readonly PhotoMark[]
  version: number
}

/** A fault that stands on the word of a check. */
export type RaisedFault = { fault: string; title: string; means: string; call: Call }

/** A fault that a check can raise, and the rounds that it would shut. */
export type Shuts = { fault: string; title: string; rounds: readonly Round[] }

export type SheetCheck = {
  check: CheckShown
  cautions: readonly Pick<Caution, 'title' | 'says'>[]
  limits: readonly LimitShown[]
  /** The limits entered for it, as the calculation takes them. */
  entered: readonly EnteredLimit[]
  readings: readonly SheetReading[]
  judgement: Judgement
  /** Two answers of two devices that knew nothing of one another, where the one that counts is one of them. */
  disputed: Disputed | null
  /** How old the answer is where that is too old and it is asked for again; it still counts. */
  staleDays: number | null
  faults: readonly RaisedFault[]
  shuts: readonly Shuts[]
  /** Instants of the last work on what it looks at; null where there was none. */
  worked: {
    /** Finished: what was read before it is of a part that is no longer there. */
    finished: string | null
    /** Begun, given up or finished: what was read before it opens no round. */
    touched: string | null
  }
  photos: readonly SheetPhoto[]
}

export type SheetRound = RoundShut & {
  round: Round
  open: boolean
  progress: Progress
  checks: readonly SheetCheck[]
  /** Titles of the checks that this kind of bike does not have. */
  notApplicable: readonly string[]
}

export type Sheet = {
  bike: BikeHead & { kind: BikeKind }
  rounds: readonly SheetRound[]
  progress: Progress
  /** The standing caution, where the catalogue has it: the law and licensed practice come first. */
  law: Pick<Caution, 'title' | 'says'> | null
  /** With these and the rows a tablet judges by itself. */
  asOf: string
  /** The instant it was read, ISO 8601 in UTC. */
  now: string
  ages: TyreAges
  zone: string
  /** The tools of the shop; one that was put away is not offered. */
  instruments: readonly ShopInstrument[]
  /** Limits ever entered for this bike, so that a tablet knows which of its own have arrived. */
  limitIds: readonly string[]
  /** Photos that were taken back: shown nowhere, and told so that a tablet knows that its taking back has arrived. */
  photosTakenBack: readonly string[]
  person: { id: string; name: string; mayClear: boolean }
}

/** The sheet by the bike's viewing number; refused where there is no such bike. */
export async function readSheet(
  { store, now, who }: Context & { who: Who },
  viewingNo: string | number,
): Promise<Sheet> {
  const { db } = store
  const bike =
    (await bikeByNumber(db, viewingNo)) ?? refuse('not-found', 'There is no bike with that number.')
  const shop = await readShopFacts(db, now)
  const [everyLimit, people, instruments] = await Promise.all([
    db.limit.findMany({ where: { bikeId: bike.id, scope: 'bike' } }),
    db.person.findMany({ select: { id: true, name: true } }),
    readInstruments(db),
  ])
  const ownLimits = everyLimit.filter(({ withdrawnAt }) => withdrawnAt === null)
  const limitIds = everyLimit.map((limit) => limit.id)
  const names = new Map(people.map(({ id, name }) => [id, name]))
  return checkSheetOf(bike, { shop, ownLimits, limitIds, names, instruments, reader: who, now })
}

export async function readInstruments(db: Db): Promise<ShopInstrument[]> {
  const rows = await db.instrument.findMany({
    where: { withdrawnAt: null },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
  })
  return rows.map(({ id, kind, name, resolution, unit, standardUncertainty, calibrationDue }) => ({
    key: id,
    of: kind,
    name,
    resolution,
    unit: unit as Unit,
    standardUncertainty,
    ...(calibrationDue && { calibrationDue }),
  }))
}

export const bikeOnSheet = {
  ...bikeToJudge,
  photos: {
    select: {
      ...{ id: true, check: true, caption: true, takenAt: true, personId: true, withdrawnAt: true },
      ...{ width: true, height: true, marks: true, version: true },
    },
    orderBy: { receivedAt: 'asc' },
  },
} as const

export type BikeOnSheet = NonNullable<Awaited<ReturnType<typeof bikeByNumber>>>

async function bikeByNumber(db: Db, viewingNo: string | number) {
  const number = Number(viewingNo)
  if (!Number.isInteger(number) || number < 1 || number >= 2 ** 31) return null
  return db.bike.findUnique({ where: { viewingNo: number }, select: bikeOnSheet })
}
