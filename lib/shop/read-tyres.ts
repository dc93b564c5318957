import { z } from 'zod'
import type { TyreAges } from '../core/checks/judge'
import { type TyreDate, type TyreWeek, tyreDate } from '../core/codes/tyre-date'
import { type TyrePoint, tyreFits } from '../core/codes/tyre-fits'
import { type TyreSize, tyreSize } from '../core/codes/tyre-size'
import { type Day, daysBetween } from '../core/quantity/days'
import { CalcProblem } from '../core/quantity/problem'
import type { Context } from './deed'
import { readFiguresNo } from './figures'
import { dayIn } from './instants'

const typed = (most: number) =>
  z
    .string()
    .catch('')
    .transform((text) => text.trim().slice(0, most))

/** What the page's address may hold: what somebody read off a side wall. Anything else counts as not typed. */
export const tyreAsked = z.object({ marking: typed(80), code: typed(20), sheet: typed(80) })
export type TyreAsked = z.output<typeof tyreAsked>

/** What came of one field: nothing was typed, it could be read, or why not and what to do. */
export type ReadOff<T> =
  | { kind: 'empty' }
  | { kind: 'read'; found: T }
  | { kind: 'unreadable'; says: string; hint: string }

/** A week with the tyre's age if it is that one. */
export type AgedWeek = TyreWeek & { ageYears: number }

export type DateRead = {
  date: TyreDate
  /** The weeks it may be, the earliest first: one, or for three digits one a decade. */
  weeks: readonly AgedWeek[]
  /** By the least age it can have. */
  standing: 'within' | 'over-sale-line' | 'over-guidance'
  /** What the halves would mean in the wrong order; null where three digits have no halves. */
  swapped: { code: string; week: AgedWeek | null } | null
}

export type TyreRead = {
  asked: TyreAsked
  size: ReadOff<TyreSize>
  date: ReadOff<DateRead>
  /** What the model's sheet asks for. */
  sheet: ReadOff<TyreSize>
  /** The tyre against the sheet, where both could be read. */
  points: readonly TyrePoint[]
  ages: TyreAges
  today: Day
}

/** Reads size and date code off a side wall, against the ages the shop works with. Nothing is kept. */
export async function readTyre({ store, now }: Context, asked: TyreAsked): Promise<TyreRead> {
  const shop = await store.db.shop.findFirstOrThrow({ select: { zone: true, figuresNo: true } })
  const { tyreAges: ages } = await readFiguresNo(store.db, shop.figuresNo)
  const today = dayIn(shop.zone, now)
  const size = readingOf(asked.marking, (marking) => tyreSize({ marking }))
  const sheet = readingOf(asked.sheet, (marking) => tyreSize({ marking }))
  return {
    asked,
    size,
    sheet,
    points:
      size.kind === 'read' && sheet.kind === 'read'
        ? tyreFits({ fitted: size.found, asked: sheet.found })
        : [],
    date: readingOf(asked.code, (code) => readDate(code, { today, ages })),
    ages,
    today,
  }
}

function readingOf<T>(text: string, read: (text: string) => T): ReadOff<T> {
  if (text === '') return { kind: 'empty' }
  try {
    return { kind: 'read', found: read(text) }
  } catch (error) {
    if (error instanceof CalcProblem) return { kind: 'unreadable', says: error.message, hint: error.hint }
    throw error
  }
}

function readDate(code: string, { today, ages }: { today: Day; ages: TyreAges }): DateRead {
  const date = tyreDate({ code, asOf: today })
  const weeks = weeksOf(date, today)
  const least = Math.min(...weeks.map(({ ageYears }) => ageYears))
  return {
    date,
    weeks,
    standing: least > ages.guidance ? 'over-guidance' : least > ages.saleLine ? 'over-sale-line' : 'within',
    swapped: code.length === 4 ? swappedOf(code, today) : null,
  }
}

function swappedOf(code: string, today: Day): NonNullable<DateRead['swapped']> {
  const other = `${code.slice(2)}${code.slice(0, 2)}`
  const read = readingOf(other, (text) => tyreDate({ code: text, asOf: today }))
  return { code: other, week: read.kind === 'read' ? (weeksOf(read.found, today)[0] ?? null) : null }
}

function weeksOf(date: TyreDate, today: Day): AgedWeek[] {
  const weeks = date.certain ? [date] : date.candidates
  return weeks.map(({ week, year, from, to }) => ({ week, year, from, to, ageYears: yearsOld(from, today) }))
}

/** In tenths of a year of 365.25 days, as the calculation tells it. */
function yearsOld(from: Day, today: Day): number {
  return Math.round((daysBetween(from, today) / 365.25) * 10) / 10
}
