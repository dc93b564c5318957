import { describe, expect, it, test } from 'vitest'
import { type TyreSize, tyreSize } from '../../lib/core/codes/tyre-size'
import { tyreSizeInput } from '../../lib/core/codes/tyre-size.input'
import { CalcProblem } from '../../lib/core/quantity/problem'

const problem = (marking: string): CalcProblem => {
  try {
    tyreSize({ marking })
  } catch (thrown) {
    if (thrown instanceof CalcProblem) return thrown
  }
  throw new Error(`${marking} was not refused`)
}

it('answers a marking with sizes, load and speed', () => {
  expect(tyreSize({ marking: '110/80-18 M/C 58H' })).toEqual({
    marking: '110/80-18 M/C 58H',
    system: 'metric',
    widthMm: 110,
    widthIn: 110 / 25.4,
    aspectPercent: 80,
    aspectFrom: 'marking',
    sideWallMm: 88,
    construction: 'diagonal',
    rimIn: 18,
    overallMm: 457.2 + 176,
    load: { index: 58, kg: 236 },
    speed: { symbol: 'H', kmh: 210, mph: 210 / 1.609344, bound: 'up-to' },
    alsoMarked: ['M/C'],
    words:
      '110 mm wide, side wall 88 mm (80 %), diagonal plies, for a rim of 18 in, carries 236 kg, made for up to 210 km/h (130 mph)',
    notes: [],
  } satisfies TyreSize)
})

describe('a marking', () => {
  test.each<[string, Partial<TyreSize>]>([
    ['190/50 ZR17 M/C (73W)', { construction: 'radial', sideWallMm: 95, load: { index: 73, kg: 365 } }],
    ['120/70 ZR 17 (58W)', { marking: '120/70 ZR17 (58W)', rimIn: 17, widthMm: 120, sideWallMm: 84 }],
    ['130/90B16 67H TL', { marking: '130/90 B16 67H TL', construction: 'bias-belted', alsoMarked: ['TL'] }],
    ['3.50-18 56P', { system: 'inch', widthMm: 88.9, aspectPercent: 100, aspectFrom: 'assumed' }],
    ['4.00 H 18', { marking: '4.00 H18', construction: 'diagonal', load: null, widthMm: 101.6 }],
    ['5,00S-16', { marking: '5.00 S16', widthMm: 127, rimIn: 16 }],
    ['4.25/85 H 18 64H', { aspectPercent: 85, aspectFrom: 'marking', system: 'inch' }],
    ['140/80VB17 69V', { construction: 'bias-belted', marking: '140/80 VB17 69V' }],
    ['140/90 HB-16', { construction: 'bias-belted', marking: '140/90 HB16' }],
    ['MT90B16', { system: 'alphanumeric', widthMm: 130, aspectPercent: 90, construction: 'bias-belted' }],
    ['MH90-21 54H', { widthMm: 80, marking: 'MH90-21 54H', construction: 'diagonal' }],
    ['90/90\u201321 m/c 54h tubeless', { marking: '90/90-21 M/C 54H TL', alsoMarked: ['M/C', 'TL'] }],
    ['150/70 R 17 M/C REAR 69H', { alsoMarked: ['M/C', 'REAR'], construction: 'radial' }],
    ['2.75-17 REINF 47P 6PR TT', { alsoMarked: ['REINF', '6PR', 'TT'], load: { index: 47, kg: 175 } }],
    ['120/70ZR17M/C(58W)TL', { marking: '120/70 ZR17 M/C (58W) TL' }],
    ['130/90 D 16 67S', { marking: '130/90-16 67S', construction: 'diagonal' }],
  ])('%s', (marking, expected) => {
    expect(tyreSize({ marking })).toMatchObject(expected)
  })
})

test.each([
  [
    '190/50 ZR17 M/C (73W)',
    '190 mm wide, side wall 95 mm (50 %), radial plies, for a rim of 17 in, carries 365 kg, made for more than 270 km/h (168 mph)',
  ],
  ['3.50-18', '88.9 mm wide, side wall about 88.9 mm (100 %), diagonal plies, for a rim of 18 in'],
])('%s in words', (marking, words) => {
  expect(tyreSize({ marking }).words).toBe(words)
})

describe('the speed', () => {
  test.each<[string, string, number, string]>([
    ['190/50 ZR17 (73W)', 'W', 270, 'over'],
    ['190/50 ZR17 73W', 'W', 270, 'up-to'],
    ['190/50 ZR17', 'Z', 240, 'over'],
    ['130/80 V18', 'V', 210, 'over'],
    ['130/80 V18 66V', 'V', 240, 'up-to'],
    ['4.00 H 18', 'H', 210, 'up-to'],
    ['3.50-18 56P', 'P', 150, 'up-to'],
  ])('of %s is %s, %d km/h, %s', (marking, symbol, kmh, bound) => {
    expect(tyreSize({ marking }).speed).toMatchObject({ symbol, kmh, bound })
  })

  it('is open where nothing tells it', () => {
    expect(tyreSize({ marking: '110/80-18' })).toMatchObject({ load: null, speed: null })
  })
})

describe('notes', () => {
  test.each<[string, RegExp[]]>([
    ['110/80-18 58H', []],
    ['110/80-18', [/No load index and no speed symbol/]],
    ['3.50-18 56P', [/No ratio is marked/]],
    ['4.00 H 18', [/No ratio/, /inside the size and no load index/]],
    ['190/50 ZR17', [/inside the size/, /Z alone means more than 240/]],
    ['190/50 ZR17 (73W)', [/Brackets mean a tyre for more than 270/]],
    ['190/50 ZR17 73H', [/Z, behind the load index H: the two do not agree/]],
    ['130/80 H18 66V', [/do not agree/]],
    ['MT90B16 72H', [/class of widths/]],
    ['3.00-17 NHS 50P 4PR', [/No ratio/, /not made for use on the road/, /plies/]],
  ])('on %s', (marking, expected) => {
    const { notes } = tyreSize({ marking })
    expect(notes).toHaveLength(expected.length)
    for (const [index, pattern] of expected.entries()) expect(notes[index]).toMatch(pattern)
  })
})

describe('what is refused', () => {
  test.each<[string, RegExp, RegExp]>([
    ['', /empty/, /190\/50 ZR17/],
    ['190/50 17', /no size/, /between ratio and rim is missing/],
    ['190/50/17', /no size/, /between ratio and rim is missing/],
    ['110-80-18', /no size/, /stroke: 110\/80-18/],
    ['0301', /no size/, /date code/],
    ['2 1/4-17', /no size/, /decimals/],
    ['big one', /no size/, /Type it/],
    ['190/50 Z17', /Z stands before an R/, /ZR/],
    ['190/50 XR17', /neither a build nor a speed/, /R, ZR, B/],
    ['19/50 ZR17', /width of 19 mm/, /Read the size again/],
    ['190/500 ZR17', /ratio of 500 %/, /again/],
    ['190/50 ZR71', /rim of 71 in/, /again/],
    ['190/50 ZR17 73', /73 has no speed letter/, /58H/],
    ['190/50 ZR17 (73W', /"\(73W" is not read/, /Leave out/],
    ['190/50 ZR17 173W', /173 is not in the table of load indexes, which goes from 20 to 100/, /again/],
    ['190/50 ZR17 73O', /O is no speed symbol/, /H, V/],
    ['190/50 ZR17 73W 73W', /"73W" is not read/, /Leave out/],
    ['190/50 ZR17 Roadgrip', /"ROADGRIP" is not read/, /maker's name/],
    ['ML90-16', /width letter L/, /MH?.*metric size/],
    ['1٩0/50 ZR17', /no size/, /Type it/],
  ])('%j', (marking, message, hint) => {
    expect(problem(marking).message).toMatch(message)
    expect(problem(marking).hint).toMatch(hint)
    expect(problem(marking).path).toEqual(['marking'])
  })

  test.each([
    [{ marking: 190 }, ['marking']],
    [{}, ['marking']],
    [{ marking: '1'.repeat(81) }, ['marking']],
  ])('%j by its form', (input, path) => {
    expect(tyreSizeInput.safeParse(input).error?.issues[0]?.path).toEqual(path)
  })
})
