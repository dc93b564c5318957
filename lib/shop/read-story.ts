import type { Prisma } from '../data/generated/client'
import type { Db } from '../data/store'
import { type BikeHead, bikeHead, headOf } from './bike-head'
import { mergeCatalogue, readPatches } from './catalogue'
import type { Context, Who } from './deed'
import { noSuchBike, viewingNumber } from './facts'
import {
  type Amount,
  type Body,
  type StoryKind,
  storyKinds,
  type Told,
  verbsTold,
  wordsOf,
} from './story-words'
import { mayDo } from './who-may'

/** Entries on one page of a story. */
export const storyPage = 100

export type StoryAsked = {
  /** Null for all. */
  kind: StoryKind | null
  order: 'newest' | 'oldest'
  /** The page begins behind this number of an event; null for the first page. */
  behind: number | null
}

export type StoryEntry = {
  /** The number of the event in the shop's history. */
  seq: number
  kind: StoryKind
  says: string
  at: string
  /** When a value was taken, where that was well before it was written down. */
  takenAt: string | null
  who: string
  /** Null where it was done at no enrolled device. */
  device: string | null
  /** Missing for who may see no money. */
  amounts?: readonly Amount[]
}

export type Story = BikeHead & {
  zone: string
  currency: string | null
  asked: StoryAsked
  /** The kinds that may be asked for. */
  kinds: readonly StoryKind[]
  entries: readonly StoryEntry[]
  /** Of the kind asked for, on all pages. */
  count: number
  /** Of every kind, and since when; null where nothing happened yet. */
  whole: { count: number; since: string | null }
  /** What the next page begins behind; null where there is none. */
  next: number | null
}

/** What an address asks for; whatever cannot be meant is passed over. */
export function storyAsked(typed: Readonly<Record<string, string | string[] | undefined>>): StoryAsked {
  const of = (key: string) => (typeof typed[key] === 'string' ? typed[key] : '')
  const behind = Number(of('behind'))
  return {
    kind: storyKinds.find((one) => one === of('kind')) ?? null,
    order: of('order') === 'oldest' ? 'oldest' : 'newest',
    behind: Number.isInteger(behind) && behind > 0 && behind < 2 ** 31 ? behind : null,
  }
}

/** A value that reached the server within this time was written down as it was taken. */
const soonMs = 10 * 60_000

/**
 * Everything that happened to a bike, in order, in words: for who may see no money without amounts, and without
 * what is about money throughout. Refused where there is no such bike.
 */
export async function readStory(
  { store, who }: Context & { who: Who },
  { viewingNo, asked }: { viewingNo: string; asked: StoryAsked },
): Promise<Story> {
  const { db } = store
  const wanted = viewingNumber(viewingNo)
  const bike = wanted && (await db.bike.findUnique({ where: { viewingNo: wanted }, select: bikeHead }))
  if (!bike) return noSuchBike()
  const money = mayDo(who.roles, 'money:see')
  const kinds = storyKinds.filter((kind) => money || kind !== 'money')
  const kind = kinds.find((one) => one === asked.kind) ?? null
  const where = (of: StoryKind | null) => ({ bikeId: bike.id, verb: { in: verbsTold({ kind: of, money }) } })
  const { order, behind } = asked
  const from = behind === null ? {} : { seq: order === 'newest' ? { lt: behind } : { gt: behind } }
  const [shop, rows, count, whole] = await Promise.all([
    db.shop.findFirstOrThrow({ select: { zone: true, currency: true } }),
    db.event.findMany({
      where: { ...where(kind), ...from },
      orderBy: { seq: order === 'newest' ? 'desc' : 'asc' },
      take: storyPage + 1,
    }),
    db.event.count({ where: where(kind) }),
    db.event.aggregate({ where: where(null), _count: true, _min: { at: true } }),
  ])
  const shown = rows.slice(0, storyPage)
  const entries = await entriesOf(db, { rows: shown, money })
  return {
    ...headOf(bike),
    zone: shop.zone,
    currency: money ? shop.currency : null,
    asked: { ...asked, kind },
    kinds,
    entries,
    count,
    whole: { count: whole._count, since: whole._min.at?.toISOString() ?? null },
    next: rows.length > storyPage ? (shown.at(-1)?.seq ?? null) : null,
  }
}

type EventRow = Prisma.EventGetPayload<object>

async function entriesOf(
  db: Db,
  { rows, money }: { rows: readonly EventRow[]; money: boolean },
): Promise<StoryEntry[]> {
  const bodies = rows.map((row) => ({ row, body: JSON.parse(row.body) as Body }))
  const named = (key: string) =>
    bodies.flatMap(({ body }) => (typeof body[key] === 'string' ? [body[key]] : []))
  const [patches, readings, photos, decisions, people, devices] = await Promise.all([
    readPatches(db),
    db.reading.findMany({ where: { id: { in: named('reading') } } }),
    db.photo.findMany({ where: { id: { in: named('photo') } }, select: { id: true, caption: true } }),
    db.decision.findMany({
      where: { id: { in: named('withdrew') } },
      select: { id: true, kind: true, key: true },
    }),
    db.person.findMany({ select: { id: true, name: true } }),
    db.device.findMany({ select: { id: true, name: true } }),
  ])
  const told: Told = {
    catalogue: mergeCatalogue(patches, { withOutOfUse: true }),
    readings: new Map(readings.map((row) => [row.id, row])),
    captions: new Map(photos.map(({ id, caption }) => [id, caption])),
    decisions: new Map(decisions.map((row) => [row.id, row])),
    money,
  }
  const names = new Map([...people, ...devices].map(({ id, name }) => [id, name]))
  return bodies.flatMap(({ row, body }) => {
    const words = wordsOf(row.verb)
    if (!words) return []
    const taken = told.readings.get(String(body.reading))?.takenAt
    const entry: StoryEntry = {
      seq: row.seq,
      kind: words.kind,
      says: words.says(body, told),
      at: row.at.toISOString(),
      takenAt: taken && row.at.getTime() - taken.getTime() > soonMs ? taken.toISOString() : null,
      who: names.get(row.personId ?? '') ?? 'somebody',
      device: names.get(row.deviceId ?? '') ?? null,
    }
    return [money ? { ...entry, amounts: words.amounts?.(body) ?? [] } : entry]
  })
}
