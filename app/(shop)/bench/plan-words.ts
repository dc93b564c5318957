import type { TaskKind } from '../../../lib/core/plan/bike-tasks'
import type { Why } from '../../../lib/core/plan/why-then'
import { momentOf } from '../../../lib/core/plan/working-time'
import { addDays, daysBetween } from '../../../lib/core/quantity/days'
import type { Moment, TaskShown } from '../../../lib/shop/read-plan'
import { formatDay, formatEstimate, formatMoney } from '../../_ui/formats'

const weekdayFormat = new Intl.DateTimeFormat('en-GB', { weekday: 'long', timeZone: 'UTC' })

/** A day as one says it: today, tomorrow, Thursday, 12 Jan 2027. */
export function dayWords(day: string, today: string): string {
  const away = daysBetween(today, day)
  if (away === 0) return 'today'
  if (away === 1) return 'tomorrow'
  return away > 1 && away < 7 ? weekdayFormat.format(new Date(`${day}T00:00:00Z`)) : formatDay(day)
}

/** Thu 26, for the head of a column. */
export function shortDay(day: string): string {
  return new Intl.DateTimeFormat('en-GB', { weekday: 'short', day: 'numeric', timeZone: 'UTC' }).format(
    new Date(`${day}T00:00:00Z`),
  )
}

/** What standing costs: to the tens from a hundred on, as estimates are; below that tens would say nothing. */
export function smallMoney(minor: number, currency: string): string {
  return minor < 10_000 ? formatMoney(Math.round(minor), currency) : formatEstimate(minor, currency)
}

export function clock(minute: number): string {
  const two = (count: number) => String(count).padStart(2, '0')
  return `${two(Math.floor(minute / 60))}:${two(minute % 60)}`
}

/** Thursday, 14:30. */
export function momentWords({ day, minute }: Moment, today: string): string {
  return `${dayWords(day, today)}, ${clock(minute)}`
}

const kindWords: Record<TaskKind, (title: string) => string> = {
  open: (title) => title,
  away: (title) => `Away: ${title}`,
  work: (title) => title,
  wait: (title) => title,
  more: (title) => title,
  'put back': (title) => `Back together: ${title.charAt(0).toLowerCase()}${title.slice(1)}`,
  prove: (title) => title,
}

/** A task as it stands in a list. */
export function taskWords({ kind, title }: Pick<TaskShown, 'kind' | 'title'>): string {
  return kindWords[kind](title)
}

/** Why a bike is ready then and not sooner, in one sentence. */
export function whySays(
  why: Why,
  given: {
    startsOn: string
    today: string
    person: (id: string) => string
    bike: (id: string) => string
    job: (key: string) => string
  },
): string {
  const { startsOn, today, person, bike, job } = given
  const until = (unit: number) => {
    const moment = momentOf(startsOn, unit)
    // Midnight is the end of the day before.
    return moment.minute === 0 ? dayWords(moment.day, today) : momentWords(moment, today)
  }
  switch (why.on) {
    case 'nothing':
      return 'Nothing is left to do on it.'
    case 'work':
      return 'Its own work fills the time.'
    case 'parts':
      return `Waits for the parts of “${job(why.job)}” until ${until(why.until)}.`
    case 'away':
      return `Waits for “${why.task}”, which is done elsewhere, until ${until(why.until)}.`
    case 'hardening':
      return `Waits by the clock: ${why.task.charAt(0).toLowerCase()}${why.task.slice(1)} until ${until(why.until)}.`
    case 'person':
      return `Waits for ${person(why.person)}, who is at the ${bike(why.bike)} until ${until(why.until)}.`
    case 'lift':
      return `Waits for the lift that the ${bike(why.bike)} is on until ${until(why.until)}.`
    case 'pin':
      return `“${why.task}” is settled by hand for ${until(why.until)}.`
  }
}

/** The days of the picture: the next so many on which the bench is worked at. */
export function daysShown(
  { today, weekdays }: { today: string; weekdays: readonly number[] },
  count: number,
): string[] {
  const days: string[] = []
  for (let ahead = 0; days.length < count && ahead < 60; ahead += 1) {
    const day = addDays(today, ahead)
    if (weekdays.includes(new Date(`${day}T00:00:00Z`).getUTCDay())) days.push(day)
  }
  return days
}

/** Where a moment stands in the picture, 0 to 1: closed times have no width. */
export function placeIn(
  days: readonly string[],
  week: { fromMinute: number; toMinute: number },
): (moment: Moment) => number {
  const length = week.toMinute - week.fromMinute
  return ({ day, minute }) => {
    const at = days.filter((one) => one < day).length
    if (!days.includes(day)) return at / days.length
    const within = Math.min(1, Math.max(0, (minute - week.fromMinute) / length))
    return (at + within) / days.length
  }
}
