import { type BikeKind, fitsKind, usualKind } from '../core/checks/bike-kind'
import type { Country, MeasuredCheck, Round } from '../core/checks/catalogue'
import type { Unit } from '../core/quantity/units'
import { sha256 } from '../data/hash'
import type { Db, Tx } from '../data/store'
import { bikeKindInput } from './bike-fields'
import { readCatalogue } from './catalogue'
import type { Context, Who } from './deed'
import type { LimitRow } from './facts'
import { searchKey } from './fields'
import { type LimitGone, limitsGone } from './limit-history'
import { figuresWords, type LimitShown, limitsShown, yearsWords } from './limit-words'
import { refuse } from './refusal'
import { isForModel, limitsFor } from './to-work-out'
import { mayDo } from './who-may'

/*
 * The limits of one model on one sheet: every measured check that its bikes have, with what holds for any bike of
 * it. What is stamped on one bike's part is left out, and there is no money in it.
 */

export type ModelAsked = {
  make?: string | undefined
  model?: string | undefined
  year?: string | number | null | undefined
}

/** An entry of the model itself, as it stands on the sheet. */
export type ModelEntry = {
  id: string
  position: string | null
  /** "1996 to 1999"; empty where it holds for all years. */
  years: string
  figures: string
}

export type ModelSheetCheck = {
  key: string
  title: string
  round: Round
  unit: Unit
  units: readonly Unit[]
  positions: MeasuredCheck['positions']
  /** What holds, for each group of positions that share a limit. */
  limits: readonly LimitShown[]
  /** Positions without any limit, null for all of them; nothing is missing where the list is empty. */
  missing: readonly (string | null)[]
  /** Positions where nothing was entered for this model, null for all of them. */
  unentered: readonly (string | null)[]
  entries: readonly ModelEntry[]
  /** Where several entries of the model hold at one place in this year: their years and figures. */
  overlap: readonly ModelEntry[]
}

export type ModelSheet = {
  make: string
  model: string
  year: number | null
  /** Years of this model that bikes here have or limits begin or end in, to choose from. */
  years: readonly number[]
  /** Whether a bike of it has been here: then its kind decides which checks are on the sheet. */
  known: boolean
  checks: readonly ModelSheetCheck[]
  /** How many of the checks have a limit at every position. */
  withLimit: number
  /** How many of those rest on a general figure alone. */
  onGeneral: number
  /** Limits of this model that do not hold in this year. */
  otherYears: readonly { title: string; entry: ModelEntry }[]
  gone: readonly LimitGone[]
  zone: string
  /** Tells whether an entry of this model changed since: sent along with what is saved. */
  seen: string
  mayChange: boolean
}

/** The model by its names as anybody writes them; refused where one is left out. */
export async function readModelSheet(
  { store, who }: Context & { who: Who },
  asked: ModelAsked,
): Promise<ModelSheet> {
  const { db } = store
  const facts = await readModel(db, asked)
  const { make, model, year, years, kinds, checks, rows } = facts
  const shown = checks.map((check) => sheetCheck(check, facts))
  const complete = shown.filter(({ missing }) => missing.length === 0)
  const titles = new Map(facts.catalogue.checks.map(({ key, title }) => [key, title]))
  return {
    make,
    model,
    year,
    years,
    known: kinds.length > 0,
    checks: shown,
    withLimit: complete.length,
    onGeneral: complete.filter(isGeneral).length,
    otherYears: rows
      .filter((row) => row.scope === 'model' && !isForModel(row, facts))
      .map((row) => ({ title: titles.get(row.check) ?? row.check, entry: entryOf(row) })),
    gone: await limitsGone(db, { makeKey: facts.makeKey, modelKey: facts.modelKey }),
    zone: facts.zone,
    seen: stateOf(rows),
    mayChange: mayDo(who.roles, 'limit:set'),
  }
}

export type ModelFacts = Awaited<ReturnType<typeof readModel>>

/** What the sheet of a model rests on, for those who read it and those who change it. */
export async function readModel(
  db: Db | Tx,
  { make: askedMake, model: askedModel, year: askedYear }: ModelAsked,
) {
  const makeKey = searchKey(askedMake ?? '')
  const modelKey = searchKey(askedModel ?? '')
  if (makeKey === '' || modelKey === '') return refuse('not-found', 'Name the make and the model.')
  const shop = await db.shop.findFirstOrThrow({ select: { country: true, zone: true } })
  const catalogue = await readCatalogue(db)
  const bikes = await db.bike.findMany({
    where: { makeKey, modelKey },
    select: { make: true, model: true, year: true, kind: true },
    orderBy: { viewingNo: 'desc' },
  })
  const rows = await db.limit.findMany({
    where: { withdrawnAt: null, OR: [{ scope: 'shop' }, { scope: 'model', makeKey, modelKey }] },
    orderBy: { at: 'asc' },
  })
  const ofModel = rows.filter(({ scope }) => scope === 'model')
  const years = [
    ...bikes.map(({ year }) => year),
    ...ofModel.flatMap(({ yearFrom, yearTo }) => [yearFrom, yearTo]),
  ].filter((year) => year !== null)
  const kinds = bikes.map(({ kind }) => bikeKindInput.parse(JSON.parse(kind)))
  const kind = kinds[0] ?? usualBike
  const year = yearAsked(askedYear) ?? years[0] ?? null
  return {
    make: bikes[0]?.make ?? askedMake?.trim() ?? '',
    model: bikes[0]?.model ?? askedModel?.trim() ?? '',
    makeKey,
    modelKey,
    year,
    years: [...new Set(years)].sort((a, b) => a - b),
    kinds,
    catalogue,
    zone: shop.zone,
    rows,
    checks: catalogue.checks
      .filter((check) => check.sort === 'measured')
      .filter(({ appliesTo }) => kinds.length === 0 || kinds.some((one) => fitsKind(one, appliesTo))),
    entered: limitsFor(
      { makeKey, modelKey, year },
      { shop: { limits: rows, catalogue, country: shop.country as Country }, ownLimits: [], kind },
    ),
  }
}

/** Stands in where no bike of the model has been here: only the law asks for it, and it goes by class. */
const usualBike: BikeKind = {
  finalDrive: 'chain',
  cooling: 'liquid',
  fuelling: 'injection',
  frontBrake: 'twin-disc',
  rearBrake: 'disc',
  abs: 'no',
  wheels: 'cast',
  strokes: 'four',
  centreStand: 'no',
  ...usualKind,
}

function yearAsked(typed: ModelAsked['year']): number | null {
  const year = Number(typed)
  return typed && Number.isInteger(year) && year >= 1885 && year <= 2100 ? year : null
}

/** Changes whenever an entry of the model does; entries for the whole shop are left out. */
export function stateOf(rows: readonly LimitRow[]): string {
  const ofModel = rows.filter(({ scope }) => scope === 'model')
  return sha256(JSON.stringify(ofModel.map(({ id, version }) => `${id} ${version}`).sort()))
}

function sheetCheck(check: MeasuredCheck, facts: ModelFacts): ModelSheetCheck {
  const { key, title, round, unit, units, positions } = check
  const limits = limitsShown(check, facts.entered)
  const rows = facts.rows.filter(
    (row) => row.scope === 'model' && row.check === key && isForModel(row, facts),
  )
  const places = positions.length > 0 ? positions.map((position) => position.key) : [null]
  const labelled = (place: string | null) => positions.find((one) => one.key === place)?.label ?? ''
  const without = places.filter((place) => {
    const group = limits.find(({ at }) => at.length === 0 || at.includes(labelled(place)))
    return !group?.limit?.min && !group?.limit?.max
  })
  const unentered = places.filter(
    (place) => !rows.some(({ position }) => position === null || position === place),
  )
  const whole = (some: readonly (string | null)[]) => (some.length === places.length ? [null] : some)
  return {
    key,
    title,
    round,
    unit,
    units,
    positions,
    limits,
    missing: without.length === 0 ? [] : whole(without),
    unentered: unentered.length === 0 ? [] : whole(unentered),
    entries: rows.map(entryOf),
    overlap: rows
      .filter((row) => rows.some((other) => other.id !== row.id && other.position === row.position))
      .map(entryOf),
  }
}

function isGeneral({ limits }: ModelSheetCheck): boolean {
  return limits.every(({ limit }) =>
    [limit?.min, limit?.max].every((bound) => !bound || bound.scope === 'general'),
  )
}

export function entryOf(row: LimitRow): ModelEntry {
  return { id: row.id, position: row.position, years: yearsWords(row), figures: figuresWords(row) }
}

export type ModelListed = {
  make: string
  model: string
  /** Of the latest bike of it, or the first year a limit of it names. */
  year: number | null
  bikes: number
  /** Entries of the model itself. */
  entries: number
}

/** The models that bikes here are of or that limits were entered for, by name. */
export async function readModels(db: Db): Promise<ModelListed[]> {
  const [bikes, rows] = await Promise.all([
    db.bike.findMany({
      select: { make: true, model: true, makeKey: true, modelKey: true, year: true },
      orderBy: { viewingNo: 'desc' },
    }),
    db.limit.findMany({ where: { scope: 'model', withdrawnAt: null }, orderBy: { at: 'asc' } }),
  ])
  const models = new Map<string, ModelListed>()
  const at = (makeKey: string, modelKey: string, make: string, model: string, year: number | null) => {
    const key = `${makeKey} ${modelKey}`
    const known = models.get(key) ?? { make, model, year, bikes: 0, entries: 0 }
    models.set(key, known)
    known.year ??= year
    return known
  }
  for (const { makeKey, modelKey, make, model, year } of bikes) {
    if (makeKey && modelKey) at(makeKey, modelKey, make, model, year).bikes += 1
  }
  for (const { makeKey, modelKey, yearFrom, yearTo } of rows) {
    const [make, model] = [makeKey ?? '', modelKey ?? '']
    at(make, model, make, model, yearFrom ?? yearTo).entries += 1
  }
  return [...models.values()].sort((a, b) =>
    `${a.make} ${a.model}`.localeCompare(`${b.make} ${b.model}`, 'en'),
  )
}
