import { describe, expect, it } from 'vitest'
import {
  countOf,
  formatDay,
  formatEstimate,
  formatHours,
  formatInstant,
  formatMoney,
  formatShare,
  formatValue,
  roundedTens,
} from '../../app/_ui/formats'
import { across, acrossOf, anchorAt, anchorOfWide, areaPath, cutAt, stairs } from '../../app/_ui/shapes'
import { minorFromTyped, typedMoney } from '../../lib/core/quantity/typed-money'

describe('how figures are written', () => {
  it.each([
    [145000, 'GBP', '£1,450'],
    [145050, 'GBP', '£1,450.50'],
    [-33500, 'GBP', '−£335'],
    [0, 'EUR', '€0'],
    [-0.3, 'GBP', '£0'],
    [99999.6, 'USD', '$1,000'],
  ])('%d minor units of %s are written %s', (minor, currency, text) => {
    expect(formatMoney(minor, currency)).toBe(text)
  })

  it.each([
    [123456, 123000],
    [123500, 124000],
    [-123500, -124000],
    [-400, 0],
    [0, 0],
  ])('%d rests on estimates and becomes %d, a whole ten', (minor, tens) => {
    expect(Object.is(roundedTens(minor), tens)).toBe(true)
    expect(formatEstimate(minor, 'GBP')).toBe(formatMoney(tens, 'GBP'))
  })

  it.each([
    [0, '0 h'],
    [0.02, 'under 0.1 h'],
    [2.35, '2.4 h'],
    [12, '12 h'],
  ])('%d hours are written %s', (hours, text) => {
    expect(formatHours(hours).replaceAll('\u00a0', ' ')).toBe(text)
  })

  it.each([
    [0, '0 %'],
    [0.001, 'under 1 %'],
    [0.1, '10 %'],
    [0.998, 'over 99 %'],
    [1, '100 %'],
  ])('a chance of %d is written %s, never as none or certain when it is not', (share, text) => {
    expect(formatShare(share).replaceAll('\u00a0', ' ')).toBe(text)
  })

  it('writes days, instants, values and counts the same on every machine', () => {
    expect(formatDay('2026-11-25')).toBe('25 Nov 2026')
    expect(formatInstant('2026-06-30T23:30:00Z', 'Europe/London')).toBe('1 Jul 2026, 00:30')
    expect(formatValue(4.5, 'mm')).toBe('4.5\u00a0mm')
    expect([countOf(1, 'bike'), countOf(2, 'bike')]).toEqual(['1 bike', '2 bikes'])
  })

  it.each([0, 5, 150, 145000, 145050, 2_147_483_647])(
    '%d comes back from its field as it went in',
    (minor) => {
      expect(minorFromTyped(typedMoney(minor))).toBe(minor)
    },
  )
})

describe('the geometry of the pictures', () => {
  it('puts the ends of a domain at the edges and keeps what lies outside there', () => {
    const at = across([10, 20])
    expect([at(10), at(15), at(20), at(0), at(99)]).toEqual([0, 50, 100, 0, 100])
  })

  it('leaves room around the outermost values, and around a single one', () => {
    const at = acrossOf([4.46, 5], 0.1)
    expect(at(4.46)).toBeCloseTo(100 / 12, 1)
    expect(at(5)).toBeCloseTo(1100 / 12, 1)
    expect(acrossOf([7])(7)).toBe(50)
    expect(acrossOf([0])(0)).toBe(50)
  })

  it('turns a label inwards near an edge', () => {
    expect([2, 50, 98].map(anchorAt)).toEqual(['start', 'middle', 'end'])
    expect([2, 30, 50, 70, 98].map(anchorOfWide)).toEqual(['start', 'start', 'middle', 'end', 'end'])
  })

  const outline = [
    { x: -10, y: 0 },
    { x: 10, y: 4 },
    { x: 30, y: 0 },
  ]

  it('cuts an outline where the line stands, on the line itself', () => {
    expect(cutAt(outline, 0, 'above')).toEqual([
      { x: 0, y: 2 },
      { x: 10, y: 4 },
      { x: 30, y: 0 },
    ])
    expect(cutAt(outline, 0, 'below')).toEqual([
      { x: -10, y: 0 },
      { x: 0, y: 2 },
    ])
    expect(cutAt(outline, 10, 'below')).toEqual(outline.slice(0, 2))
  })

  it('keeps all of an outline on the right side of the line and none on the wrong side', () => {
    expect(cutAt(outline, -20, 'above')).toEqual(outline)
    expect(cutAt(outline, 40, 'above')).toEqual([])
  })

  it('draws an area from the ground up and back down to it', () => {
    const path = areaPath(outline, { across: across([-10, 30]), height: 20, highest: 4 })
    expect(path).toBe('M0 20L0 20L50 0L100 20L100 20Z')
    expect(areaPath([], { across: across([0, 1]), height: 20, highest: 4 })).toBe('')
  })

  it('hangs each step where the one before it ended, down to the result on the ground', () => {
    const { drawn, zero } = stairs([
      { label: 'sale', minor: 1000, part: 'start' },
      { label: 'paid', minor: 600, part: 'less' },
      { label: 'work', minor: 300, part: 'less' },
      { label: 'margin', minor: 100, part: 'result' },
    ])
    const [sale, paid, work, margin] = drawn
    expect(sale?.from).toBe(zero)
    expect(paid?.to).toBe(sale?.to)
    expect(work?.to).toBe(paid?.from)
    expect(margin?.to).toBe(work?.from)
    expect(margin?.from).toBe(zero)
    expect(drawn.some((step) => step.below)).toBe(false)
  })

  it('lets a loss hang on the other side of zero', () => {
    const { drawn, zero } = stairs([
      { label: 'sale', minor: 500, part: 'start' },
      { label: 'paid', minor: 700, part: 'less' },
      { label: 'margin', minor: -200, part: 'result' },
    ])
    expect(drawn.map((step) => step.below)).toEqual([false, true, true])
    expect(drawn[2]?.to).toBe(zero)
    expect(drawn[2]?.from).toBeLessThan(zero)
  })
})
