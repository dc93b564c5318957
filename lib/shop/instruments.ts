import { z } from 'zod'
import type { Check, Instrument } from '../core/checks/catalogue'
import { combinedUncertainty, instrumentKinds, isOverdue } from '../core/checks/instruments'
import { daysBetween } from '../core/quantity/days'
import { comparable, type Unit, units } from '../core/quantity/units'
import type { Tx } from '../data/store'
import { readCatalogue } from './catalogue'
import { type Context, deed, requireFresh } from './deed'
import { dayOf, idOf, lineOf, lineOrNull, most, numberOrNull, versionOf } from './fields'
import { dayIn } from './instants'
import { refuse, refuseField } from './refusal'

/** A calibration that runs out within so many days is told. Common practice, no source. */
export const dueSoonDays = 30

function figureOf({ min, message }: { min: number; message: string }) {
  return numberOrNull({ min, max: 1e6, message }).transform((value, context) => {
    if (value !== null) return value
    context.addIssue({ code: 'custom', message })
    return z.NEVER
  })
}

const figures = {
  kind: z.string({ error: 'Choose the kind.' }).min(1, 'Choose the kind.').max(80),
  name: lineOf(most.name, 'Give it a name that tells it from others of its kind.'),
  // The finest step that any tool of a workshop shows is far above a millionth of its unit.
  resolution: figureOf({ min: 1e-6, message: 'Give the smallest step it shows, above nothing.' }),
  unit: z.enum(units, { error: 'Choose the unit.' }),
  standardUncertainty: figureOf({
    min: 0,
    message: 'Give its standard uncertainty; 0 where none is stated.',
  }),
  calibrationDue: lineOrNull(10).pipe(dayOf.nullable()),
}

export const addInstrumentInput = z.strictObject({ id: idOf, ...figures })
export const changeInstrumentInput = z.strictObject({ instrument: idOf, version: versionOf, ...figures })
export const withdrawInstrumentInput = z.strictObject({
  instrument: idOf,
  version: versionOf,
  reason: lineOrNull(most.reason),
})

type Figures = z.output<typeof changeInstrumentInput>

async function requireFits(
  tx: Tx,
  { kind, unit, name }: Pick<Figures, 'kind' | 'unit' | 'name'>,
  id: string,
) {
  const known = instrumentKinds((await readCatalogue(tx)).checks).find(({ key }) => key === kind)
  if (!known) return refuseField('kind', 'Choose one of the kinds listed.')
  if (!comparable(unit, known.unit))
    refuseField('unit', `Choose ${unitsFor(known).join(' or ')}: that is what it reads.`)
  const same = await tx.instrument.findFirst({ where: { name, withdrawnAt: null, NOT: { id } } })
  if (same) refuseField('name', 'Another tool in use has this name. Add what tells them apart.')
}

/** One more tool of the shop. Checks of its kind can be read with it from now on. */
export const addInstrument = deed(
  'instrument:change',
  addInstrumentInput,
  async (input, { tx, now, who }) => {
    const { id, ...rest } = input
    await requireFits(tx, input, id)
    await tx.instrument.create({ data: { id, ...rest, personId: who.personId, at: now } })
    return {
      answer: { instrument: id },
      event: { bikeId: null, body: { did: 'added', instrument: id, ...rest } },
    }
  },
)

/** New figures, say from a new certificate. Readings taken before keep the figures they were taken with. */
export const changeInstrument = deed('instrument:change', changeInstrumentInput, async (input, { tx }) => {
  const { instrument: id, version, ...rest } = input
  const before = await tx.instrument.findUnique({ where: { id } })
  if (!before) return refuse('not-found', 'That instrument is not there.')
  if (before.withdrawnAt) refuse('rule', 'This tool is out of use. Add it anew if it is used again.')
  await requireFits(tx, input, id)
  const { count } = await tx.instrument.updateMany({
    where: { id, version, withdrawnAt: null },
    data: { ...rest, version: { increment: 1 } },
  })
  requireFresh(count, {
    version: String(before.version),
    kind: before.kind,
    name: before.name,
    resolution: String(before.resolution),
    unit: before.unit,
    standardUncertainty: String(before.standardUncertainty),
    calibrationDue: before.calibrationDue ?? '',
  })
  return {
    answer: { instrument: id },
    event: { bikeId: null, body: { did: 'changed', instrument: id, ...rest } },
  }
})

/** Takes a tool out of use: it is offered no more, and what was read with it stays as it is. */
export const withdrawInstrument = deed(
  'instrument:change',
  withdrawInstrumentInput,
  async ({ instrument: id, version, reason }, { tx, now }) => {
    const before = await tx.instrument.findUnique({ where: { id } })
    if (!before) return refuse('not-found', 'That instrument is not there.')
    const { count } = await tx.instrument.updateMany({
      where: { id, version, withdrawnAt: null },
      data: { withdrawnAt: now, version: { increment: 1 } },
    })
    requireFresh(count, { version: String(before.version) })
    return { answer: {}, event: { bikeId: null, body: { did: 'taken out of use', instrument: id, reason } } }
  },
)

/** The units such a tool may read in, that of the kind first. */
export function unitsFor({ unit }: Pick<Instrument, 'unit'>): Unit[] {
  return [unit, ...units.filter((one) => one !== unit && comparable(one, unit))]
}

export type KindChoice = Pick<Instrument, 'key' | 'name' | 'resolution' | 'standardUncertainty'> & {
  /** That of its figures first. */
  units: readonly Unit[]
  /** Titles of the checks that name it. */
  usedIn: readonly string[]
}

export type CalibrationState = 'overdue' | 'due soon' | 'in date' | 'no date'

/** Something that was done to a tool. */
export type InstrumentDeed = { did: string; who: string; at: Date; says: string | null }

export type InstrumentListed = {
  id: string
  kind: string
  name: string
  resolution: number
  unit: Unit
  standardUncertainty: number
  /** Standard uncertainty of one reading with it, in its unit. */
  combined: number
  calibrationDue: string | null
  calibration: CalibrationState
  /** Days until it is due; negative once it is overdue, null without a date. */
  daysLeft: number | null
  version: number
  history: readonly InstrumentDeed[]
}

export type InstrumentsShown = {
  zone: string
  /** The day it is in the shop's zone. */
  today: string
  kinds: readonly KindChoice[]
  /** In use: overdue ones first, then those due soon, then by name. */
  inUse: readonly InstrumentListed[]
  /** Out of use, the latest first. */
  outOfUse: readonly InstrumentListed[]
}

const states: readonly CalibrationState[] = ['overdue', 'due soon', 'in date', 'no date']

/** The tools of the shop with how their calibration stands today and what was done to each of them. */
export async function readInstrumentList({ store, now }: Context): Promise<InstrumentsShown> {
  const { db } = store
  const [shop, catalogue, rows, events, people] = await Promise.all([
    db.shop.findFirstOrThrow({ select: { zone: true } }),
    readCatalogue(db),
    db.instrument.findMany({ orderBy: [{ name: 'asc' }, { id: 'asc' }] }),
    db.event.findMany({ where: { verb: 'instrument:change' }, orderBy: { seq: 'asc' } }),
    db.person.findMany({ select: { id: true, name: true } }),
  ])
  const today = dayIn(shop.zone, now)
  const names = new Map(people.map(({ id, name }) => [id, name]))
  const deeds = events.map(({ at, personId, body }) => {
    const { did, instrument, reason } = JSON.parse(body) as Record<string, string | null>
    const who = names.get(personId ?? '') ?? 'somebody'
    return { instrument, did: did ?? 'changed', who, at, says: reason ?? null }
  })
  const all = rows.map((row) => {
    const { id, kind, name, resolution, standardUncertainty, calibrationDue, version, withdrawnAt } = row
    const listed: InstrumentListed = {
      id,
      kind,
      name,
      resolution,
      unit: row.unit as Unit,
      standardUncertainty,
      combined: combinedUncertainty(row),
      calibrationDue,
      calibration: calibrationOn(calibrationDue, today),
      daysLeft: calibrationDue === null ? null : daysBetween(today, calibrationDue),
      version,
      history: deeds.flatMap(({ instrument, ...done }) => (instrument === id ? [done] : [])),
    }
    return { listed, withdrawnAt }
  })
  const inUse = all.filter(({ withdrawnAt }) => withdrawnAt === null).map(({ listed }) => listed)
  const urgency = ({ calibration }: InstrumentListed) => states.indexOf(calibration)
  return {
    zone: shop.zone,
    today,
    kinds: kindChoices(catalogue.checks),
    inUse: inUse.sort((a, b) => urgency(a) - urgency(b) || (a.daysLeft ?? 0) - (b.daysLeft ?? 0)),
    outOfUse: all
      .filter(({ withdrawnAt }) => withdrawnAt !== null)
      .sort((a, b) => b.withdrawnAt!.getTime() - a.withdrawnAt!.getTime())
      .map(({ listed }) => listed),
  }
}

function calibrationOn(calibrationDue: string | null, today: string): CalibrationState {
  if (calibrationDue === null) return 'no date'
  if (isOverdue({ calibrationDue }, today)) return 'overdue'
  return daysBetween(today, calibrationDue) <= dueSoonDays ? 'due soon' : 'in date'
}

function kindChoices(checks: readonly Check[]): KindChoice[] {
  return instrumentKinds(checks).map((kind) => ({
    key: kind.key,
    name: kind.name,
    resolution: kind.resolution,
    standardUncertainty: kind.standardUncertainty,
    units: unitsFor(kind),
    usedIn: checks
      .filter((check) => check.sort === 'measured' && check.instruments.some(({ key }) => key === kind.key))
      .map(({ title }) => title),
  }))
}
