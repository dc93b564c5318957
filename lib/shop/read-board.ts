import { z } from 'zod'
import { rank, rankings } from '../core/board/row'
import { daysBetween } from '../core/quantity/days'
import type { Store } from '../data/store'
import { type RowShown, readBoardRows } from './derived'
import { searchKey } from './fields'
import { ownedStages, stages } from './stage-names'

/** How many rows a page of the board holds. */
export const rowsAPage = 50

const openStages: readonly string[] = stages.filter((stage) => stage !== 'sold' && stage !== 'passed up')

/** What the board's address may ask for; anything else falls back to the plain board. */
export const boardAsked = z.object({
  by: z.enum(rankings).catch('margin'),
  /** One stage, `open` for every bike not sold or passed up, or `all`. */
  stage: z.enum(['open', 'all', ...stages]).catch('open'),
  search: z.string().trim().max(80).catch(''),
  page: z.coerce.number().int().min(1).max(100_000).catch(1),
})
export type BoardAsked = z.output<typeof boardAsked>

/** A bike as people call it. */
export type BikeName = { make: string; model: string; year: number | null; registration: string | null }

export type BoardLine = RowShown & BikeName & { place: number }

export type Board = {
  asked: BoardAsked
  lines: BoardLine[]
  /** Bikes that fit the search, on all pages. */
  fitting: number
  total: number
  pages: number
  currency: string
  /** Both ends of all margins that fit, so that the spreads of all pages share one scale. */
  domain: readonly [number, number]
  best: BoardLine | null
  /** Bikes, on all pages, whose figures are being worked out: the page asks again until there are none. */
  comingCount: number
}

/** All bikes ranked; sorted and cut here, so that one page of rows goes to the browser. */
export async function readBoard(store: Store, now: Date, asked: BoardAsked): Promise<Board> {
  const { rows, shop } = await readBoardRows(store, now)
  const names = await readNames(store)
  const ranked = rank(
    rows.filter((row) => isInStage(row.stage, asked.stage)),
    asked.by,
  ).map((row, index) => ({ ...row, ...nameOf(names, row.id), place: index + 1 }))
  const fitting = ranked.filter((line) => isFound(line, asked.search))
  const from = (asked.page - 1) * rowsAPage
  return {
    asked,
    lines: fitting.slice(from, from + rowsAPage),
    fitting: fitting.length,
    total: rows.length,
    pages: Math.max(1, Math.ceil(fitting.length / rowsAPage)),
    currency: shop.currency,
    domain: domainOf(fitting),
    best: ranked.find((line) => line.marginMean !== null) ?? null,
    comingCount: comingIn(fitting),
  }
}

export type QueueLine = BoardLine & {
  boughtOn: string | null
  paidMinor: number | null
  daysOwned: number | null
}

const toPutRight: readonly string[] = ownedStages.filter((stage) => stage !== 'ready' && stage !== 'reserved')

export type Queue = {
  lines: QueueLine[]
  hours: number
  currency: string
  zone: string
  comingCount: number
}

/** The bikes the shop owns and has still to put right, by what is gained from going on for each bench hour. */
export async function readQueue(store: Store, now: Date): Promise<Queue> {
  const { rows, shop } = await readBoardRows(store, now)
  const names = await readNames(store)
  const purchases = await store.db.purchase.findMany()
  const waiting = rows.filter(({ stage }) => toPutRight.includes(stage))
  // What it brings as it stands was noted of some only: the others come after, by their margin.
  const isKnown = ({ gainPerBenchHour }: (typeof waiting)[number]) => gainPerBenchHour !== null
  const inOrder = [
    ...rank(waiting.filter(isKnown), 'gain-per-bench-hour'),
    ...rank(
      waiting.filter((row) => !isKnown(row)),
      'margin-per-bench-hour',
    ),
  ]
  const lines = inOrder.map((row, index) => {
    const purchase = purchases.find((one) => one.bikeId === row.id)
    return {
      ...row,
      ...nameOf(names, row.id),
      place: index + 1,
      boughtOn: purchase?.day ?? null,
      paidMinor: purchase?.priceMinor ?? null,
      daysOwned: purchase ? daysBetween(purchase.day, shop.today) : null,
    }
  })
  const hours = lines.reduce((sum, line) => sum + (line.hoursMean ?? 0), 0)
  return { lines, hours, currency: shop.currency, zone: shop.zone, comingCount: comingIn(lines) }
}

function comingIn(lines: readonly RowShown[]): number {
  return lines.filter(({ state }) => state === 'again' || state === 'first').length
}

type Names = ReadonlyMap<string, BikeName>

async function readNames({ db }: Store): Promise<Names> {
  const bikes = await db.bike.findMany({
    select: { id: true, make: true, model: true, year: true, registration: true },
  })
  return new Map(bikes.map(({ id, ...name }) => [id, name]))
}

function nameOf(names: Names, id: string): BikeName {
  return names.get(id) ?? { make: '', model: '', year: null, registration: null }
}

function isInStage(stage: string, asked: BoardAsked['stage']): boolean {
  if (asked === 'all') return true
  return asked === 'open' ? openStages.includes(stage) : stage === asked
}

/** By either number, or by a part of plate, make or model however it is spaced and cased. */
function isFound(line: BoardLine, search: string): boolean {
  const key = searchKey(search)
  if (key === '') return true
  if (String(line.viewingNo) === key || String(line.stockNo) === key) return true
  return [line.registration ?? '', `${line.make} ${line.model}`].some((text) => searchKey(text).includes(key))
}

function domainOf(lines: readonly BoardLine[]): readonly [number, number] {
  const ends = lines.flatMap(({ marginLow, marginHigh }) => [marginLow ?? 0, marginHigh ?? 0])
  const low = Math.min(0, ...ends)
  const high = Math.max(0, ...ends)
  const room = (high - low || 1) * 0.04
  return [low - room, high + room]
}
