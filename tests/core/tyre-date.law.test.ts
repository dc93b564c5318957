import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { tyreDate } from '../../lib/core/codes/tyre-date'
import { addDays, weekday, yearOf } from '../../lib/core/quantity/days'

const asOf = '2095-01-01'
const two = (number: number) => String(number).padStart(2, '0')
const year = fc.integer({ min: 2000, max: 2089 })
const week = fc.integer({ min: 1, max: 52 })
const read = (w: number, y: number) => {
  const found = tyreDate({ code: `${two(w)}${two(y % 100)}`, asOf })
  if (!found.certain) throw new Error('four digits are certain')
  return found
}

describe('for all weeks and years', () => {
  it('a week begins on a Sunday of its year and ends six days later', () => {
    fc.assert(
      fc.property(week, year, (w, y) => {
        const { from, to } = read(w, y)
        expect([weekday(from), yearOf(from), addDays(from, 6)]).toEqual([0, y, to])
      }),
    )
  })

  it('weeks follow one another without a gap, from one year into the next too', () => {
    fc.assert(
      fc.property(week, year, (w, y) => {
        if (w > 1) expect(read(w, y).from).toBe(addDays(read(w - 1, y).from, 7))
        else if (y > 2000) expect([7, 14]).toContain(daysApart(read(52, y - 1).from, read(1, y).from))
      }),
    )
  })

  it('every Sunday has exactly one code, so that code and date lead to each other', () => {
    const sundays = fc.integer({ min: 0, max: 4600 }).map((weeks) => addDays('2000-01-02', 7 * weeks))
    fc.assert(
      fc.property(sundays, (sunday) => {
        const y = yearOf(sunday)
        const nth = Math.ceil((daysApart(`${y}-01-01`, sunday) + 1) / 7)
        expect(read(nth, y).from).toBe(sunday)
      }),
    )
  })

  it('an older tyre is never younger', () => {
    fc.assert(
      fc.property(week, year, week, year, (w1, y1, w2, y2) => {
        const [a, b] = [read(w1, y1), read(w2, y2)]
        if (a.from <= b.from) expect(a.ageYears).toBeGreaterThanOrEqual(b.ageYears)
      }),
    )
  })
})

function daysApart(from: string, to: string): number {
  return Math.round((Date.parse(to) - Date.parse(from)) / 86_400_000)
}
