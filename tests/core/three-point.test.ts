import { describe, expect, it, test } from 'vitest'
import { z } from 'zod'
import { cdfOf, meanExcess, meanOf, nodesOf, sdOf, type Uncertain } from '../../lib/core/quantity/three-point'
import { uncertain } from '../../lib/core/quantity/three-point.input'

test.each<[Uncertain, number, number]>([
  [7, 7, 0],
  [{ low: 7, likely: 7, high: 7 }, 7, 0],
  [{ low: 0, likely: 0, high: 6 }, 1, Math.sqrt(5 / 7)],
  [{ low: 0, likely: 3, high: 6 }, 3, 3 / Math.sqrt(7)],
  [{ low: 1e9, likely: 1e9 + 1, high: 1e9 + 2 }, 1e9 + 1, 1 / Math.sqrt(7)],
])('%j has the mean %d and the deviation %d', (value, mean, sd) => {
  expect(meanOf(value)).toBeCloseTo(mean, 9)
  expect(sdOf(value)).toBeCloseTo(sd, 9)
})

test.each<[Uncertain, number, number]>([
  [5, 4.999, 0],
  [5, 5, 1],
  [{ low: 0, likely: 0.5, high: 1 }, 0.5, 0.5],
  [{ low: 0, likely: 0, high: 1 }, 0.5, 1 - 0.5 ** 5],
  [{ low: 0, likely: 1, high: 1 }, 0.5, 0.5 ** 5],
  [{ low: 0, likely: 1, high: 1 }, -1, 0],
  [{ low: 0, likely: 1, high: 1 }, 2, 1],
])('%j lies at or below %d with the chance %d', (value, x, chance) => {
  expect(cdfOf(value, x)).toBeCloseTo(chance, 12)
})

describe('the mean of what is above a threshold', () => {
  const value = { low: 100, likely: 130, high: 220 }

  it('is the mean less the threshold below all values, and nothing above them', () => {
    expect(meanExcess(value, 60)).toBeCloseTo(meanOf(value) - 60, 10)
    expect(meanExcess(value, 220)).toBe(0)
    expect(meanExcess(50, 20)).toBe(30)
    expect(meanExcess(50, 80)).toBe(0)
  })

  it('agrees with the same mean taken over weighted values', () => {
    for (const threshold of [105, 130, 150, 200]) {
      const summed = nodesOf(value, 400).reduce(
        (sum, node) => sum + node.weight * Math.max(0, node.value - threshold),
        0,
      )
      expect(meanExcess(value, threshold)).toBeCloseTo(summed, 3)
    }
  })
})

describe('the schema', () => {
  const schema = uncertain(z.number().min(0))

  it('takes plain numbers and three points in rising order', () => {
    expect(schema.parse(3)).toBe(3)
    expect(schema.parse({ low: 1, likely: 1, high: 2 })).toEqual({ low: 1, likely: 1, high: 2 })
  })

  test.each([
    [{ low: 2, likely: 1, high: 3 }],
    [{ low: 1, likely: 3, high: 2 }],
    [{ low: 1, likely: 2 }],
    [{ low: 1, likely: 2, high: 3, mean: 2 }],
    [{ low: -1, likely: 2, high: 3 }],
    ['3'],
    [Number.NaN],
  ])('refuses %j', (value) => {
    expect(schema.safeParse(value).success).toBe(false)
  })
})
