import { describe, expect, it, test } from 'vitest'
import { nextCheck } from '../../lib/core/deal/next-check'
import { type NextCheckRawInput, nextCheckInput } from '../../lib/core/deal/next-check.input'

const of = (input: NextCheckRawInput) => nextCheck(nextCheckInput.parse(input)).order

/** A bike that fetches 1,000.00, of which 300.00 go if the tank is rotten, one time in four. */
const deal: NextCheckRawInput['deal'] = {
  sale: 100_000,
  estimate: { labourRate: 5000, jobs: [{ key: 'tank', outsideWork: 30_000, chance: 0.25 }] },
  tax: { scheme: 'none' },
  rule: { kind: 'average', targetMargin: 0, maxChanceOfLoss: 1 },
  asking: 90_000,
}
const look = { key: 'inside', jobs: ['tank'], minutes: 4 }

describe('a check that sees its fault for certain', () => {
  it('is worth the loss it saves and its share of what is talked off', () => {
    const [only] = of({ deal, priceShare: 0.5, open: [look] })
    // Now: 1,000 − 75 − 900 = 25. Clean, three times in four: 100; found: no deal.
    expect(only).toEqual({
      key: 'inside',
      decisionValue: 5000,
      priceValue: 3750,
      value: 8750,
      valuePerMinute: 2187.5,
      chanceFound: 0.25,
      ifClean: { walkAway: 100_000 },
      ifFound: { walkAway: 70_000 },
    })
  })

  it('is worth what it takes off alone where either answer leaves the decision as it is', () => {
    const [dear] = of({ deal: { ...deal, asking: 150_000 }, priceShare: 0.5, open: [look] })
    expect(dear).toMatchObject({ decisionValue: 0, priceValue: 3750 })
    const [cheap] = of({ deal: { ...deal, asking: 50_000 }, priceShare: 0, open: [look] })
    expect(cheap).toMatchObject({ decisionValue: 0, value: 0 })
  })

  it('makes a bike worth buying that was not', () => {
    const [only] = of({ deal: { ...deal, asking: 95_000 }, priceShare: 0, open: [look] })
    // Now 1,000 − 75 < 950; clean leaves 50.
    expect(only!.decisionValue).toBeCloseTo(0.75 * 5000, 6)
  })

  it('counts an asking price between two whole units as what it is', () => {
    const at = (asking: number) =>
      of({ deal: { ...deal, asking }, priceShare: 0, open: [look] })[0]!.decisionValue
    // Clean: the walk-away price is 1,000.00, and a penny above it is above it.
    expect(at(99_999)).toBeCloseTo(0.75, 6)
    expect(at(100_000)).toBe(0)
    expect(at(100_001)).toBe(0)
  })
})

describe('a check that does not see everything', () => {
  it('leaves the chance q(1 − d)/(1 − q·d) when it finds nothing', () => {
    const [only] = of({ deal, priceShare: 1, open: [{ ...look, detects: 0.8 }] })
    // q·d = 0.2; left 0.05/0.8 = 1/16 of 300.00 = 18.75, so that 981.25 may be paid, whole units.
    expect(only).toMatchObject({
      chanceFound: 0.2,
      ifClean: { walkAway: 98_100 },
      ifFound: { walkAway: 70_000 },
    })
    expect(only!.priceValue).toBeCloseTo(0.2 * (30_000 - 1875), 8)
  })

  it('that sees nothing is worth nothing, and has nothing to say if it finds something', () => {
    const [only] = of({ deal, priceShare: 1, open: [{ ...look, detects: 0 }] })
    expect(only).toMatchObject({ value: 0, chanceFound: 0, ifFound: null, ifClean: { walkAway: 92_500 } })
  })

  it('tells of the care of the whole bike', () => {
    const care: NextCheckRawInput['deal'] = {
      ...deal,
      estimate: {
        labourRate: 0,
        care: [
          { name: 'kept', chance: 0.5 },
          { name: 'neglected', chance: 0.5 },
        ],
        jobs: [
          { key: 'tank', outsideWork: 10_000, chance: { kept: 0, neglected: 0.5 } },
          { key: 'forks', outsideWork: 20_000, chance: { kept: 0.1, neglected: 0.6 } },
        ],
      },
    }
    const [only] = of({ deal: care, priceShare: 1, open: [look] })
    // Found (1/4): neglected for certain, so the forks are bad with 0.6. Clean: neglected 1/3, forks 4/15.
    expect(only!.chanceFound).toBe(0.25)
    expect(only!.ifFound).toEqual({ walkAway: 100_000 - 10_000 - 12_000 })
    expect(only!.ifClean).toEqual({ walkAway: Math.floor((100_000 - 20_000 * (4 / 15)) / 100) * 100 })
    expect(only!.priceValue).toBeCloseTo(0.25 * (22_000 - 20_000 * (4 / 15)), 8)
  })
})

describe('a symptom that exactly one of several jobs cures', () => {
  const noCharge: NextCheckRawInput['deal'] = {
    ...deal,
    estimate: {
      labourRate: 0,
      jobs: [
        { key: 'connector', outsideWork: 1000 },
        { key: 'regulator', outsideWork: 10_000 },
        { key: 'stator', outsideWork: 40_000 },
      ],
      oneOf: [{ name: 'no-charge', chance: 0.5, jobs: { connector: 0.5, regulator: 0.3, stator: 0.2 } }],
    },
  }
  const mean = 500 + 3000 + 8000

  it('as a whole is there or not', () => {
    const open = [{ key: 'volts', jobs: ['stator', 'connector', 'regulator'], minutes: 1, detects: 0.8 }]
    const [only] = of({ deal: noCharge, priceShare: 1, open })
    // q·d = 0.4; left 0.1/0.6.
    expect(only!.chanceFound).toBe(0.4)
    expect(only!.ifFound).toEqual({ walkAway: 100_000 - mean })
    expect(only!.priceValue).toBeCloseTo(0.4 * (mean - mean / 6), 8)
  })

  it('loses one of its causes to a look that does not see it', () => {
    const [only] = of({
      deal: noCharge,
      priceShare: 1,
      open: [{ key: 'plug', jobs: ['connector'], minutes: 3 }],
    })
    // q = c·s = 0.25. Found: 10.00. Clean: the symptom 0.25/0.75, shares 0.6 and 0.4.
    expect(only!.chanceFound).toBe(0.25)
    expect(only!.ifFound).toEqual({ walkAway: 99_000 })
    const clean = (1 / 3) * (0.6 * 10_000 + 0.4 * 40_000)
    expect(only!.ifClean).toEqual({ walkAway: Math.floor((100_000 - clean) / 100) * 100 })
    expect(only!.priceValue).toBeCloseTo(0.25 * (1000 - clean), 8)
  })

  it('that is there for certain cannot come out clean', () => {
    const real = {
      ...noCharge,
      estimate: { ...noCharge.estimate, oneOf: [{ ...noCharge.estimate.oneOf![0]!, chance: 1 }] },
    }
    const open = [{ key: 'volts', jobs: ['connector', 'regulator', 'stator'], minutes: 1 }]
    const [only] = of({ deal: real, priceShare: 1, open })
    expect(only).toMatchObject({ chanceFound: 1, ifClean: null, value: 0 })
  })
})

describe('the order', () => {
  const jobs = ['a', 'b', 'c', 'd'].map((key) => ({ key, outsideWork: 10_000, chance: 0.2 }))
  const open = (minutes: Record<string, number>, safety: string[] = []) =>
    Object.entries(minutes).map(([key, taken]) => ({
      key,
      jobs: [key],
      minutes: taken,
      safety: safety.includes(key),
    }))
  const orderOf = (checks: NextCheckRawInput['open']) =>
    of({ deal: { ...deal, estimate: { labourRate: 0, jobs } }, priceShare: 1, open: checks }).map(
      ({ key }) => key,
    )

  test.each<[string, NextCheckRawInput['open'], string[]]>([
    ['the best value per minute stands first', open({ a: 4, b: 2, c: 3 }), ['b', 'c', 'a']],
    ['equal ones stand by key', open({ d: 2, b: 2, c: 2 }), ['b', 'c', 'd']],
    ['safety stands first, as given', open({ a: 1, d: 9, c: 5 }, ['d', 'c']), ['d', 'c', 'a']],
    ['of none it is empty', [], []],
  ])('%s', (_, checks, expected) => {
    expect(orderOf(checks)).toEqual(expected)
  })
})

test('under the confidence rule a gain does not fall below nothing', () => {
  const rule = { kind: 'confidence' as const, targetMargin: 10_000, confidence: 0.7 }
  const [only] = of({ deal: { ...deal, rule, asking: 88_000 }, priceShare: 0, open: [look] })
  // Three times in four 120.00 are left, so that the rule is kept now; on average 45.00, below the target.
  // Clean: 20.00 above it; found: no deal.
  expect(only!.decisionValue).toBeCloseTo(0.75 * 2000, 6)
})
