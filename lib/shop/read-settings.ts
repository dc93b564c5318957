import type { Figures } from '../core/board/figures.input'
import { restingOnStartingValues } from '../core/board/starting-figures'
import type { Check, MeasuredCheck } from '../core/checks/catalogue'
import type { Unit } from '../core/quantity/units'
import type { Db } from '../data/store'
import { readCatalogue } from './catalogue'
import { readFigures, typedFigures } from './figures'
import type { Role } from './who-may'

export type SettingsShown = {
  shop: {
    name: string
    currency: string
    lengthUnit: string
    zone: string
    country: string
    certificateWanted: boolean
    version: number
  }
  figures: Figures
  /** The figures as text, by the name of their field. */
  typed: Record<string, string>
  /** Keys of figures that nobody here has looked at yet. */
  resting: readonly string[]
  last: { no: number; at: Date; by: string | null; reason: string }
}

/** The shop and its figures as a manager changes them. */
export async function readSettings(db: Db): Promise<SettingsShown> {
  const shop = await db.shop.findFirstOrThrow()
  const figures = await readFigures(db)
  const snapshot = await db.figures.findUniqueOrThrow({ where: { no: shop.figuresNo } })
  const by = snapshot.personId
    ? await db.person.findUnique({ where: { id: snapshot.personId }, select: { name: true } })
    : null
  const { name, currency, lengthUnit, zone, country, certificateWanted, version } = shop
  return {
    shop: { name, currency, lengthUnit, zone, country, certificateWanted, version },
    figures,
    typed: typedFigures(figures),
    resting: restingOnStartingValues(figures),
    last: { no: snapshot.no, at: snapshot.at, by: by?.name ?? null, reason: snapshot.reason },
  }
}

export type PersonShown = {
  id: string
  name: string
  roles: readonly Role[]
  leftAt: Date | null
  /** Signed in somewhere now. */
  signedIn: boolean
  version: number
}

export type DeviceShown = {
  id: string
  name: string
  enrolledAt: Date
  revokedAt: Date | null
  /** When somebody last signed in on it. */
  lastUsedAt: Date | null
  /** Whose own it is; null for one of the bench. */
  owner: { name: string; leftAt: Date | null } | null
  /** When it last brought or asked for something of its own accord. */
  lastSyncAt: Date | null
  /** How many records it still kept then. */
  waiting: number
  /** How far its clock was ahead then, where that is worth saying. */
  clockAheadMs: number | null
  version: number
}

/** A clock that is further off than this is worth saying: two minutes. */
const clockOffMs = 2 * 60_000

/** Everybody who works or worked here, and the devices they work on. */
export async function readPeople(
  db: Db,
  now: Date,
): Promise<{ people: PersonShown[]; devices: DeviceShown[]; zone: string }> {
  const [shop, people, devices] = await Promise.all([
    db.shop.findFirstOrThrow({ select: { zone: true } }),
    db.person.findMany({
      orderBy: { name: 'asc' },
      include: { roles: true, sessions: { where: { endedAt: null, expiresAt: { gt: now } }, take: 1 } },
    }),
    db.device.findMany({
      orderBy: { enrolledAt: 'asc' },
      include: { sessions: { orderBy: { startedAt: 'desc' }, take: 1 } },
    }),
  ])
  return {
    zone: shop.zone,
    people: people.map(({ id, name, leftAt, version, roles, sessions }) => ({
      id,
      name,
      leftAt,
      version,
      roles: roles.map(({ role }) => role as Role),
      signedIn: leftAt === null && sessions.length > 0,
    })),
    devices: devices.map(({ sessions, ownerId, waiting, clockAheadMs, ...device }) => ({
      id: device.id,
      name: device.name,
      enrolledAt: device.enrolledAt,
      revokedAt: device.revokedAt,
      lastSyncAt: device.lastSyncAt,
      version: device.version,
      lastUsedAt: sessions[0]?.seenAt ?? null,
      owner: ownerId === null ? null : ownerIn(people, ownerId),
      waiting: waiting ?? 0,
      clockAheadMs: clockAheadMs !== null && Math.abs(clockAheadMs) > clockOffMs ? clockAheadMs : null,
    })),
  }
}

function ownerIn(people: readonly { id: string; name: string; leftAt: Date | null }[], id: string) {
  const owner = people.find((person) => person.id === id)
  return { name: owner?.name ?? 'somebody who is gone', leftAt: owner?.leftAt ?? null }
}

export type LimitListed = {
  id: string
  check: string
  title: string
  /** Null for every bike of the shop. */
  model: { make: string; model: string; yearFrom: number | null; yearTo: number | null } | null
  position: string | null
  min: number | null
  max: number | null
  asNew: number | null
  saleMin: number | null
  saleMax: number | null
  unit: Unit
  source: string
  note: string
  version: number
}

export type CheckChoice = Pick<MeasuredCheck, 'key' | 'title' | 'unit' | 'units' | 'positions' | 'limit'>

/** The limits entered for models and for the shop, and the checks that can have one. */
export async function readLimits(db: Db): Promise<{ limits: LimitListed[]; checks: CheckChoice[] }> {
  const [catalogue, rows, bikes] = await Promise.all([
    readCatalogue(db),
    db.limit.findMany({ where: { scope: { not: 'bike' }, withdrawnAt: null }, orderBy: { at: 'asc' } }),
    db.bike.findMany({
      distinct: ['makeKey', 'modelKey'],
      select: { make: true, model: true, makeKey: true, modelKey: true },
    }),
  ])
  const byKey = new Map(catalogue.checks.map((check) => [check.key, check]))
  // Only the keys that are compared are stored with a limit; a bike of the model lends its name as written.
  const written = new Map(bikes.map((bike) => [`${bike.makeKey} ${bike.modelKey}`, bike]))
  const limits = rows.map((row) => {
    const check = byKey.get(row.check)
    const bike = written.get(`${row.makeKey} ${row.modelKey}`)
    return {
      id: row.id,
      check: row.check,
      title: check?.title ?? row.check,
      model:
        row.scope === 'model'
          ? {
              make: bike?.make ?? row.makeKey ?? '',
              model: bike?.model ?? row.modelKey ?? '',
              yearFrom: row.yearFrom,
              yearTo: row.yearTo,
            }
          : null,
      position: positionLabel(check, row.position),
      min: row.min,
      max: row.max,
      asNew: row.asNew,
      saleMin: row.saleMin,
      saleMax: row.saleMax,
      unit: row.unit as Unit,
      source: row.source,
      note: row.sourceNote,
      version: row.version,
    }
  })
  const checks = catalogue.checks.filter((check) => check.sort === 'measured')
  return {
    limits,
    checks: checks.map(({ key, title, unit, units, positions, limit }) => ({
      key,
      title,
      unit,
      units,
      positions,
      limit,
    })),
  }
}

function positionLabel(check: Check | undefined, position: string | null): string | null {
  if (position === null || check?.sort !== 'measured') return position
  return check.positions.find((one) => one.key === position)?.label ?? position
}
