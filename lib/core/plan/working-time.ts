import { addDays, daysBetween, weekday } from '../quantity/days'

/** The plan counts in quarters of an hour from the first midnight, by the shop's clock. */
export const unitMinutes = 15
export const unitsAnHour = 60 / unitMinutes
export const unitsADay = 24 * unitsAnHour

/** From and to in units, ascending and apart. */
export type OpenTimes = [number, number][]

/** When work is done in a usual week. Weekdays 0 to 6, Sunday first; minutes from midnight. */
export type WorkWeek = { weekdays: readonly number[]; fromMinute: number; toMinute: number }

/** A time in which no work is done: whole days where the minutes are left out. Both days belong to it. */
export type TimeOff = { fromDay: string; toDay: string; fromMinute?: number | null; toMinute?: number | null }

/**
 * The open times of `days` days from the midnight at which `startsOn` begins, what is off taken out. Days are civil
 * days of the shop: the two nights a year in which the clock is moved change nothing. Open times are made smaller to
 * whole units, never larger.
 */
export function openTimes(asked: {
  startsOn: string
  days: number
  week: WorkWeek
  off: readonly TimeOff[]
}): OpenTimes {
  const { startsOn, days, week, off } = asked
  const times: OpenTimes = []
  for (let day = 0; day < days; day += 1) {
    const date = addDays(startsOn, day)
    if (!week.weekdays.includes(weekday(date))) continue
    const free = off.reduce((left, one) => without(left, offOn(one, date)), [
      [week.fromMinute, week.toMinute],
    ] as [number, number][])
    for (const [from, to] of free) {
      const open: [number, number] = [Math.ceil(from / unitMinutes), Math.floor(to / unitMinutes)]
      if (open[0] < open[1]) times.push([day * unitsADay + open[0], day * unitsADay + open[1]])
    }
  }
  return times
}

/** Minutes of one day that are off; null where none are. */
function offOn({ fromDay, toDay, fromMinute, toMinute }: TimeOff, date: string): [number, number] | null {
  if (date < fromDay || date > toDay) return null
  return [fromMinute ?? 0, toMinute ?? 24 * 60]
}

function without(times: readonly [number, number][], off: [number, number] | null): [number, number][] {
  if (!off) return [...times]
  return times.flatMap(([from, to]) => {
    const before: [number, number] = [from, Math.min(to, off[0])]
    const after: [number, number] = [Math.max(from, off[1]), to]
    return [before, after].filter(([start, end]) => start < end)
  })
}

/** The day and the minute from midnight of a unit. */
export function momentOf(startsOn: string, unit: number): { day: string; minute: number } {
  const day = Math.floor(unit / unitsADay)
  return { day: addDays(startsOn, day), minute: (unit - day * unitsADay) * unitMinutes }
}

/** The first unit that is not before a minute of a day. */
export function unitOf(startsOn: string, { day, minute }: { day: string; minute: number }): number {
  return daysBetween(startsOn, day) * unitsADay + Math.ceil(minute / unitMinutes)
}

/** The end of `units` of open time from `from` on, stopping at each closing; Infinity behind the last open time. */
export function endOfWork(times: OpenTimes, from: number, units: number): number {
  let left = units
  for (const [open, close] of times) {
    const start = Math.max(open, from)
    if (start >= close) continue
    if (left <= close - start) return start + left
    left -= close - start
  }
  return Number.POSITIVE_INFINITY
}
