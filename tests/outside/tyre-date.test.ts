import { describe, expect, test } from 'vitest'
import { tyreDate } from '../../lib/core/codes/tyre-date'

const asOf = '2026-11-25'

describe('tyre date codes (rule: 49 CFR 574.5; 64 FR 36807, read)', () => {
  test.each<[string, object, string]>([
    [
      '0301',
      { week: 3, year: 2001, from: '2001-01-21', to: '2001-01-27' },
      'a vehicle manual quoting 574.5, read; dates computed',
    ],
    ['2109', { week: 21, year: 2009 }, 'read in a copy'],
    [
      '3197',
      { week: 31, year: 1997, from: '1997-08-03', to: '1997-08-09' },
      'read in a copy; dates computed',
    ],
    ['0198', { week: 1, year: 1998, from: '1998-01-04', to: '1998-01-10' }, 'from memory; dates computed'],
  ])('%s is %j (%s)', (code, expected) => {
    expect(tyreDate({ code, asOf })).toMatchObject({ ...expected, certain: true })
  })

  test('031 is week 3 of 1981 or of 1991, open (a vehicle manual quoting 574.5, read)', () => {
    expect(tyreDate({ code: '031', asOf })).toMatchObject({
      certain: false,
      week: 3,
      candidates: [{ year: 1981 }, { year: 1991 }],
    })
  })

  test('the weeks are not those of ISO 8601, by which week 3 of 2001 began on Monday 15 January', () => {
    expect(tyreDate({ code: '0301', asOf }).from).not.toBe('2001-01-15')
  })

  test('the last week may reach into the next year (from memory; dates computed)', () => {
    expect(tyreDate({ code: '5317', asOf })).toMatchObject({ from: '2017-12-31', to: '2018-01-06' })
  })
})
