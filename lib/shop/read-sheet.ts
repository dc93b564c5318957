import type { BikeKind } from '../core/checks/bike-kind'
import {
  type Call,
  type Catalogue,
  type Caution,
  type Check,
  type Round,
  rounds,
} from '../core/checks/catalogue'
import type { FaultState } from '../core/checks/faults'
import type { ShopInstrument } from '../core/checks/instruments'
import type { Judgement, TyreAges } from '../core/checks/judge'
import type { EnteredLimit } from '../core/checks/limits'
import { locks } from '../core/checks/locks'
import type { Reading } from '../core/checks/reading'
import { staleDays } from '../core/checks/stale'
import { inWalkingOrder } from '../core/checks/walking-order'
import { lastWorkOn } from '../core/checks/work-done'
import type { Unit } from '../core/quantity/units'
import type { Db } from '../data/store'
import { type BikeHead, headOf } from './bike-head'
import type { Context, Who } from './deed'
import { asReading, readShopFacts, type ShopFacts, workOf } from './facts'
import { bikeToJudge, type JudgedBike, judgeBike } from './judge-bike'
import { type LimitShown, limitsShown } from './limit-words'
import { refuse } from './refusal'
import { type Progress, progressOf } from './round-progress'
import { type RoundShut, roundShut, type ToTellShut } from './round-shut'
import { mayDo } from './who-may'

/*
 * The check sheet of one bike as plain rows, so that a tablet can keep them and judge by itself. Everybody at
 * the bench reads this, so no money and nothing of the seller is in it.
 */

type WithoutHow<C> = C extends Check ? Omit<C, 'how' | 'cautions'> & { how: readonly string[] | null } : never

/** A check as shown. `how` is null where its round is shut: the instruction is held back, never the recording. */
export type CheckShown = WithoutHow<Check>

/** A reading with who took it, and whether that was the reader. Superseded and taken-back ones are among them. */
export type SheetReading = Reading & { who: string; mine: boolean }

export type SheetPhoto = { id: string; caption: string; takenAt: string; who: string }

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
  const judged = judgeBike(bike, { shop, ownLimits, now })
  const names = new Map(people.map(({ id, name }) => [id, name]))
  const { finished, underWay, givenUp } = workOf(bike)
  const given: Given = {
    bike,
    judged,
    shop,
    names,
    reader: who.personId,
    finished: lastWorkOn(shop.catalogue, finished),
    touched: lastWorkOn(shop.catalogue, [...finished, ...underWay, ...givenUp]),
    shut: {
      bike,
      readings: bike.readings.map(asReading),
      judgements: judged.judgements,
      faults: judged.faults,
      catalogue: shop.catalogue,
      names,
      now,
    },
  }
  return {
    bike: { ...headOf(bike), kind: judged.kind },
    rounds: rounds.map((round) => sheetRound(round, given)),
    progress: progressOf(judged.judgements),
    law: cautionsNamed(['law'], shop.catalogue)[0] ?? null,
    asOf: shop.today,
    now: now.toISOString(),
    ages: shop.figures.tyreAges,
    zone: shop.zone,
    instruments,
    limitIds: everyLimit.map((limit) => limit.id),
    person: { id: who.personId, name: who.name, mayClear: mayDo(who.roles, 'lock:clear') },
  }
}

async function readInstruments(db: Db): Promise<ShopInstrument[]> {
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

const bikeOnSheet = {
  ...bikeToJudge,
  photos: {
    select: { id: true, check: true, caption: true, takenAt: true, personId: true },
    orderBy: { receivedAt: 'asc' },
  },
} as const

type BikeOnSheet = NonNullable<Awaited<ReturnType<typeof bikeByNumber>>>

async function bikeByNumber(db: Db, viewingNo: string | number) {
  const number = Number(viewingNo)
  if (!Number.isInteger(number) || number < 1 || number >= 2 ** 31) return null
  return db.bike.findUnique({ where: { viewingNo: number }, select: bikeOnSheet })
}

type Given = {
  bike: BikeOnSheet
  judged: JudgedBike
  shop: Pick<ShopFacts, 'catalogue' | 'today'>
  names: Map<string, string>
  /** Whose sheet it is. */
  reader: string
  /** For each check the last work that was finished, and the last that was done at all. */
  finished: ReadonlyMap<string, string>
  touched: ReadonlyMap<string, string>
  shut: ToTellShut
}

function sheetRound(round: Round, given: Given): SheetRound {
  const { judged, shop } = given
  const { catalogue } = shop
  const lock = judged.locks.find((one) => one.round === round)!
  const { open } = lock
  const ofRound = catalogue.checks.filter((check) => check.round === round)
  const rows = ofRound.map((check) => ({
    check,
    judgement: judged.judgements.find((one) => one.check === check.key)!,
  }))
  const applicable = rows.filter(({ judgement }) => judgement.verdict !== 'does-not-apply')
  return {
    round,
    open,
    ...roundShut(lock, given.shut),
    progress: progressOf(rows.map(({ judgement }) => judgement)),
    checks: inWalkingOrder(applicable).map((row) => sheetCheck(row, { ...given, open })),
    notApplicable: rows.filter((row) => !applicable.includes(row)).map(({ check }) => check.title),
  }
}

function sheetCheck(
  { check, judgement }: { check: Check; judgement: Judgement },
  { bike, judged, shop, names, reader, finished, touched, open }: Given & { open: boolean },
): SheetCheck {
  const { catalogue, today } = shop
  const { how, cautions = [], ...shown } = check
  const mine = <T extends { check: string | null }>(rows: readonly T[]) =>
    rows.filter((row) => row.check === check.key)
  const who = (personId: string) => names.get(personId) ?? 'somebody'
  const readings = mine(bike.readings).map((row) => ({
    ...asReading(row),
    who: who(row.personId),
    mine: row.personId === reader,
  }))
  return {
    check: { ...shown, how: open ? how : null } as CheckShown,
    // The standing one is said once, at the foot of the sheet.
    cautions: cautionsNamed(
      cautions.filter((key) => key !== 'law'),
      catalogue,
    ),
    limits: check.sort === 'measured' ? limitsShown(check, judged.limits) : [],
    entered: mine(judged.limits),
    readings,
    judgement,
    staleDays: staleDays({ check, judgement, readings, asOf: today }),
    faults: judged.faults.filter((fault) => isRaisedBy(fault, check.key)).map(raisedFault),
    shuts: shutsOf(check, judged),
    worked: { finished: finished.get(check.key) ?? null, touched: touched.get(check.key) ?? null },
    photos: mine(bike.photos).map(({ id, caption, takenAt, personId }) => ({
      id,
      caption,
      takenAt: takenAt.toISOString(),
      who: who(personId),
    })),
  }
}

function cautionsNamed(keys: readonly string[], { cautions }: Catalogue): Pick<Caution, 'title' | 'says'>[] {
  return cautions.filter(({ key }) => keys.includes(key)).map(({ title, says }) => ({ title, says }))
}

function isRaisedBy(fault: FaultState, check: string): boolean {
  if (fault.state !== 'found' && fault.state !== 'added') return false
  return fault.because.some((evidence) => evidence.from === 'check' && evidence.check === check)
}

function raisedFault({ fault, title, means, call }: FaultState): RaisedFault {
  return { fault, title, means, call }
}

/** Asked of the locks themselves, fault by fault, so that what shuts a round is said in one place only. */
function shutsOf(check: Check, { faults }: JudgedBike): Shuts[] {
  const keys = check.raises.flatMap((raise) =>
    'fault' in raise ? [raise.fault] : 'settles' in raise ? [raise.settles.fault] : [],
  )
  return faults
    .filter(({ fault }) => keys.includes(fault))
    .map((state) => ({ fault: state.fault, title: state.title, rounds: roundsShutBy(state) }))
    .filter((one) => one.rounds.length > 0)
}

function roundsShutBy(state: FaultState): Round[] {
  const found: FaultState = { ...state, state: 'found', chance: 1 }
  const all = locks({ faults: [found], clearings: [], now: '1970-01-01T00:00:00Z' })
  return all.filter(({ open }) => !open).map(({ round }) => round)
}
