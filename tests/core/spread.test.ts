import { describe, expect, it, test } from 'vitest'
import { shapeOf } from '../../lib/core/quantity/shape'
import { cdf, quantile, type Spread } from '../../lib/core/quantity/spread'
import { cdfOf, type Uncertain } from '../../lib/core/quantity/three-point'
import { workSpreads } from '../../lib/core/work/estimate'
import { type EstimateRawInput, estimateInput } from '../../lib/core/work/estimate.input'

const hoursOf = (work: Omit<EstimateRawInput, 'labourRate'>) =>
  workSpreads(estimateInput.parse({ labourRate: 0, ...work })).hours()

describe('single values', () => {
  const spread: Spread = {
    mean: 3,
    sd: 2,
    min: 0,
    max: 10,
    atoms: [
      { at: 0, mass: 0.1 + 0.2 },
      { at: 2, mass: 0.4 },
      { at: 10, mass: 0.3 },
    ],
    body: null,
  }

  test.each([
    [0.1, 0],
    [0.3, 0],
    [0.31, 2],
    [0.7, 2],
    [0.71, 10],
    [1, 10],
  ])('the smallest value that reaches the level %d is %d', (level, value) => {
    expect(quantile(spread, level)).toBe(value)
  })

  it('count at their own place and not just below it', () => {
    expect(cdf(spread, 1.999)).toBeCloseTo(0.3, 12)
    expect(cdf(spread, 2)).toBeCloseTo(0.7, 12)
  })

  it('are drawn as themselves', () => {
    expect(shapeOf(spread).atoms).toEqual(spread.atoms)
  })
})

test.each<[string, Uncertain]>([
  ['even', { low: 1, likely: 2, high: 3 }],
  ['skewed', { low: 1, likely: 1.2, high: 5 }],
  ['steepest at its low end', { low: 1, likely: 1, high: 4 }],
  ['steepest at its high end', { low: 0, likely: 4, high: 4 }],
  ['far from 0 and narrow', { low: 1e5, likely: 1e5 + 0.01, high: 1e5 + 0.03 }],
])('one three-point value, %s, comes back as itself', (_, value) => {
  const spread = hoursOf({ jobs: [{ key: 'only', hours: value }] })
  const width = spread.max - spread.min
  for (const level of [0.001, 0.01, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99, 0.999]) {
    const x = quantile(spread, level)
    expect(cdfOf(value, x - 0.001 * width)).toBeLessThanOrEqual(level)
    expect(cdfOf(value, x + 0.001 * width)).toBeGreaterThanOrEqual(level)
  }
})

test('two causes, the rarer one with the lower and the wider price, keep their levels', () => {
  // The bound below which nothing lies is taken where both prices come to next to nothing.
  const rare = { low: 3474, likely: 28_584, high: 51_278 }
  const usual = { low: 35_103, likely: 41_081, high: 41_713 }
  const spread = hoursOf({
    jobs: [
      { key: 'rare', hours: rare },
      { key: 'usual', hours: usual },
    ],
    oneOf: [{ name: 'cause', jobs: { rare: 0.04, usual: 0.96 } }],
  })
  for (const level of [0.001, 0.01, 0.03, 0.1, 0.5, 0.9, 0.99]) {
    const x = quantile(spread, level)
    const below = (at: number) => 0.04 * cdfOf(rare, at) + 0.96 * cdfOf(usual, at)
    expect(below(x - 60)).toBeLessThanOrEqual(level)
    expect(below(x + 60)).toBeGreaterThanOrEqual(level)
  }
})

test('a value that is guessed and then slowed keeps its level', () => {
  const value = { low: 1, likely: 2, high: 4 }
  const plain = hoursOf({ jobs: [{ key: 'only', hours: value }] })
  const slowed = hoursOf({
    jobs: [{ key: 'only', hours: value }],
    fasteners: [{ name: 'seized', chance: 1, factor: 2.2 }],
  })
  for (const level of [0.1, 0.5, 0.9]) {
    expect(quantile(slowed, level)).toBeCloseTo(2.2 * quantile(plain, level), 3)
  }
})

describe('amounts of very different size', () => {
  const value = { low: 1, likely: 2, high: 4 }

  test.each([1e-6, 1e-5, 1e-4, 4e-4])(
    'one that is 100,000 times as large and comes with the chance %d does not blur the rest',
    (chance) => {
      const spread = hoursOf({
        jobs: [
          { key: 'usual', hours: value },
          { key: 'rare', hours: { low: 1e5, likely: 2e5, high: 4e5 }, chance },
        ],
      })
      for (const level of [0.1, 0.5, 0.9]) {
        expect(cdfOf(value, quantile(spread, level)) * (1 - chance)).toBeCloseTo(level, 3)
      }
    },
  )

  test.each([300, 1e4, 9e5])(
    'a symptom that is real, of which either cause costs %d and a little, keeps its own shape',
    (least) => {
      const [one, other] = [
        { low: least, likely: least + 40, high: least + 100 },
        { low: least + 50, likely: least + 100, high: least + 200 },
      ]
      const operations = { 'tank-off': { hours: least } }
      const spread = hoursOf({
        operations,
        jobs: [
          { key: 'connector', hours: one, operations: ['tank-off'] },
          { key: 'stator', hours: other, operations: ['tank-off'] },
        ],
        oneOf: [{ name: 'no-charge', jobs: { connector: 0.3, stator: 0.7 } }],
      })
      for (const level of [0.01, 0.1, 0.5, 0.9, 0.99]) {
        const own = quantile(spread, level) - least
        expect(0.3 * cdfOf(one, own) + 0.7 * cdfOf(other, own)).toBeCloseTo(level, 3)
      }
    },
  )

  it('a small guess on top of a large certain amount keeps its own shape', () => {
    const spread = hoursOf({
      jobs: [
        { key: 'large', hours: 1e6 },
        { key: 'small', hours: { low: 0, likely: 0, high: 0.001 } },
      ],
    })
    expect(cdfOf({ low: 0, likely: 0, high: 0.001 }, quantile(spread, 0.5) - 1e6)).toBeCloseTo(0.5, 2)
  })
})

describe('a shape for drawing', () => {
  it('has 41 points over nearly all the probability, the highest of them 1', () => {
    const shape = shapeOf(hoursOf({ jobs: [{ key: 'only', hours: { low: 1, likely: 2, high: 4 } }] }))
    expect(shape.points).toHaveLength(41)
    expect(Math.max(...shape.points.map(({ y }) => y))).toBe(1)
    const top = shape.points.find(({ y }) => y === 1)!
    expect(Math.abs(top.x - 2)).toBeLessThan(0.15)
    expect(shape.atoms).toEqual([])
  })

  it('keeps the chance that nothing is found apart from the rest', () => {
    const shape = shapeOf(
      hoursOf({ jobs: [{ key: 'only', hours: { low: 1, likely: 2, high: 4 }, chance: 0.25 }] }),
    )
    expect(shape.atoms).toEqual([{ at: 0, mass: 0.75 }])
    expect(shape.points.filter(({ x, y }) => x < 0.9 && y > 0.01)).toEqual([])
  })

  it('is a single value where nothing is open', () => {
    const shape = shapeOf(hoursOf({ jobs: [{ key: 'only', hours: 2 }] }))
    expect(shape).toEqual({ from: 2, to: 2, points: [], atoms: [{ at: 2, mass: 1 }] })
  })
})
