import { describe, expect, test } from 'vitest'
import { vin } from '../../lib/core/codes/vin'
import { CalcProblem } from '../../lib/core/quantity/problem'

const asOf = '2026-11-25'

describe('the check digit of published numbers (rule: 49 CFR 565.15(c), read in a copy)', () => {
  test.each<[string, string, boolean, string]>([
    ['1G4AH59H45G118341', '4', true, 'worked example of 49 CFR 565, table V, read in a copy'],
    ['1FACP45EXLF192944', 'X', true, 'public data-cleaning documentation, read'],
    ['11111111111111111', '1', true, 'documentation of a public validation package, read'],
    ['1HGCM82633A004352', '3', true, 'public test suites, read'],
    ['1HGCM82633A004353', '5', false, 'public test suites, read'],
    ['1HD1GP4558K319097', '5', true, "public sample of the US registry's answers, read"],
    ['4T1BE46K19U856421', '1', true, 'tests of a public package, read'],
    ['W0L000051T2123456', '5', false, 'a European example, read; digit computed'],
  ])('%s computes %s, match: %s (%s)', (number, computed, match) => {
    expect(vin({ vin: number, asOf }).checkDigit).toMatchObject({ computed, match })
  })

  test('4T1BE46K29U856421 does not match (tests of a public package, read)', () => {
    expect(vin({ vin: '4T1BE46K29U856421', asOf }).checkDigit?.match).toBe(false)
  })

  test('the European mismatch is a note and no error (ISO 3779 leaves it to the maker, read in copies)', () => {
    const found = vin({ vin: 'W0L000051T2123456', asOf })
    expect(found.checkDigit?.required).toBe(false)
    expect(found.problems).toEqual([expect.stringMatching(/^Note/)])
  })
})

/** Seventeen ones sum to 89 (read), with the digit 1; what one place adds shows in the digit. */
const withOne = (position: number, character: string) =>
  `${'1'.repeat(position - 1)}${character}${'1'.repeat(17 - position)}`
const digitFor = (sum: number) => (sum % 11 === 10 ? 'X' : String(sum % 11))

describe('the tables behind the check digit (49 CFR 565, tables III to V of the 2000 edition, read in a copy)', () => {
  test.each(
    [
      ...Object.entries({ A: 1, B: 2, C: 3, D: 4, E: 5, F: 6, G: 7, H: 8 }),
      ...Object.entries({ J: 1, K: 2, L: 3, M: 4, N: 5, P: 7, R: 9 }),
      ...Object.entries({ S: 2, T: 3, U: 4, V: 5, W: 6, X: 7, Y: 8, Z: 9 }),
    ].map(([letter, value]) => [letter, value] as const),
  )('%s counts %d', (letter, value) => {
    // The last place weighs 2, and a one stood there.
    const found = vin({ vin: withOne(17, letter), asOf }).checkDigit?.computed
    expect(found).toBe(digitFor(89 + 2 * (value - 1)))
  })

  test.each(
    [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2].map((weight, index) => [index + 1, weight] as const),
  )('place %d weighs %d', (position, weight) => {
    const found = vin({ vin: withOne(position, '2'), asOf }).checkDigit?.computed
    expect(found).toBe(digitFor(89 + weight))
  })

  test.each(['I', 'O', 'Q'])('%s is never used', (letter) => {
    expect(() => vin({ vin: withOne(17, letter), asOf })).toThrow(CalcProblem)
  })
})

describe('the model year in position 10', () => {
  test.each<[string, number[], string]>([
    ['1HD1GP4558K319097', [2008], "public sample of the US registry's answers, read: a motorcycle of 2008"],
    ['4T1BE46K19U856421', [2009], 'tests of a public package, read'],
    [
      '1FACP45EXLF192944',
      [1990, 2020],
      'cycle of 30 years, computed; a motorcycle leaves it open, 73 FR 23367',
    ],
  ])('%s: %j (%s)', (number, years) => {
    expect(vin({ vin: number, asOf }).modelYears).toEqual(years)
  })

  test.each<[string, number, string]>([
    ['ABCDEFGH', 1980, '1980–87 / 2010–17'],
    ['JKLMN', 1988, '1988–92 / 2018–22'],
    ['P', 1993, '1993 / 2023'],
    ['RST', 1994, '1994–96 / 2024–26'],
    ['VWXY', 1997, '1997–2000 / 2027–30'],
    ['123456789', 2001, '2001–09 / 2031–39'],
  ])('%s from %d: %s (2004–39 read in a library table, 1980–2003 computed)', (codes, first) => {
    for (const [index, code] of [...codes].entries()) {
      const number = `1FACP45EX${code}F192944`
      const years = [first + index, first + index + 30].filter((year) => year <= 2039)
      expect(vin({ vin: number, asOf: '2038-01-01' }).modelYears).toEqual(years)
    }
  })

  test.each(['U', 'Z', '0'])('%s stands for no year (49 CFR 565.15(d), read in a copy)', (code) => {
    expect(vin({ vin: `1FACP45EX${code}F192944`, asOf }).modelYears).toEqual([])
  })
})

describe('what is no 17-character number (tests of a public package, read)', () => {
  test('JM3KE4BY6G06 is a short frame number', () => {
    expect(vin({ vin: 'JM3KE4BY6G06', asOf })).toMatchObject({ form: 'short', checkDigit: null })
  })

  test.each(['4T1B', ''])('%j is refused', (number) => {
    expect(() => vin({ vin: number, asOf })).toThrow(CalcProblem)
  })
})
