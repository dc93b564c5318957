import type { Check } from '../../../../../lib/core/checks/catalogue'
import { askOf } from '../../../../../lib/core/checks/evidence'
import { gateLack } from '../../../../../lib/core/checks/gates'
import { instrumentsFor } from '../../../../../lib/core/checks/instruments'
import { type Judgement, judge } from '../../../../../lib/core/checks/judge'
import type { EnteredLimit } from '../../../../../lib/core/checks/limits'
import { type ReadingInstrument, readSince } from '../../../../../lib/core/checks/reading'
import { staleDays } from '../../../../../lib/core/checks/stale'
import { gateSays } from '../../../../../lib/shop/gate-words'
import { limitsShown } from '../../../../../lib/shop/limit-words'
import type {
  CheckShown,
  Sheet,
  SheetCheck,
  SheetReading,
  SheetRound,
  Shuts,
} from '../../../../../lib/shop/read-sheet'
import { progressOf } from '../../../../../lib/shop/round-progress'
import { type SheetNeed, toDoFirst } from '../../../../../lib/shop/round-shut'
import type { Entry, Kept } from '../../../../_ui/outbox/outbox'
import { drawingOf, photosSeen, photosTakenBack, photoTakenBack, type SeenPhoto } from './photos-seen'
import type { LimitBody, ReadingBody } from './recording'

export type SeenReading = SheetReading & { onItsWay: boolean }

export type SeenCheck = Omit<SheetCheck, 'readings' | 'photos'> & {
  readings: readonly SeenReading[]
  /** The verdict was worked out on this device, from what the server has not confirmed yet. */
  judgedHere: boolean
  /** Stops that the server does not know of yet. */
  newStops: readonly Shuts[]
  photos: readonly SeenPhoto[]
}

/** A check that lacks, and whether what was recorded here has done it, as far as this device can tell. */
export type SeenNeed = SheetNeed & { onItsWay: boolean }

export type SeenRound = Omit<SheetRound, 'checks' | 'needs'> & {
  checks: readonly SeenCheck[]
  needs: readonly SeenNeed[]
  /** Titles of the faults that shut the round as seen here; the server does not know of them yet. */
  shutHere: readonly string[]
}

export type SeenSheet = Omit<Sheet, 'rounds'> & { rounds: readonly SeenRound[] }

/**
 * The sheet with what was recorded on this device and is still on its way: judged here with the same
 * calculation as on the server. A stop that is seen here, or a check that gates a round and is not good, shuts
 * its rounds here at once; nothing is opened here, since only the server knows all that holds a lock.
 */
export function asSeenHere(sheet: Sheet, entries: readonly Entry[], clockAheadMs = 0): SeenSheet {
  const onTheirWay = entries
    .filter(({ state }) => state !== 'refused')
    .map((entry) => byShopTime(entry, clockAheadMs))
  const { person } = sheet
  const seen = sheet.rounds.map((round) => ({
    ...round,
    checks: round.checks.map((row) => ({
      ...seenCheck(row, onTheirWay, sheet),
      photos: photosSeen(row.photos, { bike: sheet.bike.id, check: row.check.key }, { entries, person }),
    })),
  }))
  const rows = seen.flatMap(({ checks }) => checks)
  const shutting = seen.flatMap(({ checks }) => checks.flatMap(({ newStops }) => newStops))
  const rounds = seen.map((round): SeenRound => {
    const shutHere = shutting
      .filter(
        (shut) => shut.rounds.includes(round.round) && !round.locks.some(({ fault }) => fault === shut.fault),
      )
      .map(({ title }) => title)
    const needs = needsHere(round, rows, sheet.now)
    const open = round.open && shutHere.length === 0 && toDoFirst(needs).length === 0
    return {
      ...round,
      open,
      needs,
      shutHere,
      progress: progressOf(round.checks.map(({ judgement }) => judgement)),
      checks: open ? round.checks : round.checks.map(withoutHow),
    }
  })
  const all = rounds.flatMap(({ checks }) => checks.map(({ judgement }) => judgement))
  return { ...sheet, rounds, progress: progressOf(all) }
}

/** A clock that is off by less is as good as the server's, which leaves it alone too. */
const clockToleranceMs = 2 * 60_000

/** What this device's clock shows, by the clock of the server. */
export function shopTime(shown: Date, clockAheadMs: number): Date {
  return Math.abs(clockAheadMs) > clockToleranceMs ? new Date(shown.getTime() - clockAheadMs) : shown
}

/** As the server will keep it: among readings of right clocks, one of a wrong clock would stand in a wrong order. */
function byShopTime(entry: Entry, clockAheadMs: number): Entry {
  const { kept } = entry
  if (kept.to !== 'sync' || typeof kept.body.takenAt !== 'string') return entry
  const said = new Date(kept.body.takenAt)
  const taken = shopTime(said, clockAheadMs)
  if (taken === said) return entry
  const takenAt = taken.toISOString()
  return { ...entry, kept: { ...kept, body: { ...kept.body, takenAt } } }
}

/** The check as the calculation takes it; it never looks at the instruction. */
export function asCheck(shown: CheckShown): Check {
  return { ...shown, how: shown.how ?? [] } as Check
}

/**
 * Of what was sent: what the server shows by now or what this sheet never shows, to be forgotten, and what it does not
 * show yet. A photo that was taken back never comes: it has arrived with its being taken back, which the server tells.
 * A drawing has arrived where the photo has a later version than it was drawn on.
 */
export function arrivalsOn(
  sheet: Sheet,
  entries: readonly Entry[],
): { gone: readonly string[]; missing: readonly string[] } {
  const rows = sheet.rounds.flatMap(({ checks }) => checks)
  const arrived = new Set([
    ...sheet.limitIds,
    ...rows.flatMap(({ readings, photos }) => [...readings, ...photos].map(({ id }) => id)),
  ])
  const takenBack = new Set(sheet.photosTakenBack)
  const sent = entries.filter(({ state }) => state === 'sent')
  const back = photosTakenBack(entries)
  const photosShown = new Map(
    rows.flatMap(({ photos }) => photos.map(({ id, version }) => [id, version] as const)),
  )
  const photosHere = new Set(entries.flatMap(({ kept }) => (isForRow(kept, sheet) ? [kept.id] : [])))
  const isGone = (entry: Entry): boolean => {
    const photo = photoTakenBack(entry)
    if (photo !== null) return takenBack.has(photo)
    if (back.has(entry.kept.id)) return takenBack.has(entry.kept.id)
    const drawing = drawingOf(entry)
    if (drawing !== null) {
      const shown = photosShown.get(drawing.photo)
      return shown === undefined ? !photosHere.has(drawing.photo) : shown > drawing.version
    }
    if (entry.kept.to === 'photos' && !isForRow(entry.kept, sheet)) return true
    return arrived.has(entry.kept.id) || bikeOf(entry.kept) !== sheet.bike.id
  }
  const ids = (which: readonly Entry[]) => which.map(({ kept }) => kept.id)
  return { gone: ids(sent.filter(isGone)), missing: ids(sent.filter((entry) => !isGone(entry))) }
}

/**
 * Drawings that were refused although the page shows nothing newer than they were made on: somebody else has drawn
 * meanwhile, and the next one here would be refused as well.
 */
export function drawnUnaware(sheet: Sheet, entries: readonly Entry[]): readonly string[] {
  const photos = sheet.rounds.flatMap(({ checks }) => checks.flatMap((row) => row.photos))
  return entries.flatMap((entry) => {
    const drawing = entry.state === 'refused' ? drawingOf(entry) : null
    const shown = photos.find(({ id }) => id === drawing?.photo)
    return drawing && shown && shown.version <= drawing.version ? [entry.kept.id] : []
  })
}

/** A photo of a check of this bike. */
function isForRow(kept: Kept, { bike, rounds }: Sheet): boolean {
  if (kept.to !== 'photos' || kept.facts.bike !== bike.id) return false
  return rounds.some(({ checks }) => checks.some(({ check }) => check.key === kept.facts.check))
}

function bikeOf(kept: Kept): unknown {
  return kept.to === 'sync' ? kept.body.bike : kept.facts.bike
}

function seenCheck(row: SheetCheck, entries: readonly Entry[], sheet: Sheet): Omit<SeenCheck, 'photos'> {
  const readings = entries.flatMap((entry) => newReading(entry, row, sheet))
  const limits = latestAtEach(entries.flatMap((entry) => newLimit(entry, row, sheet)))
  const kept = row.readings.map((reading) => ({ ...reading, onItsWay: false }))
  if (readings.length + limits.length === 0) {
    return { ...row, readings: kept, judgedHere: false, newStops: [] }
  }
  const all = [...kept, ...readings]
  const entered = [...row.entered.filter((limit) => !isReplaced(limit, limits)), ...limits]
  const check = asCheck(row.check)
  const { kind } = sheet.bike
  const { asOf, ages } = sheet
  const { finished } = row.worked
  const worked = new Map(finished === null ? [] : [[check.key, finished]])
  const judgement = judge({ check, readings: all, limits: entered, kind, worked, asOf, ages })
  return {
    ...row,
    readings: all,
    entered,
    limits: check.sort === 'measured' ? limitsShown(check, entered) : row.limits,
    judgement,
    staleDays: staleDays({ check, judgement, readings: all, asOf }),
    judgedHere: true,
    newStops: stopsRaised(row, judgement),
  }
}

/** What the server says lacks, as it is after what was recorded here, and what lacks only since then. */
function needsHere(
  round: Pick<SheetRound, 'round' | 'needs'>,
  rows: readonly SeenCheck[],
  now: string,
): SeenNeed[] {
  return rows.flatMap((row): SeenNeed[] => {
    const { check, judgement, readings, worked } = row
    const known = round.needs.find((need) => need.check === check.key)
    if (!row.judgedHere) return known ? [{ ...known, onItsWay: false }] : []
    if (!check.gate?.opens.some((gated) => gated === round.round)) return []
    const takenAt = readSince(readings).get(check.key) ?? null
    const lacks = gateLack(check, { judgement, takenAt, workedAt: worked.touched, now })
    if (lacks === null) return known ? [{ ...known, onItsWay: true }] : []
    const says = gateSays({ lacks, check, judgement, takenAt, now })
    const { key, title, round: doneIn } = check
    // What a reason may open depends on the answer, and the server has not seen this one yet.
    const unknown = { byReason: false, cleared: null }
    return [{ check: key, title, doneIn, lacks, says, ...unknown, onItsWay: false }]
  })
}

function newReading({ kept }: Entry, row: SheetCheck, sheet: Sheet): SeenReading[] {
  if (kept.to !== 'sync' || kept.deed !== 'record-reading') return []
  const body = kept.body as ReadingBody
  if (!isFor(body, row, sheet) || row.readings.some(({ id }) => id === body.id)) return []
  const { bike: _, ...said } = body
  const mine = kept.author === sheet.person.id
  const who = mine ? sheet.person.name : 'somebody else'
  const instrument = instrumentOf(row, { chosen: body.instrument, sheet })
  return [{ ...said, instrument, who, mine, onItsWay: true }]
}

function instrumentOf(
  { check: shown }: SheetCheck,
  { chosen, sheet }: { chosen: string | null; sheet: Sheet },
): ReadingInstrument | null {
  const check = asCheck(shown)
  if (check.sort !== 'measured') return null
  // The kind itself as well: it could be chosen before the shop listed a tool of its own.
  const all = [...instrumentsFor(check, sheet.instruments), ...check.instruments]
  const known = all.find(({ key }) => key === chosen)
  if (!known) return null
  const { key: _, ...instrument } = known
  return instrument
}

function newLimit({ kept }: Entry, row: SheetCheck, sheet: Sheet): EnteredLimit[] {
  if (kept.to !== 'sync' || kept.deed !== 'set-bike-limit') return []
  const body = kept.body as LimitBody
  if (!isFor(body, row, sheet) || sheet.limitIds.includes(body.id)) return []
  const { bike: _, note, source, ...figures } = body
  const where = source === 'stamped' ? 'stamped on the part' : 'entered on this bike'
  return [{ ...figures, scope: 'bike', source: { kind: source, says: note ? `${where}: ${note}` : where } }]
}

function isFor(body: { bike: string; check: string }, row: SheetCheck, sheet: Sheet): boolean {
  return body.bike === sheet.bike.id && body.check === row.check.key
}

function latestAtEach(limits: readonly EnteredLimit[]): EnteredLimit[] {
  return [...new Map(limits.map((limit) => [limit.position, limit])).values()]
}

/** A limit for this bike takes the place of an earlier one at the same position. */
function isReplaced(limit: EnteredLimit, by: readonly EnteredLimit[]): boolean {
  return limit.scope === 'bike' && by.some(({ position }) => position === limit.position)
}

function stopsRaised(row: SheetCheck, judgement: Judgement): Shuts[] {
  const check = asCheck(row.check)
  const raised = check.raises
    .filter((raise) => askOf(check, judgement, raise).is === 'fires')
    .map((raise) => ('fault' in raise ? raise.fault : 'settles' in raise ? raise.settles.fault : null))
  const known = row.faults.map(({ fault }) => fault)
  return row.shuts.filter(({ fault }) => raised.includes(fault) && !known.includes(fault))
}

function withoutHow(row: SeenCheck): SeenCheck {
  return { ...row, check: { ...row.check, how: null } }
}
