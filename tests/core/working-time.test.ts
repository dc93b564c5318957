import { describe, expect, it } from 'vitest'
import { endOfWork, momentOf, openTimes, unitOf, unitsADay } from '../../lib/core/plan/working-time'

const week = { weekdays: [1, 2, 3, 4, 5], fromMinute: 9 * 60, toMinute: 17 * 60 }
const thursday = '2026-11-26'
const at = (day: number, hour: number) => day * unitsADay + hour * 4

describe('the open times of a workshop', () => {
  it('are its hours on its weekdays, counted from the first midnight', () => {
    expect(openTimes({ startsOn: thursday, days: 5, week, off: [] })).toEqual([
      [at(0, 9), at(0, 17)],
      [at(1, 9), at(1, 17)],
      [at(4, 9), at(4, 17)],
    ])
  })

  it('leave out a holiday, and hours in the middle of a day', () => {
    const off = [
      { fromDay: '2026-11-27', toDay: '2026-11-29' },
      { fromDay: thursday, toDay: thursday, fromMinute: 12 * 60, toMinute: 13 * 60 },
    ]
    expect(openTimes({ startsOn: thursday, days: 5, week, off })).toEqual([
      [at(0, 9), at(0, 12)],
      [at(0, 13), at(0, 17)],
      [at(4, 9), at(4, 17)],
    ])
  })

  it('are made smaller to whole quarters of an hour', () => {
    const odd = { weekdays: [4], fromMinute: 9 * 60 + 5, toMinute: 10 * 60 + 10 }
    expect(openTimes({ startsOn: thursday, days: 1, week: odd, off: [] })).toEqual([[37, 40]])
  })
})

describe('moments', () => {
  it('go from units to days and back', () => {
    expect(momentOf(thursday, at(4, 10) + 1)).toEqual({ day: '2026-11-30', minute: 615 })
    expect(unitOf(thursday, { day: '2026-11-30', minute: 615 })).toBe(at(4, 10) + 1)
    expect(unitOf(thursday, { day: '2026-11-30', minute: 616 })).toBe(at(4, 10) + 2)
  })
})

describe('the end of work', () => {
  const times = openTimes({ startsOn: thursday, days: 5, week, off: [] })

  it('pauses at closing and goes on at opening', () => {
    expect(endOfWork(times, at(0, 15), 4 * 4)).toBe(at(1, 11))
    expect(endOfWork(times, at(1, 16), 3 * 4)).toBe(at(4, 11))
  })

  it('is at closing where it just fits, and never where it does not fit at all', () => {
    expect(endOfWork(times, at(0, 15), 2 * 4)).toBe(at(0, 17))
    expect(endOfWork(times, at(0, 9), 25 * 4)).toBe(Number.POSITIVE_INFINITY)
  })
})
