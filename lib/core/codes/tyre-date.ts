import { addDays, type Day, dayOf, daysBetween, isAfter, weekday, yearOf } from '../quantity/days'
import { CalcProblem } from '../quantity/problem'
import type { TyreDateInput } from './tyre-date.input'

/** A week of manufacture, Sunday to Saturday. */
export interface TyreWeek {
  week: number
  year: number
  from: Day
  to: Day
}

export type TyreDate =
  | (TyreWeek & {
      certain: true
      /** From the first day of the week to the day asked, in years of 365.25 days, one decimal. */
      ageYears: number
      notes: string[]
    })
  | {
      certain: false
      week: number
      year: null
      from: null
      to: null
      ageYears: null
      /** The weeks it may be, the earliest first. */
      candidates: TyreWeek[]
      notes: string[]
    }

/**
 * The week a tyre was made in, from the last group of its identification number (49 CFR 574.5; 64 FR 36807
 * of 1999 for the fourth digit since July 2000). Week 01 is the first full week of the calendar year, so it
 * starts on the year's first Sunday; the last week may reach up to six days into the next year.
 * @throws CalcProblem for a code that no tyre bears, or one from after `asOf`.
 */
export function tyreDate({ code, asOf }: TyreDateInput): TyreDate {
  const digits = code.trim()
  if (/^[0-9]{4}$/.test(digits)) return fourDigits(digits, asOf)
  if (/^[0-9]{3}$/.test(digits)) return threeDigits(digits, asOf)
  throw wrongForm(digits)
}

function fourDigits(digits: string, asOf: Day): TyreDate {
  const [first, second] = [digits.slice(0, 2), digits.slice(2)]
  const week = Number(first)
  const year = fullYear(Number(second))
  const made = weekOf(week, year) ?? refuseWeek(week, [year], swappedHint(first, second, asOf))
  if (isAfter(made.from, asOf)) refuseFuture([made], asOf, swappedHint(first, second, asOf))
  const notes = []
  if (year < 2000)
    notes.push(`Codes of four digits came in July 2000, so ${second} is read as ${year}: look again.`)
  if (possible(second, first, asOf)) {
    notes.push(
      `The week is the first half (${first}), the year the second (${second}), not the other way round.`,
    )
  }
  return { ...made, ageYears: ageYears(made.from, asOf), certain: true, notes }
}

function threeDigits(digits: string, asOf: Day): TyreDate {
  const week = Number(digits.slice(0, 2))
  const years = [1980, 1990].map((decade) => decade + Number(digits.slice(2)))
  const made = years.map((year) => weekOf(week, year)).filter((found) => found !== null)
  if (made.length === 0)
    refuseWeek(week, years, 'Read the code again: the week comes first, then one digit of the year.')
  const candidates = made.filter(({ from }) => !isAfter(from, asOf))
  if (candidates.length === 0)
    refuseFuture(made, asOf, 'Read the code again, or correct the day that is asked for.')
  return {
    week,
    year: null,
    from: null,
    to: null,
    ageYears: null,
    certain: false,
    candidates,
    notes: [
      'Three digits are from before 2000: the week is the first two, the last is the final digit of the year.',
      'The decade is not told, so the age is open; the tyre is past any usual age in every case.',
    ],
  }
}

/** Two digits of the year: 90 to 99 are 19xx, 00 to 89 are 20xx. */
function fullYear(twoDigits: number): number {
  return twoDigits >= 90 ? 1900 + twoDigits : 2000 + twoDigits
}

/** The week, or null where the year does not have it: a 53rd exists only where there are 53 Sundays. */
function weekOf(week: number, year: number): TyreWeek | null {
  if (week < 1) return null
  const newYear = dayOf(year, 1, 1)
  const firstSunday = addDays(newYear, (7 - weekday(newYear)) % 7)
  const from = addDays(firstSunday, 7 * (week - 1))
  return yearOf(from) === year ? { week, year, from, to: addDays(from, 6) } : null
}

/** Whether the halves, read as week and year, give a week that has begun. */
function possible(week: string, year: string, asOf: Day): boolean {
  const made = weekOf(Number(week), fullYear(Number(year)))
  return made !== null && !isAfter(made.from, asOf)
}

function swappedHint(first: string, second: string, asOf: Day): string {
  return possible(second, first, asOf)
    ? `The week comes first, then the year. Read the other way round, ${second}${first} would be possible: look again.`
    : 'Read the code again: two digits for the week, then two for the year.'
}

/** In tenths of a year of 365.25 days; n days are never exactly between two tenths, 1461 being odd. */
function ageYears(from: Day, asOf: Day): number {
  return Math.round((daysBetween(from, asOf) / 365.25) * 10) / 10
}

function refuseWeek(week: number, years: number[], hint: string): never {
  const two = String(week).padStart(2, '0')
  const weeks = years.map((year) => `${year} has weeks 01 to ${weekOf(53, year) ? 53 : 52}`).join(', ')
  throw new CalcProblem(`There is no week ${two}: ${weeks}.`, { path: ['code'], hint })
}

function refuseFuture(made: TyreWeek[], asOf: Day, hint: string): never {
  const weeks = made.map(({ week, year, from }) => `week ${week} of ${year} began on ${from}`).join(', ')
  throw new CalcProblem(`The code is from after ${asOf}: ${weeks}.`, { path: ['code'], hint })
}

function wrongForm(code: string): CalcProblem {
  const hint = /^[0-9]*$/.test(code)
    ? 'Give the last group only: four digits (week and year), or three on a tyre from before 2000.'
    : 'Digits only, such as 0301. A round sign is the digit 0; where the last group has letters, read the other side wall.'
  return new CalcProblem(
    code === ''
      ? 'The code is empty.'
      : `${JSON.stringify(code)} is no date code of a tyre: it has four digits, or three.`,
    { path: ['code'], hint },
  )
}
