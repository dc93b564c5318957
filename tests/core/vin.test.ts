import { describe, expect, it, test } from 'vitest'
import { vin } from '../../lib/core/codes/vin'
import { vinInput } from '../../lib/core/codes/vin.input'
import { CalcProblem } from '../../lib/core/quantity/problem'

const asOf = '2026-11-25'
const known = '1FACP45EXLF192944'
const problem = (number: string): CalcProblem => {
  try {
    vin({ vin: number, asOf })
  } catch (thrown) {
    if (thrown instanceof CalcProblem) return thrown
  }
  throw new Error(`${number} was not refused`)
}
/** The known number with another character in a position, from 1. */
const withAt = (position: number, character: string) =>
  known.slice(0, position - 1) + character + known.slice(position)

it('answers a 17-character number with check digit and years', () => {
  expect(vin({ vin: known, claimedYear: 1990, asOf })).toEqual({
    form: 'vin17',
    normalised: known,
    checkDigit: { computed: 'X', found: 'X', match: true, required: true },
    modelYears: [1990, 2020],
    claimedYearFits: true,
    problems: [],
  })
})

it('computes nothing of a shorter frame number', () => {
  expect(vin({ vin: 'JM3KE4BY6G06', claimedYear: 1990, asOf })).toEqual({
    form: 'short',
    normalised: 'JM3KE4BY6G06',
    checkDigit: null,
    modelYears: [],
    claimedYearFits: null,
    problems: [],
  })
})

describe('how it is written', () => {
  test.each([
    ['  1facp45exlf192944\n', known],
    ['1FACP-45EX LF-192944', known],
    ['1FACP\u201145EX\u00a0LF192944', known],
    ['ab-12 3io', 'AB123IO'],
  ])('%j is %s', (written, normalised) => {
    expect(vin({ vin: written, asOf }).normalised).toBe(normalised)
  })
})

describe('the model year', () => {
  test.each<[string, string, number[]]>([
    ['A', asOf, [1980, 2010]],
    ['Y', asOf, [2000]],
    ['V', asOf, [1997, 2027]],
    ['W', asOf, [1998]],
    ['1', asOf, [2001]],
    ['9', asOf, [2009]],
    ['L', '1985-06-01', []],
    ['0', asOf, []],
    ['U', asOf, []],
    ['Z', asOf, []],
  ])('%s on %s stands for %j', (code, day, expected) => {
    expect(vin({ vin: withAt(10, code), asOf: day }).modelYears).toEqual(expected)
  })

  it('tells whether a claim fits, where there is a code and a claim', () => {
    const fits = (number: string, claimedYear?: number) =>
      vin({ vin: number, claimedYear, asOf }).claimedYearFits
    expect(fits(known, 2020)).toBe(true)
    expect(fits(known, 1991)).toBe(false)
    expect(fits(known, 2050)).toBe(false)
    expect(fits(known)).toBeNull()
    expect(fits(withAt(10, '0'), 1990)).toBeNull()
  })
})

describe('problems', () => {
  test.each<[string, string, number | undefined, RegExp[]]>([
    ['a wrong check digit where it is law', withAt(9, '4'), undefined, [/should be X and is 4/]],
    ['a claimed year that does not fit', known, 1991, [/1991 does not fit.*1990 or 2020/]],
    [
      'no year code where it is law',
      withAt(10, 'Z').replace('EX', 'E1'),
      undefined,
      [/check digit/, /no model year/],
    ],
    ['a European number without check digit', 'W0L000051T2123456', 1996, [/^Note: position 9/]],
    [
      'a European number of another year',
      'W0L000051T2123456',
      1990,
      [/^Note: position 9/, /^Note: T in position 10/],
    ],
  ])('%s', (_, number, claimedYear, expected) => {
    const { problems } = vin({ vin: number, claimedYear, asOf })
    expect(problems).toHaveLength(expected.length)
    for (const [index, pattern] of expected.entries()) expect(problems[index]).toMatch(pattern)
  })

  test.each([
    ['1', true],
    ['5', true],
    ['6', false],
    ['J', false],
    ['9', false],
  ])('a first character %s makes the check digit law: %s', (first, required) => {
    expect(vin({ vin: withAt(1, first), asOf }).checkDigit?.required).toBe(required)
  })
})

describe('what is refused', () => {
  test.each<[string, RegExp, RegExp]>([
    ['', /0 characters are too few/, /17/],
    ['4T1B', /4 characters are too few/, /17/],
    [`${known}1`, /18 characters are too many/, /17/],
    [withAt(6, 'O'), /Position 6 is the letter O/, /digit 0/],
    [withAt(6, 'i'), /Position 6 is the letter I/, /digit 1/],
    [withAt(6, 'Q'), /Position 6 is the letter Q/, /digit 0/],
    ['AB*123', /no "\*"/, /Letters A to Z/],
    ['ÄB1234', /no "Ä"/, /Letters A to Z/],
    ['ßABCDE', /no "ß"/, /Letters A to Z/],
  ])('%j', (number, message, hint) => {
    expect(problem(number).message).toMatch(message)
    expect(problem(number).hint).toMatch(hint)
    expect(problem(number).path).toEqual(['vin'])
  })

  test.each([
    [{ vin: 12345678 }, ['vin']],
    [{ vin: known, claimedYear: '1990' }, ['claimedYear']],
    [{ vin: known, claimedYear: 90 }, ['claimedYear']],
    [{ vin: known, asOf: 'today' }, ['asOf']],
  ])('%j by its form', (input, path) => {
    expect(vinInput.safeParse(input).error?.issues[0]?.path).toEqual(path)
  })
})
