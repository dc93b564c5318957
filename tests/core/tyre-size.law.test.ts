import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { tyreSize } from '../../lib/core/codes/tyre-size'
import { loadKg, speedKmh } from '../../lib/core/codes/tyre-symbols'

const width = fc.integer({ min: 6, max: 40 }).map((tens) => tens * 10)
const ratio = fc.integer({ min: 5, max: 22 }).map((fives) => fives * 5)
const rim = fc.integer({ min: 8, max: 23 })
const middle = fc.constantFrom('-', 'R', 'B', 'ZR', 'HR', 'VB', 'S')
const service = fc.tuple(
  fc.constantFrom(...Object.keys(loadKg)),
  fc.constantFrom(...Object.keys(speedKmh)),
  fc.constantFrom('', '('),
)
const metric = fc
  .tuple(width, ratio, middle, rim, fc.option(service), fc.constantFrom('', ' M/C', ' M/C TL', ' REAR 4PR'))
  .map(([w, r, m, d, s, words]) => {
    const load = s === null ? '' : s[2] === '(' ? ` (${s[0]}${s[1]})` : ` ${s[0]}${s[1]}`
    return `${w}/${r}${m}${d}${words}${load}`
  })
const inch = fc
  .tuple(fc.integer({ min: 8, max: 24 }), fc.constantFrom('-', 'H', 'S', 'B'), rim)
  .map(([quarters, m, d]) => `${(quarters / 4).toFixed(2)}${m}${d}`)
const alphanumeric = fc
  .tuple(fc.constantFrom(...'HJMNPRTUV'), ratio, fc.constantFrom('-', 'B'), rim)
  .map(([letter, r, m, d]) => `M${letter}${r}${m}${d}`)
const anyMarking = fc.oneof(metric, inch, alphanumeric)

describe('for all markings', () => {
  it('the one form it is written in reads as the same tyre', () => {
    fc.assert(
      fc.property(anyMarking, (marking) => {
        const first = tyreSize({ marking })
        const again = tyreSize({ marking: first.marking })
        expect(again.marking).toBe(first.marking)
        expect({ ...again, alsoMarked: [...again.alsoMarked].sort() }).toEqual({
          ...first,
          alsoMarked: [...first.alsoMarked].sort(),
        })
      }),
    )
  })

  it('case and spaces change nothing', () => {
    fc.assert(
      fc.property(anyMarking, fc.array(fc.boolean()), (marking, flips) => {
        const flipped = [...marking].map((sign, index) => (flips[index] ? sign.toLowerCase() : sign)).join('')
        const spaced = `  ${flipped.replace(/([/-])/, ' $1 ').replace(/ /g, '  ')}  `
        expect(tyreSize({ marking: spaced })).toEqual(tyreSize({ marking }))
      }),
    )
  })

  it('the side wall is the ratio of the width, and the whole is the rim with a side wall at either end', () => {
    fc.assert(
      fc.property(width, ratio, rim, (w, r, d) => {
        const { sideWallMm, overallMm, rimIn, widthIn } = tyreSize({ marking: `${w}/${r}-${d}` })
        expect(sideWallMm * 100).toBeCloseTo(w * r, 6)
        expect(overallMm - rimIn * 25.4).toBeCloseTo(2 * sideWallMm, 6)
        expect(widthIn * 25.4).toBeCloseTo(w, 6)
      }),
    )
  })
})

describe('the tables', () => {
  it('a higher load index always carries more, within 3 % of the series 45 kg × 10^(index/80)', () => {
    const rows = Object.entries(loadKg).map(([index, kg]) => [Number(index), kg] as const)
    rows.forEach(([index, kg], row) => {
      if (row > 0) expect([index - 1, kg > rows[row - 1]![1]]).toEqual([rows[row - 1]![0], true])
      expect(Math.abs(kg / (45 * 10 ** (index / 80)) - 1)).toBeLessThan(0.03)
    })
  })

  it('each later speed symbol is faster, with H between U and V', () => {
    const speeds = Object.values(speedKmh)
    expect(speeds).toEqual([...new Set(speeds)].sort((a, b) => a - b))
    expect(Object.keys(speedKmh).join('')).toBe('BCDEFGJKLMNPQRSTUHVWY')
  })
})
