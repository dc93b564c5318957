import { describe, expect, it, test } from 'vitest'
import {
  addDays,
  dayOf,
  daysBetween,
  isAfter,
  isDay,
  type Weekday,
  weekday,
  yearOf,
} from '../../lib/core/quantity/days'
import { CalcProblem } from '../../lib/core/quantity/problem'

describe('what is a day', () => {
  test.each([
    ['2026-11-25', true],
    ['2024-02-29', true],
    ['2000-02-29', true],
    ['1900-02-29', false],
    ['2023-02-29', false],
    ['2026-13-01', false],
    ['2026-00-10', false],
    ['2026-04-31', false],
    ['2026-4-3', false],
    ['2026-11-25T00:00', false],
    ['0000-01-01', false],
    [' 2026-11-25', false],
    ['', false],
  ])('%j: %s', (text, expected) => {
    expect(isDay(text)).toBe(expected)
  })
})

describe('counting days', () => {
  test.each([
    ['2001-01-21', '2026-11-25', 9439],
    ['2026-11-25', '2026-11-25', 0],
    ['2024-02-28', '2024-03-01', 2],
    ['2023-02-28', '2023-03-01', 1],
    ['1970-01-01', '1969-12-31', -1],
    ['0001-01-01', '9999-12-31', 3_652_058],
  ])('from %s to %s are %d days', (from, to, expected) => {
    expect(daysBetween(from, to)).toBe(expected)
    expect(addDays(from, expected)).toBe(to)
  })

  it('agrees with the calendar of the machine for every day of four centuries', () => {
    const first = Date.UTC(1799, 0, 1)
    for (let count = 0; count < 146_097; count += 1) {
      const day = new Date(first + count * 86_400_000).toISOString().slice(0, 10)
      if (addDays('1799-01-01', count) !== day) expect(addDays('1799-01-01', count)).toBe(day)
      if (daysBetween('1799-01-01', day) !== count) expect(daysBetween('1799-01-01', day)).toBe(count)
    }
  })

  test.each<[string, Weekday]>([
    ['2001-01-21', 0],
    ['2026-11-25', 3],
    ['1970-01-01', 4],
    ['1900-01-01', 1],
  ])('%s is weekday %d', (day, expected) => {
    expect(weekday(day)).toBe(expected)
  })

  it('knows the year and which of two days is later', () => {
    expect(yearOf('1998-01-04')).toBe(1998)
    expect(isAfter('2026-11-26', '2026-11-25')).toBe(true)
    expect(isAfter('2026-11-25', '2026-11-25')).toBe(false)
  })

  it('refuses what is no day and what lies outside the calendar', () => {
    expect(() => daysBetween('2023-02-29', '2023-03-01')).toThrow(CalcProblem)
    expect(() => dayOf(2023, 2, 29)).toThrow(CalcProblem)
    expect(() => addDays('9999-12-31', 1)).toThrow(CalcProblem)
    expect(() => addDays('0001-01-01', -1)).toThrow(CalcProblem)
  })
})
