import { describe, expect, it, test } from 'vitest'
import { estimate, estimateSpread } from '../../lib/core/work/estimate'
import { type EstimateRawInput, estimateInput } from '../../lib/core/work/estimate.input'
import { closureOf, faultInNeeds } from '../../lib/core/work/union'
import { chanceFrom } from '../../lib/desk/bench/chance'
import { drawnQuantile, simulatedSorted } from '../../lib/desk/bench/plain-simulation'

const of = (input: EstimateRawInput) => estimate(estimateInput.parse(input))

const stuck = [
  { name: 'free', chance: 0.7, factor: 1 },
  { name: 'stiff', chance: 0.25, factor: 1.4 },
  { name: 'seized', chance: 0.05, factor: 2.2 },
]

const bootsAndReseal: EstimateRawInput = {
  labourRate: 5200,
  operations: {
    'tank-off': { hours: { low: 0.2, likely: 0.3, high: 0.6 } },
    'carbs-off': { hours: { low: 0.8, likely: 1.2, high: 2.5 }, needs: ['tank-off'] },
  },
  jobs: [
    {
      key: 'intake-boots',
      operations: ['carbs-off'],
      hours: { low: 0.3, likely: 0.5, high: 1 },
      parts: [{ name: 'boot', qty: 4, unitCost: { low: 900, likely: 1400, high: 2600 } }],
    },
    {
      key: 'tank-reseal',
      operations: ['tank-off'],
      hours: 2.5,
      parts: [{ name: 'sealer kit', unitCost: 4800 }],
      chance: 0.35,
    },
  ],
  fasteners: stuck,
}

describe('two jobs that share taking the tank off', () => {
  const result = of(bootsAndReseal)
  // Means of three points: tank 1/3, carburettors 1.35, boots 0.55 h; mean factor 0.7 + 0.35 + 0.11 = 1.16.
  const tank = 2 / 6
  const slowed = 1.16

  it('takes it off once', () => {
    expect(result.hours.mean).toBeCloseTo(slowed * (tank + 1.35 + 0.55 + 0.35 * 2.5), 10)
    expect(result.hoursSavedBySharing.mean).toBeCloseTo(slowed * 0.35 * tank, 10)
  })

  it('names who shares an operation, through what it needs too', () => {
    expect(result.operations).toEqual([
      { key: 'tank-off', chance: 1, sharedBy: ['intake-boots', 'tank-reseal'] },
      { key: 'carbs-off', chance: 1, sharedBy: ['intake-boots'] },
    ])
  })

  it('splits it evenly where both happen', () => {
    const [boots, reseal] = result.lines
    expect(boots!.hoursMean).toBeCloseTo(slowed * (1.35 + 0.55 + tank * (0.65 + 0.35 / 2)), 10)
    expect(reseal!.hoursMean).toBeCloseTo(slowed * 0.35 * (2.5 + tank / 2), 10)
    expect(boots!.costMean + reseal!.costMean).toBeCloseTo(result.cost.mean, 6)
  })

  it('is answered from all outcomes, with quantiles in order', () => {
    expect(result.method).toBe('exact')
    const { '0.1': low, '0.5': middle, '0.9': high } = result.cost.quantiles
    expect(low!).toBeLessThan(middle!)
    expect(middle!).toBeLessThan(high!)
  })

  it('gives shapes of both distributions for drawing', () => {
    const { cost, hours } = estimateSpread(estimateInput.parse(bootsAndReseal))
    expect(cost.from).toBeLessThan(result.cost.quantiles['0.1']!)
    expect(hours.to).toBeGreaterThan(result.hours.quantiles['0.9']!)
  })
})

describe('at the edges', () => {
  const guess = { low: 1, likely: 2, high: 4 }

  test.each<[string, EstimateRawInput, { mean: number; quantiles: Record<string, number> }]>([
    [
      'no job costs nothing',
      { labourRate: 5200, jobs: [] },
      { mean: 0, quantiles: { 0.1: 0, 0.5: 0, 0.9: 0 } },
    ],
    [
      'with everything plain each quantile is the amount',
      {
        labourRate: 5200,
        jobs: [
          { key: 'a', hours: 1.5, parts: [{ name: 'oil', qty: 2.5, unitCost: 1000 }], outsideWork: 700 },
        ],
      },
      { mean: 11_000, quantiles: { 0.1: 11_000, 0.5: 11_000, 0.9: 11_000 } },
    ],
    [
      'a job that never happens adds nothing',
      { labourRate: 5200, jobs: [{ key: 'a', hours: guess, chance: 0 }] },
      { mean: 0, quantiles: { 0.1: 0, 0.5: 0, 0.9: 0 } },
    ],
    [
      'a chance of 0.1 stays below the level 0.9, and one of a half reaches it',
      {
        labourRate: 1000,
        jobs: [
          { key: 'a', hours: 1, chance: 0.1 },
          { key: 'b', hours: 10, chance: 0.5 },
        ],
        quantiles: [0.45, 0.5, 0.9, 0.95],
      },
      { mean: 5100, quantiles: { 0.45: 0, 0.5: 1000, 0.9: 10_000, 0.95: 10_000 } },
    ],
    [
      'free labour leaves the parts',
      { labourRate: 0, jobs: [{ key: 'a', hours: guess, parts: [{ name: 'p', unitCost: 500 }] }] },
      { mean: 500, quantiles: { 0.1: 500, 0.5: 500, 0.9: 500 } },
    ],
    [
      'low = likely = high is certain',
      { labourRate: 1000, jobs: [{ key: 'a', hours: { low: 2, likely: 2, high: 2 } }] },
      { mean: 2000, quantiles: { 0.1: 2000, 0.5: 2000, 0.9: 2000 } },
    ],
    [
      'of a group whose symptom is real exactly one job happens',
      {
        labourRate: 1000,
        jobs: [
          { key: 'a', hours: 1 },
          { key: 'b', hours: 2 },
          { key: 'c', hours: 3 },
        ],
        oneOf: [{ name: 'no-charge', jobs: { a: 0.4, b: 0.4, c: 0.2 } }],
        quantiles: [0.4, 0.41, 0.8, 0.81],
      },
      { mean: 1800, quantiles: { 0.4: 1000, 0.41: 2000, 0.8: 2000, 0.81: 3000 } },
    ],
    [
      'a symptom that is not real brings none of its jobs',
      {
        labourRate: 1000,
        jobs: [
          { key: 'a', hours: 1 },
          { key: 'b', hours: 2 },
        ],
        oneOf: [{ name: 'no-charge', chance: 0, jobs: { a: 0.5, b: 0.5 } }],
      },
      { mean: 0, quantiles: { 0.1: 0, 0.5: 0, 0.9: 0 } },
    ],
    [
      'chances by state of care are drawn together',
      {
        labourRate: 1000,
        care: [
          { name: 'kept', chance: 0.6 },
          { name: 'neglected', chance: 0.4 },
        ],
        jobs: [
          { key: 'a', hours: 1, chance: { kept: 0, neglected: 1 } },
          { key: 'b', hours: 1, chance: { kept: 0, neglected: 1 } },
        ],
        quantiles: [0.6, 0.61],
      },
      { mean: 800, quantiles: { 0.6: 0, 0.61: 2000 } },
    ],
    [
      'stuck fasteners leave alone what is kept out of the factor',
      {
        labourRate: 1000,
        fasteners: [{ name: 'seized', chance: 1, factor: 3 }],
        operations: { ride: { hours: 1, fasteners: false } },
        jobs: [{ key: 'a', operations: ['ride'], hours: 2 }],
      },
      { mean: 7000, quantiles: { 0.1: 7000, 0.5: 7000, 0.9: 7000 } },
    ],
  ])('%s', (_, input, expected) => {
    const { cost } = of(input)
    expect(cost.mean).toBeCloseTo(expected.mean, 9)
    expect(Object.keys(cost.quantiles).sort()).toEqual(Object.keys(expected.quantiles).sort())
    for (const [level, value] of Object.entries(expected.quantiles)) {
      expect(cost.quantiles[level]).toBeCloseTo(value, 6)
    }
  })

  it('a part line is so many times one drawn price, so its deviation grows with the number', () => {
    const price = { low: 900, likely: 1400, high: 2600 }
    const line = (qty: number) =>
      of({ labourRate: 0, jobs: [{ key: 'a', parts: [{ name: 'boot', qty, unitCost: price }] }] }).cost.sd
    expect(line(4)).toBeCloseTo(4 * line(1), 9)
  })

  it('the level 1 is the most that can come out', () => {
    const { cost } = of({ labourRate: 1000, jobs: [{ key: 'a', hours: guess, chance: 0.2 }], quantiles: [1] })
    expect(cost.quantiles).toEqual({ 1: 4000 })
  })

  it('a deviation far smaller than its mean is still exact', () => {
    const { cost } = of({
      labourRate: 0,
      jobs: [
        { key: 'a', outsideWork: 2_000_000_000 },
        { key: 'b', outsideWork: { low: 100, likely: 103, high: 106 } },
      ],
    })
    expect(cost.sd).toBeCloseTo(3 / Math.sqrt(7), 9)
  })
})

describe('many open jobs', () => {
  const jobs = (count: number, operations: (job: number) => string[]) =>
    Array.from({ length: count }, (_, job) => ({
      key: `job ${job}`,
      operations: operations(job),
      hours: { low: 0.1, likely: 0.2, high: 1 },
      chance: 0.05 + ((job * 7) % 10) / 30,
    }))
  const named = (count: number) =>
    Object.fromEntries(
      Array.from({ length: count }, (_, place) => [`op ${place}`, { hours: { low: 1, likely: 2, high: 4 } }]),
    )

  it('one job that needs 70 operations, each of which another job needs too, is two states at a time', () => {
    const all = Object.keys(named(70))
    const result = of({
      labourRate: 5000,
      operations: named(70),
      jobs: [...jobs(70, (job) => [`op ${job}`]), { key: 'all', operations: all, chance: 0.5 }],
    })
    expect(result.method).toBe('exact')
  })

  it('above 20,000 states a simulation says so, the same each time, with means that are still exact', () => {
    const random = chanceFrom(3)
    const tangled: EstimateRawInput = {
      labourRate: 5000,
      operations: named(40),
      jobs: jobs(60, () => Array.from({ length: 5 }, () => `op ${Math.floor(random() * 40)}`)).map((job) => ({
        ...job,
        // So rare that a draw is short; the states are as many.
        chance: job.chance / 4,
      })),
      fasteners: stuck,
      quantiles: [0.25, 0.5, 0.75, 0.95],
    }
    const result = of(tangled)
    expect(result.method).toBe('simulation')
    expect(of(tangled)).toEqual(result)
    const sum = result.lines.reduce((total, line) => total + line.costMean, 0)
    expect(sum / result.cost.mean).toBeCloseTo(1, 9)

    const draws = 20_000
    const drawn = simulatedSorted(estimateInput.parse(tangled), { draws, seed: 11 })
    const mean = drawn.cost.reduce((total, cost) => total + cost / draws, 0)
    expect(Math.abs(mean - result.cost.mean)).toBeLessThan((5 * result.cost.sd) / Math.sqrt(draws))
    for (const level of [0.25, 0.5, 0.75, 0.95]) {
      const error = 5 * Math.sqrt((level * (1 - level)) / draws)
      const found = result.hours.quantiles[String(level)]!
      expect(found).toBeGreaterThan(drawnQuantile(drawn.hours, level - error))
      expect(found).toBeLessThan(drawnQuantile(drawn.hours, level + error))
    }
  })
})

describe('the union of operations', () => {
  const operations = new Map([
    ['tank-off', { needs: [] }],
    ['carbs-off', { needs: ['tank-off'] }],
    ['head-off', { needs: ['carbs-off', 'tank-off'] }],
  ])

  it('holds what is needed, and what that needs, once', () => {
    expect([...closureOf(['head-off', 'carbs-off'], operations)].sort()).toEqual([
      'carbs-off',
      'head-off',
      'tank-off',
    ])
  })

  it('tells the first name that is unknown and the ring that leads back', () => {
    expect(faultInNeeds(operations)).toBeNull()
    expect(faultInNeeds(new Map([['a', { needs: ['b'] }]]))).toMatchObject({
      kind: 'unknown',
      operation: 'a',
      at: 0,
    })
    const ring = new Map([
      ['a', { needs: ['b'] }],
      ['b', { needs: ['c'] }],
      ['c', { needs: ['b'] }],
    ])
    expect(faultInNeeds(ring)).toEqual({ kind: 'cycle', operation: 'c', at: 0, names: ['b', 'c', 'b'] })
    expect(faultInNeeds(new Map([['a', { needs: ['a'] }]]))).toMatchObject({ kind: 'cycle', operation: 'a' })
  })

  it('is not troubled by a long chain', () => {
    const chain = new Map(
      Array.from({ length: 20_000 }, (_, n) => [`o${n}`, { needs: n > 0 ? [`o${n - 1}`] : [] }] as const),
    )
    expect(faultInNeeds(new Map([...chain].reverse()))).toBeNull()
    expect(closureOf(['o19999'], chain).size).toBe(20_000)
  })
})

test('chances that miss 1 by a billionth are taken', () => {
  const thirds = ['x', 'y', 'z'].map((name) => ({ name, chance: 0.3333333333, factor: 1 }))
  expect(estimateInput.safeParse({ labourRate: 1, jobs: [], fasteners: thirds }).success).toBe(true)
})

test('what is left out gets its default', () => {
  expect(
    estimateInput.parse({ labourRate: 1, jobs: [{ key: 'a' }], operations: { o: { hours: 1 } } }),
  ).toEqual({
    labourRate: 1,
    operations: { o: { hours: 1, needs: [], fasteners: true } },
    jobs: [{ key: 'a', operations: [], hours: 0, parts: [], outsideWork: 0, fasteners: true }],
    fasteners: [{ name: 'free', chance: 1, factor: 1 }],
    oneOf: [],
    quantiles: [0.1, 0.5, 0.9],
  })
})
