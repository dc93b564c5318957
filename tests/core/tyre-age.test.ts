import { describe, expect, it } from 'vitest'
import { judge } from '../../lib/core/checks/judge'
import { anyBike, checkOf } from '../support/small-catalogue'
import { ages, asOf, reading } from '../support/small-readings'

function aged(code: string) {
  const readings = [reading('tyre-code', code)]
  return judge({ check: checkOf('tyre-code'), readings, limits: [], kind: anyBike, asOf, ages })
}

describe('the age of a tyre', () => {
  it('2207 is week 22 of 2007, over nineteen years old, whatever the seller says', () => {
    const old = aged('2207')
    // 2007 began on a Monday, so its first Sunday was 7 January; 21 weeks on is 3 June. To 2026-11-25: 7115 days.
    expect(old).toMatchObject({ verdict: 'outside', found: { ageYears: 19.5, tyre: { from: '2007-06-03' } } })
    expect(old.says).toBe(
      'Made in week 22 of 2007, 19.5 years old. That is over the guidance age of 10 years.',
    )
  })

  it('between the sale line and the guidance age it is within and below the sale line', () => {
    expect(aged('0118')).toMatchObject({ verdict: 'within', belowSaleLine: true })
  })

  it('a young tyre keeps both', () => {
    const young = aged('1023')
    expect(young).toMatchObject({ verdict: 'within', belowSaleLine: false })
    expect(young.says).toContain("keeps the shop's sale line of 8 years")
  })

  it('three digits are from before 2000, so too old in any case', () => {
    const old = aged('031')
    expect(old).toMatchObject({ verdict: 'outside', belowSaleLine: true })
    expect(old.says).toContain('in week 3 of 1981 or 1991, at least 35.8 years old')
  })

  it.each(['0026', '5427', '9999'])('%s is no code and says why', (code) => {
    const none = aged(code)
    expect(none).toMatchObject({ verdict: 'not-judged', why: 'unreadable', found: null })
    expect(none.says.length).toBeGreaterThan(20)
  })
})
