import { describe, expect, test } from 'vitest'
import { tyreSize } from '../../lib/core/codes/tyre-size'
import { loadKg, speedKmh, widthOfLetterMm } from '../../lib/core/codes/tyre-symbols'

describe('speed symbols in km/h', () => {
  test.each<[string, Record<string, number>]>([
    ['public tyre tables, read', { R: 170, S: 180, T: 190, U: 200, H: 210, V: 240, W: 270, Y: 300 }],
    ["a tyre dealer's table, read in a copy", { N: 140, P: 150, Q: 160 }],
    ['a table of speed codes beside load indexes, read in a copy', { L: 120, M: 130 }],
    ['from memory of the standard table', { B: 50, C: 60, D: 65, E: 70, F: 80, G: 90, J: 100, K: 110 }],
  ])('%s: %j', (_, rows) => {
    expect(speedKmh).toMatchObject(rows)
  })
})

describe('load indexes in kg', () => {
  test.each<[string, Record<number, number>]>([
    ['public tyre tables, read', { 58: 236, 62: 265, 63: 272, 73: 365, 80: 450 }],
    ['a table of load indexes, read in a copy', { 50: 190, 51: 195, 52: 200, 53: 206 }],
    [
      'tables of load indexes, read in copies that agree',
      {
        ...{ 60: 250, 61: 257, 64: 280, 65: 290, 66: 300, 67: 307, 68: 315, 69: 325, 70: 335, 71: 345 },
        ...{ 72: 355, 74: 375, 75: 387, 76: 400, 77: 412, 78: 425, 79: 437, 81: 462, 82: 475, 83: 487 },
        ...{ 84: 500, 85: 515, 86: 530, 87: 545, 88: 560, 89: 580, 90: 600, 91: 615, 92: 630, 93: 650 },
        ...{ 94: 670, 95: 690, 96: 710, 97: 730, 98: 750, 99: 775, 100: 800 },
      },
    ],
    [
      'from memory of the standard table',
      {
        ...{ 20: 80, 25: 92.5, 30: 106, 35: 121, 40: 140, 41: 145, 42: 150, 43: 155, 44: 160, 45: 165 },
        ...{ 46: 170, 47: 175, 48: 180, 49: 185, 54: 212, 55: 218, 56: 224, 57: 230, 59: 243 },
      },
    ],
  ])('%s', (_, rows) => {
    expect(loadKg).toMatchObject(rows)
  })
})

test('the width letters stand beside these metric widths (a trade conversion chart, read)', () => {
  // 2.50/2.75 to 6.00/6.25 in the same chart in inches.
  expect(widthOfLetterMm).toEqual({ H: 80, J: 90, M: 100, N: 110, P: 120, R: 120, T: 130, U: 140, V: 150 })
})

describe('markings', () => {
  test('190/50 ZR17 M/C (73W): 190 mm wide, side wall 95 mm, 270 km/h, 365 kg (read in a copy)', () => {
    expect(tyreSize({ marking: '190/50 ZR17 M/C (73W)' })).toMatchObject({
      widthMm: 190,
      sideWallMm: 95,
      rimIn: 17,
      construction: 'radial',
      load: { kg: 365 },
      speed: { kmh: 270 },
    })
  })

  test('130/90 has a side wall of 117 mm (a page on tyre sizes, read in a copy)', () => {
    expect(tyreSize({ marking: '130/90-17' }).sideWallMm).toBe(117)
  })

  test('MT90 is the same tyre as 130/90 (pages on tyre sizes, read in copies)', () => {
    const [letters, metric] = ['MT90-16', '130/90-16'].map((marking) => tyreSize({ marking }))
    expect(letters).toMatchObject({ widthMm: metric!.widthMm, overallMm: metric!.overallMm })
  })

  test('a hyphen is diagonal, B bias-belted, R radial (pages on tyre sizes, read in copies)', () => {
    const builds = ['5.00-16', '130/90B16', '130/90R16'].map((marking) => tyreSize({ marking }).construction)
    expect(builds).toEqual(['diagonal', 'bias-belted', 'radial'])
  })

  test('brackets promise more than the symbol, and ZR alone more than 240 km/h (the latter read in copies, the former from memory)', () => {
    expect(tyreSize({ marking: '120/70 ZR17 (58W)' }).speed).toMatchObject({ kmh: 270, bound: 'over' })
    expect(tyreSize({ marking: '120/70 ZR17' }).speed).toMatchObject({ kmh: 240, bound: 'over' })
  })
})
