import { z } from 'zod'
import { fitsKind } from '../core/checks/bike-kind'
import { type Check, conditions } from '../core/checks/catalogue'
import { parseTyped, readingKinds } from '../core/checks/reading'
import { type Unit, units } from '../core/quantity/units'
import type { Prisma } from '../data/generated/client'
import { readingHash } from '../data/hash'
import type { Tx } from '../data/store'
import { bikeKindInput } from './bike-fields'
import { readCatalogue } from './catalogue'
import { deed, type Inside, type Who } from './deed'
import { takenByDevice } from './device-clock'
import { idOf, lineOf, lineOrNull, most } from './fields'
import { instrumentTaken } from './instrument-taken'
import { refuse, refuseField } from './refusal'
import { mayDo } from './who-may'

export const readingInput = z.strictObject({
  id: idOf,
  bike: idOf,
  check: z.string().min(1).max(80),
  position: z.string().min(1).max(40).nullable().default(null),
  kind: z.enum(readingKinds),
  value: lineOf(most.line, 'Enter a value first.'),
  unit: z.enum(units).nullable().default(null),
  conditions: z.array(z.enum(conditions)).max(conditions.length).default([]),
  /** Id of a tool of the shop, or the key of one of the check's kinds of instrument. */
  instrument: z.string().min(1).max(40).nullable().default(null),
  /** Revolutions a minute, where the check counts only with it. */
  engineSpeed: z
    .int('Give the engine speed as a whole number of revolutions a minute.')
    .min(100, 'Give the engine speed in revolutions a minute, like 5000.')
    .max(20_000, 'Give the engine speed in revolutions a minute, like 5000.')
    .nullable()
    .default(null),
  note: lineOrNull(most.reason),
  takenAt: z.iso.datetime({ offset: true }),
  supersedes: idOf.nullable().default(null),
})

type ReadingTyped = z.output<typeof readingInput>
type ReadingRow = Prisma.ReadingGetPayload<object>

/**
 * Adds one reading. A lock never stops it: what was seen is kept, whatever the state of the bike. What cannot
 * be a reading of that check at all (another check's answer, a slip of the finger) is refused at its field.
 */
export const recordReading = deed('reading:add', readingInput, async (input, inside) => {
  const { tx, now, who, deviceId } = inside
  const bike = await tx.bike.findUnique({ where: { id: input.bike } })
  if (!bike) return refuse('not-found', 'That bike is not there.')
  if (await tx.reading.findUnique({ where: { id: input.id } })) {
    return refuse('rule', 'This reading is already kept.')
  }
  const catalogue = await readCatalogue(tx)
  const check = catalogue.checks.find((one) => one.key === input.check)
  if (!check) return refuse('rule', 'This check is not in the catalogue (any more).')
  if (!fitsKind(bikeKindInput.parse(JSON.parse(bike.kind)), check.appliesTo)) {
    return refuse('rule', 'This check does not apply to this kind of bike.')
  }
  requireShape(check, input)
  await requireSupersedable(tx, input, who)

  const { _max } = await tx.reading.aggregate({ _max: { seq: true } })
  const row = {
    id: input.id,
    seq: (_max.seq ?? 0) + 1,
    bikeId: input.bike,
    check: input.check,
    position: input.position,
    kind: input.kind,
    value: input.value,
    unit: input.unit,
    conditions: input.conditions.length ? JSON.stringify(input.conditions) : null,
    instrument: await instrumentSnapshot(tx, check, input.instrument),
    engineSpeed: input.engineSpeed,
    note: input.note,
    personId: who.personId,
    deviceId,
    receivedAt: now,
    supersedes: input.supersedes,
    ...(await takenInOrder(input, inside)),
  }
  await tx.reading.create({ data: { ...row, hash: readingHash(row) } })
  return {
    answer: { reading: row.id, seq: row.seq },
    event: {
      bikeId: input.bike,
      body: { reading: row.id, check: row.check, position: row.position, value: row.value },
    },
  }
})

/**
 * When it was taken, by our clock. A device brings its readings in the order in which they were taken, so one that
 * it says is no younger than the last it brought of this check was taken under another setting of its clock: it is
 * put a millisecond behind that last one, so that no clock turns their order round.
 */
async function takenInOrder(
  { bike: bikeId, check, takenAt: typed }: ReadingTyped,
  { tx, now, deviceId, clockAheadMs }: Inside,
): Promise<{ takenAt: Date; clockAheadMs: number | null }> {
  const taken = takenByDevice(typed, { now, clockAheadMs })
  if (clockAheadMs === null || deviceId === null) return taken
  const last = await tx.reading.findFirst({
    where: { bikeId, check, deviceId },
    orderBy: { seq: 'desc' },
    select: { takenAt: true },
  })
  if (!last || last.takenAt < taken.takenAt) return taken
  return { ...taken, takenAt: new Date(last.takenAt.getTime() + 1) }
}

function requireShape(check: Check, input: ReadingTyped): void {
  if (input.kind === 'withdrawn') {
    if (input.supersedes === null) refuse('rule', 'Say which reading is taken back.')
    return
  }
  if (input.kind === 'skipped') return
  const expected = { measured: 'measured', look: 'answer', code: 'code', number: 'number' } as const
  if (input.kind !== expected[check.sort]) refuse('rule', `"${check.title}" is not recorded this way.`)

  if (check.sort === 'measured' && input.unit !== null && !check.units.includes(input.unit)) {
    refuseField('unit', `Choose ${check.units.join(' or ')}.`)
  }
  const typed = parseTyped({ check, value: input.value, unit: input.unit })
  if (!typed.ok) refuseField('value', typed.problem)
  requirePosition(check, input.position)
}

function requirePosition(check: Check, position: string | null): void {
  const known = check.sort === 'measured' ? check.positions.map(({ key }) => key) : []
  if (known.length === 0) {
    if (position !== null) refuseField('position', 'This check has no positions.')
  } else if (!known.includes(position ?? '')) {
    refuseField('position', 'Choose where it was measured.')
  }
}

async function requireSupersedable(tx: Tx, input: ReadingTyped, who: Who): Promise<void> {
  if (input.supersedes === null) return
  const earlier = await tx.reading.findUnique({ where: { id: input.supersedes } })
  if (!earlier || earlier.bikeId !== input.bike || earlier.check !== input.check) {
    refuse('rule', 'The reading to correct is not one of this check.')
  }
  if (await tx.reading.findFirst({ where: { supersedes: input.supersedes } })) {
    refuse('stale', 'Somebody else corrected this reading already. Look at it again.')
  }
  if (input.kind === 'withdrawn') await requireMayTakeBack(tx, earlier, who)
}

/**
 * A reading is taken back by whoever took it, or by a manager, who may open locks too. Who measured the same place
 * again on a later day takes back what was read there before: it is another state of the part.
 */
async function requireMayTakeBack(tx: Tx, earlier: ReadingRow, who: Who): Promise<void> {
  const { bikeId, check, position, kind, personId } = earlier
  if (personId === who.personId || mayDo(who.roles, 'lock:clear')) return
  const place = { bikeId, check, position, kind: 'measured' }
  const own =
    kind === 'measured' ? await tx.reading.findMany({ where: { ...place, personId: who.personId } }) : []
  const day = ({ takenAt }: Pick<ReadingRow, 'takenAt'>) => takenAt.toISOString().slice(0, 10)
  if (!own.some((reading) => day(reading) > day(earlier)))
    refuse(
      'not-allowed',
      'Only who took this reading, or a manager, takes it back. Correct it, or ask a manager.',
    )
}

/** The instrument as it was when the reading was taken, since its figures may change later. */
async function instrumentSnapshot(tx: Tx, check: Check, key: string | null): Promise<string | null> {
  if (key === null || check.sort !== 'measured') return null
  const isKind = check.instruments.some((kind) => kind.key === key)
  const own = isKind ? null : await tx.instrument.findUnique({ where: { id: key } })
  const taken = instrumentTaken(check, { key, own: own && { ...own, unit: own.unit as Unit } })
  if (!taken) return refuseField('instrument', 'Choose one of the instruments listed.')
  return JSON.stringify(taken)
}
