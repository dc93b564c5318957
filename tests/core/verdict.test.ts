import { describe, expect, it, test } from 'vitest'
import { type Judgement, verdict } from '../../lib/core/measure/verdict'
import { type VerdictRawInput, verdictInput } from '../../lib/core/measure/verdict.input'
import { CalcProblem } from '../../lib/core/quantity/problem'

const judge = (input: VerdictRawInput) => verdict(verdictInput.parse(input))

const disc: VerdictRawInput = {
  readings: [4.47, 4.46, 4.5],
  unit: 'mm',
  limit: { min: 4.5, asNew: 5, unit: 'mm' },
  judgedOn: 'lowest',
  instrument: { resolution: 0.01, unit: 'mm', standardUncertainty: 0.004 },
  rule: 'guarded',
}
const exact: VerdictRawInput = { ...disc, instrument: undefined, rule: 'simple' }
const slackOf: VerdictRawInput = {
  readings: [32],
  unit: 'mm',
  limit: { min: 25, max: 35, unit: 'mm' },
  judgedOn: 'each',
  instrument: { resolution: 1, unit: 'mm' },
  rule: 'guarded',
}

it('answers with all that the verdict rests on', () => {
  const found = judge(disc)
  expect(found).toEqual({
    value: 4.46,
    unit: 'mm',
    standardUncertainty: expect.closeTo(0.0049329, 7),
    conformanceProbability: expect.closeTo(0, 12),
    verdict: 'outside',
    wearLeft: expect.closeTo(-0.08, 12),
    worstIndex: 1,
    missing: 0,
    belowSaleLine: null,
  })
})

describe('the two rules', () => {
  test.each<[number, VerdictRawInput['rule'], Judgement['verdict']]>([
    [4.49, 'simple', 'outside'],
    [4.5, 'simple', 'within'],
    [4.49, 'guarded', 'outside'],
    [4.5, 'guarded', 'too-close'],
    [4.509, 'guarded', 'too-close'],
    [4.51, 'guarded', 'within'],
  ])('%d mm against 4.5 by the %s rule is %s', (reading, rule, expected) => {
    expect(judge({ ...disc, readings: [reading], rule }).verdict).toBe(expected)
  })

  it('are the same without uncertainty, and the probability is 1 or 0', () => {
    for (const rule of ['simple', 'guarded'] as const) {
      const at = (reading: number) => judge({ ...exact, readings: [reading], rule })
      expect(at(4.5)).toMatchObject({ verdict: 'within', conformanceProbability: 1, standardUncertainty: 0 })
      expect(at(4.4999)).toMatchObject({ verdict: 'outside', conformanceProbability: 0 })
    }
  })

  it('takes two standard uncertainties to spare, not less, for within', () => {
    const u = 0.05
    const at = (reading: number) =>
      judge({
        ...disc,
        readings: [reading],
        instrument: { resolution: 0, unit: 'mm', standardUncertainty: u },
      }).verdict
    expect(at(4.6)).toBe('within')
    expect(at(4.5999)).toBe('too-close')
  })

  it('keeps both bounds of a limit with two', () => {
    const at = (reading: number) => judge({ ...slackOf, readings: [reading] }).verdict
    expect([24, 25, 26, 34, 35, 36].map(at)).toEqual([
      'outside',
      'too-close',
      'within',
      'within',
      'too-close',
      'outside',
    ])
  })
})

describe('which value counts', () => {
  test.each<[VerdictRawInput['judgedOn'], number[], number, number | null]>([
    ['lowest', [4.6, 4.5, 4.5], 4.5, 1],
    ['highest', [4.6, 4.7, 4.7], 4.7, 1],
    ['mean', [4.6, 4.8], 4.7, null],
    ['mean', [4.6], 4.6, null],
  ])('%s of %j is %d', (judgedOn, readings, value, worstIndex) => {
    const found = judge({ ...disc, judgedOn, readings })
    expect(found.value).toBeCloseTo(value, 12)
    expect(found.worstIndex).toBe(worstIndex)
  })

  test.each<[string, number[], number]>([
    ['nearest to a bound', [30, 34, 27], 1],
    ['furthest past a bound', [24, 37, 34], 1],
    ['past a bound before near one', [25, 36, 34.9], 1],
    ['the first of equals', [27, 33, 27], 0],
    ['the first of equals on either side', [33, 27], 0],
  ])('each: %s', (_, readings, worstIndex) => {
    expect(judge({ ...slackOf, readings })).toMatchObject({ worstIndex, value: readings[worstIndex] })
  })

  it('each: equals to the last bit or nearly are equals', () => {
    const limit = { min: 4.45, max: 5.05, unit: 'mm' } as const
    expect(judge({ ...slackOf, limit, readings: [4.47, 5.03] }).worstIndex).toBe(0)
    expect(judge({ ...slackOf, limit, readings: [5.03, 4.47] }).worstIndex).toBe(0)
  })
})

describe('uncertainty', () => {
  it('of the mean takes in how the readings scatter', () => {
    const found = judge({ ...exact, judgedOn: 'mean', readings: [4.6, 4.7, 4.8] })
    expect(found.standardUncertainty).toBeCloseTo(0.1 / Math.sqrt(3), 12)
  })

  it('of the mean of equal readings is that of the instrument alone', () => {
    const found = judge({
      ...exact,
      judgedOn: 'mean',
      readings: [0.1, 0.1, 0.1],
      limit: { min: 0.1, unit: 'mm' },
    })
    expect(found).toMatchObject({ value: 0.1, standardUncertainty: 0, conformanceProbability: 1 })
  })

  it('does not take in the scatter where one reading counts', () => {
    expect(judge({ ...disc, readings: [4.6, 4.9] }).standardUncertainty).toBeCloseTo(0.0049329, 7)
  })

  it('loses no small chance to rounding', () => {
    const far = { ...disc, instrument: { resolution: 0, unit: 'mm', standardUncertainty: 0.01 } } as const
    const below = judge({ ...far, readings: [4.4], limit: { min: 4.5, max: 9, unit: 'mm' } })
    const above = judge({ ...far, readings: [9.1], limit: { min: 4.5, max: 9, unit: 'mm' } })
    expect(below.conformanceProbability).toBeGreaterThan(0)
    expect(below.conformanceProbability).toBeCloseTo(above.conformanceProbability ?? 0, 30)
  })
})

describe('units', () => {
  it('readings, limit, instrument and sale line may each have their own', () => {
    const found = judge({
      readings: [0.215],
      unit: 'in',
      limit: { min: 5.461, unit: 'mm' },
      judgedOn: 'lowest',
      instrument: { resolution: 1, unit: 'in32' },
      rule: 'simple',
      saleLine: { min: 7, unit: 'in32' },
    })
    expect(found).toMatchObject({ verdict: 'within', unit: 'mm', belowSaleLine: true })
    expect(found.value).toBeCloseTo(5.461, 12)
    expect(found.standardUncertainty).toBeCloseTo(0.79375 / (2 * Math.sqrt(3)), 12)
  })

  it('a temperature converts by scale and zero, its uncertainty by scale only', () => {
    const found = judge({
      readings: [212],
      unit: 'degF',
      limit: { max: 100, unit: 'degC' },
      judgedOn: 'highest',
      instrument: { resolution: 0, unit: 'degF', standardUncertainty: 9 },
      rule: 'simple',
    })
    expect(found).toMatchObject({ value: 100, standardUncertainty: 5, verdict: 'within' })
  })

  test.each<[string, Partial<VerdictRawInput>, string[]]>([
    ['a limit', { limit: { min: 12.4, unit: 'V' } }, ['limit', 'unit']],
    ['an instrument', { instrument: { resolution: 1, unit: 'kPa' } }, ['instrument', 'unit']],
    ['a sale line', { saleLine: { min: 1, unit: '%' } }, ['saleLine', 'unit']],
  ])('%s in a unit of another kind is refused', (_, change, path) => {
    try {
      judge({ ...disc, ...change })
      expect.unreachable()
    } catch (problem) {
      expect(problem).toBeInstanceOf(CalcProblem)
      expect((problem as CalcProblem).path).toEqual(path)
    }
  })
})

describe('too few positions', () => {
  test.each<[number, Judgement['verdict']]>([
    [4.9, 'not-judged'],
    [4.505, 'too-close'],
    [4.4, 'outside'],
  ])('one of four at %d mm is %s', (reading, expected) => {
    expect(judge({ ...disc, readings: [reading], positions: 4 })).toMatchObject({
      verdict: expected,
      missing: 3,
    })
  })

  it('more than are needed lack nothing', () => {
    expect(judge({ ...exact, readings: [5, 5, 5], positions: 2 })).toMatchObject({
      verdict: 'within',
      missing: 0,
    })
  })
})

describe('without a limit', () => {
  const open: VerdictRawInput = { readings: [0.2, 0.19], unit: 'in', judgedOn: 'lowest' }

  it('the value is answered in the unit of the readings and nothing is judged', () => {
    expect(judge({ ...open, positions: 3, instrument: { resolution: 0.254, unit: 'mm' } })).toEqual({
      value: 0.19,
      unit: 'in',
      standardUncertainty: expect.closeTo(0.01 / (2 * Math.sqrt(3)), 12),
      conformanceProbability: null,
      verdict: 'not-judged',
      wearLeft: null,
      worstIndex: 1,
      missing: 1,
      belowSaleLine: null,
    })
  })

  it('the sale line still speaks, and stands in for the bound that each looks for', () => {
    const found = judge({ ...open, judgedOn: 'each', saleLine: { min: 5, unit: 'mm' } })
    expect(found).toMatchObject({ worstIndex: 1, belowSaleLine: true, verdict: 'not-judged' })
    expect(judge({ ...open, judgedOn: 'each' })).toMatchObject({ worstIndex: 0, value: 0.2 })
  })
})

describe('the wear that is left', () => {
  test.each<[string, VerdictRawInput['limit'], number, number | null]>([
    ['as new', { min: 4.5, asNew: 5, unit: 'mm' }, 5, 1],
    ['half of it', { min: 4.5, asNew: 5, unit: 'mm' }, 4.75, 0.5],
    ['growing', { max: 261.6, asNew: 254, unit: 'mm' }, 257.8, 0.5],
    ['growing past the limit', { max: 10, asNew: 8, unit: 'mm' }, 11, -0.5],
    [
      'of two bounds the lower counts where new lies above it',
      { min: 2, max: 8, asNew: 6, unit: 'mm' },
      4,
      0.5,
    ],
    ['new is at the limit', { min: 4.5, asNew: 4.5, unit: 'mm' }, 5, null],
    ['new is past a limit that only has max', { max: 4, asNew: 5, unit: 'mm' }, 3, null],
    ['what is new is not known', { min: 4.5, unit: 'mm' }, 5, null],
  ])('%s', (_, limit, reading, expected) => {
    const found = judge({ ...exact, limit, readings: [reading] }).wearLeft
    if (expected === null) expect(found).toBeNull()
    else expect(found).toBeCloseTo(expected, 12)
  })
})

describe('the sale line', () => {
  test.each<[number, boolean]>([
    [4.7, false],
    [4.699, true],
    [4.4, true],
  ])('at 4.7 mm, %d mm is below: %s', (reading, expected) => {
    expect(judge({ ...exact, readings: [reading], saleLine: { min: 4.7, unit: 'mm' } }).belowSaleLine).toBe(
      expected,
    )
  })

  it('may be an upper one, which is broken from above', () => {
    const chain = (reading: number) =>
      judge({
        ...exact,
        limit: { max: 3, unit: '%' },
        unit: '%',
        readings: [reading],
        saleLine: { max: 1.5, unit: '%' },
      })
    expect(chain(1.5)).toMatchObject({ belowSaleLine: false, verdict: 'within' })
    expect(chain(1.6)).toMatchObject({ belowSaleLine: true, verdict: 'within' })
  })
})

it('forgives one part in a million millions at a bound and no more', () => {
  const at = (reading: number) =>
    judge({ ...exact, readings: [reading], limit: { min: 0.3, unit: 'mm' } }).verdict
  expect(at(0.3 - 1e-13)).toBe('within')
  expect(at(0.1 + 0.2)).toBe('within')
  expect(at(0.3 - 1e-11)).toBe('outside')
})

describe('what is refused', () => {
  test.each<[string, object, PropertyKey[]]>([
    ['no readings', { readings: [] }, ['readings']],
    ['a reading without end', { readings: [4.6, Number.POSITIVE_INFINITY] }, ['readings', 1]],
    ['a reading that is text', { readings: ['4.6'] }, ['readings', 0]],
    ['an unknown unit', { unit: 'furlong' }, ['unit']],
    ['a limit that limits nothing', { limit: { asNew: 5, unit: 'mm' } }, ['limit']],
    ['a limit upside down', { limit: { min: 5, max: 4, unit: 'mm' } }, ['limit', 'min']],
    ['a sale line with a new value', { saleLine: { min: 5, asNew: 6, unit: 'mm' } }, ['saleLine']],
    [
      'a negative resolution',
      { instrument: { resolution: -0.01, unit: 'mm' } },
      ['instrument', 'resolution'],
    ],
    ['part of a position', { positions: 1.5 }, ['positions']],
    ['a limit without a rule', { rule: undefined }, ['rule']],
    ['no word on which value counts', { judgedOn: undefined }, ['judgedOn']],
  ])('%s', (_, change, path) => {
    expect(verdictInput.safeParse({ ...disc, ...change }).error?.issues[0]?.path).toEqual(path)
  })
})
