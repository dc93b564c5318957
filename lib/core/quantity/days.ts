import { CalcProblem } from './problem'

/**
 * A day of the Gregorian calendar as `YYYY-MM-DD`, years 0001 to 9999, without hour or zone.
 * As text such days sort in the order of time.
 */
export type Day = string

/** 0 is Sunday, 6 is Saturday. */
export type Weekday = 0 | 1 | 2 | 3 | 4 | 5 | 6

const monthLengths = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const

/** Whether the text is a day that exists: 2023-02-29 is not. */
export function isDay(text: string): boolean {
  const found = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text)
  if (!found) return false
  const [year, month, date] = found.slice(1).map(Number) as [number, number, number]
  return year >= 1 && month >= 1 && month <= 12 && date >= 1 && date <= monthLength(year, month)
}

/** The day of a year, a month (1–12) and a date (1–31). @throws CalcProblem where there is no such day. */
export function dayOf(year: number, month: number, date: number): Day {
  const day = `${pad(year, 4)}-${pad(month, 2)}-${pad(date, 2)}`
  if (!isDay(day)) throw noSuchDay(day)
  return day
}

/** @throws CalcProblem where the text is no day. */
export function yearOf(day: Day): number {
  return partsOf(day).year
}

/** Whole days from `from` to `to`, negative where `to` is earlier. @throws CalcProblem where one is no day. */
export function daysBetween(from: Day, to: Day): number {
  return serial(to) - serial(from)
}

/** The day `count` whole days later, or earlier where negative. @throws CalcProblem outside years 1 to 9999. */
export function addDays(day: Day, count: number): Day {
  return fromSerial(serial(day) + count)
}

/** 0 for a Sunday to 6 for a Saturday. @throws CalcProblem where the text is no day. */
export function weekday(day: Day): Weekday {
  // 1970-01-01, serial 0, was a Thursday (4); the second addition keeps days before it from going negative.
  return ((((serial(day) + 4) % 7) + 7) % 7) as Weekday
}

/** Whether `day` is later than `other`; both are days. */
export function isAfter(day: Day, other: Day): boolean {
  return day > other
}

function monthLength(year: number, month: number): number {
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0)
  return month === 2 && leap ? 29 : monthLengths[month - 1]!
}

function partsOf(day: Day): { year: number; month: number; date: number } {
  if (!isDay(day)) throw noSuchDay(day)
  const [year, month, date] = day.split('-').map(Number) as [number, number, number]
  return { year, month, date }
}

/**
 * Days since 1970-01-01. The year is taken to begin in March, so that the leap day is its last, and the
 * months from March have the lengths 31 30 31 30 31 | 31 30 31 30 31 | 31 28, which (153m + 2) / 5 adds up.
 */
function serial(day: Day): number {
  const { year, month, date } = partsOf(day)
  const y = month > 2 ? year : year - 1
  const m = (month + 9) % 12
  const beforeYear = 365 * y + Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400)
  return beforeYear + Math.floor((153 * m + 2) / 5) + date - 1 - epoch
}

/** Days from 0000-03-01 to 1970-01-01. */
const epoch = 719_468

/** There and back: the guess of the year is at most one off, and the months follow from what remains. */
function fromSerial(count: number): Day {
  const days = count + epoch
  let y = Math.floor(days / 365.2425)
  const start = (of: number) => 365 * of + Math.floor(of / 4) - Math.floor(of / 100) + Math.floor(of / 400)
  if (start(y) > days) y -= 1
  if (start(y + 1) <= days) y += 1
  const dayOfYear = days - start(y)
  const m = Math.floor((5 * dayOfYear + 2) / 153)
  const date = dayOfYear - Math.floor((153 * m + 2) / 5) + 1
  return m < 10 ? dayOf(y, m + 3, date) : dayOf(y + 1, m - 9, date)
}

function pad(number: number, width: number): string {
  return String(number).padStart(width, '0')
}

function noSuchDay(text: string): CalcProblem {
  return new CalcProblem(`There is no day ${text}.`, {
    path: [],
    hint: 'Write a day as year-month-date, such as 2026-11-25.',
  })
}
