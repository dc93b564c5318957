import { describe, expect, it, test } from 'vitest'
import { tyreDate } from '../../lib/core/codes/tyre-date'
import { tyreDateInput } from '../../lib/core/codes/tyre-date.input'
import { CalcProblem } from '../../lib/core/quantity/problem'

const asOf = '2026-11-25'
const problem = (code: string, day = asOf): CalcProblem => {
  try {
    tyreDate({ code, asOf: day })
  } catch (thrown) {
    if (thrown instanceof CalcProblem) return thrown
  }
  throw new Error(`${code} was not refused`)
}

it('answers a four-digit code with its week and age', () => {
  expect(tyreDate({ code: '0301', asOf })).toEqual({
    week: 3,
    year: 2001,
    from: '2001-01-21',
    to: '2001-01-27',
    ageYears: 25.8,
    certain: true,
    notes: [expect.stringContaining('week is the first half (03)')],
  })
})

it('answers a three-digit code with the weeks it may be', () => {
  expect(tyreDate({ code: '031', asOf })).toEqual({
    week: 3,
    year: null,
    from: null,
    to: null,
    ageYears: null,
    certain: false,
    candidates: [
      { week: 3, year: 1981, from: '1981-01-18', to: '1981-01-24' },
      { week: 3, year: 1991, from: '1991-01-20', to: '1991-01-26' },
    ],
    notes: [expect.stringContaining('before 2000'), expect.stringContaining('decade')],
  })
})

describe('the first week', () => {
  test.each([
    ['0117', '2017-01-01', '2017-01-07'],
    ['0118', '2018-01-07', '2018-01-13'],
    ['0123', '2023-01-01', '2023-01-07'],
    ['5217', '2017-12-24', '2017-12-30'],
    ['5225', '2025-12-28', '2026-01-03'],
    ['5300', '2000-12-31', '2001-01-06'],
    ['5317', '2017-12-31', '2018-01-06'],
    ['5323', '2023-12-31', '2024-01-06'],
  ])('%s is %s to %s', (code, from, to) => {
    expect(tyreDate({ code, asOf })).toMatchObject({ from, to, certain: true })
  })
})

describe('the age', () => {
  test.each([
    ['4726', '2026-11-25', 0],
    ['0301', '2001-01-21', 0],
    ['0301', '2011-01-21', 10],
    ['0301', '2001-02-26', 0.1],
  ])('of %s on %s is %d years', (code, day, expected) => {
    expect(tyreDate({ code, asOf: day })).toMatchObject({ ageYears: expected })
  })
})

describe('notes', () => {
  test.each<[string, RegExp | null]>([
    ['2109', /week is the first half \(21\), the year the second \(09\)/],
    ['1095', /1995/],
    ['3026', null],
    ['4007', null],
    ['5300', null],
  ])('%s', (code, expected) => {
    const { notes } = tyreDate({ code, asOf })
    if (expected === null) expect(notes).toEqual([])
    else expect(notes.join(' ')).toMatch(expected)
  })

  it('a code of the nineties in four digits is read so and says so', () => {
    const found = tyreDate({ code: '3197', asOf })
    expect(found).toMatchObject({ year: 1997, certain: true })
    expect(found.notes.join(' ')).toContain('July 2000')
  })
})

describe('three digits', () => {
  it('a 53rd week leaves only the year that has one', () => {
    // 1989 has 53 Sundays, 1999 has 52
    expect(tyreDate({ code: '539', asOf })).toMatchObject({
      candidates: [{ year: 1989, from: '1989-12-31' }],
    })
  })

  it('a week after the day asked is no candidate', () => {
    expect(tyreDate({ code: '031', asOf: '1985-06-01' })).toMatchObject({ candidates: [{ year: 1981 }] })
  })
})

describe('what is refused', () => {
  test.each<[string, RegExp, RegExp]>([
    ['0022', /no week 00/, /week/],
    ['5322', /no week 53.*01 to 52/, /week/],
    ['5417', /no week 54.*01 to 53/, /week/],
    ['9912', /no week 99/, /1299 would be possible/],
    ['000', /no week 00/, /week/],
    ['532', /no week 53.*1982.*1992/, /week/],
    ['4826', /from after 2026-11-25/, /week/],
    ['0727', /from after/, /2707 would be possible/],
    ['O301', /no date code/, /digit 0/],
    ['03A1', /no date code/, /Digits only/],
    ['3', /no date code/, /last group/],
    ['03010', /no date code/, /last group/],
    ['٠٣٠١', /no date code/, /Digits only/],
    ['-301', /no date code/, /Digits only/],
    ['', /empty/, /last group/],
  ])('%j', (code, message, hint) => {
    expect(problem(code).message).toMatch(message)
    expect(problem(code).hint).toMatch(hint)
    expect(problem(code).path).toEqual(['code'])
  })

  it('three digits before the earliest week they can mean', () => {
    expect(problem('031', '1980-06-01').message).toMatch(/from after/)
  })

  test.each([
    [{ code: 301, asOf }, ['code']],
    [{ code: '0301', asOf: '2023-02-29' }, ['asOf']],
    [{ code: '0301', asOf: '25.11.2026' }, ['asOf']],
    [{ asOf }, ['code']],
  ])('%j by its form', (input, path) => {
    expect(tyreDateInput.safeParse(input).error?.issues[0]?.path).toEqual(path)
  })
})
