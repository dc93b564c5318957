import { type Catalogue, type Caution, type Check, type Round, rounds } from '../core/checks/catalogue'
import type { FaultState } from '../core/checks/faults'
import type { ShopInstrument } from '../core/checks/instruments'
import type { Judgement } from '../core/checks/judge'
import { locks } from '../core/checks/locks'
import { staleDays } from '../core/checks/stale'
import { inWalkingOrder } from '../core/checks/walking-order'
import { lastWorkOn } from '../core/checks/work-done'
import { answeredDifferently } from './answered-differently'
import { headOf } from './bike-head'
import type { Who } from './deed'
import type { LimitRow, ShopFacts } from './facts'
import { type JudgedBike, judgeBike } from './judge-bike'
import { limitsShown } from './limit-words'
import { storedMarks } from './photo-marks'
import type { BikeOnSheet, CheckShown, RaisedFault, Sheet, SheetCheck, SheetRound, Shuts } from './read-sheet'
import { progressOf } from './round-progress'
import { roundShut, type ToTellShut } from './round-shut'
import { asReading, workOf } from './to-work-out'
import { mayDo } from './who-may'

/** What a sheet is made of beside the bike. */
type Told = {
  shop: ShopFacts
  /** Limits of this bike that count. */
  ownLimits: readonly LimitRow[]
  /** Those ever entered for it. */
  limitIds: readonly string[]
  /** People by id. */
  names: ReadonlyMap<string, string>
  instruments: readonly ShopInstrument[]
  reader: Pick<Who, 'personId' | 'name' | 'roles'>
  now: Date
}

/** The check sheet of one bike out of what is stored of it; it asks the store nothing. */
export function checkSheetOf(bike: BikeOnSheet, told: Told): Sheet {
  const { shop, ownLimits, names, reader, now } = told
  const judged = judgeBike(bike, { shop, ownLimits, now })
  const { finished, underWay, givenUp } = workOf(bike)
  const given: Given = {
    bike,
    judged,
    shop,
    names,
    reader: reader.personId,
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
    instruments: told.instruments,
    limitIds: told.limitIds,
    photosTakenBack: bike.photos.filter(({ withdrawnAt }) => withdrawnAt).map(({ id }) => id),
    person: { id: reader.personId, name: reader.name, mayClear: mayDo(reader.roles, 'lock:clear') },
  }
}

type Given = {
  bike: Pick<BikeOnSheet, 'readings' | 'photos'>
  judged: JudgedBike
  shop: Pick<ShopFacts, 'catalogue' | 'today'>
  names: ReadonlyMap<string, string>
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
    disputed: answeredDifferently(
      mine(bike.readings).map((row) => ({
        reading: asReading(row),
        deviceId: row.deviceId,
        receivedAt: row.receivedAt,
      })),
    ),
    staleDays: staleDays({ check, judgement, readings, asOf: today }),
    faults: judged.faults.filter((fault) => isRaisedBy(fault, check.key)).map(raisedFault),
    shuts: shutsOf(check, judged),
    worked: { finished: finished.get(check.key) ?? null, touched: touched.get(check.key) ?? null },
    photos: mine(bike.photos.filter(({ withdrawnAt }) => !withdrawnAt)).map(
      ({ takenAt, personId, marks, id, caption, width, height, version }) => ({
        ...{ id, caption, width, height, version },
        takenAt: takenAt.toISOString(),
        who: who(personId),
        marks: storedMarks(marks),
      }),
    ),
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
