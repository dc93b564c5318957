import { describe, expect, it, test } from 'vitest'
import { deal } from '../../lib/core/deal/deal'
import { dealInput } from '../../lib/core/deal/deal.input'
import { type AddableJob, changedInput, type WhatIf, whatIf } from '../../lib/core/deal/what-if'

const input = dealInput.parse({
  sale: { low: 200_000, likely: 235_000, high: 260_000 },
  saleOff: 30_000,
  estimate: {
    labourRate: 5200,
    operations: { 'tank-off': { hours: 0.5 } },
    jobs: [
      { key: 'boots', operations: ['tank-off'], hours: 1 },
      { key: 'chain', hours: 1, outsideWork: 9000 },
      { key: 'regulator', outsideWork: 9500 },
      { key: 'stator', outsideWork: 21_000, hours: 3 },
    ],
    oneOf: [{ name: 'no charge', chance: 0.5, jobs: { regulator: 0.6, stator: 0.4 } }],
  },
  daysToSell: { low: 10, likely: 30, high: 60 },
  holding: { perDay: 200 },
  tax: { scheme: 'margin', rate: 0.2 },
  rule: { kind: 'average', targetMargin: 40_000, maxChanceOfLoss: 0.1 },
  asking: 120_000,
})
const repaint: AddableJob = {
  job: {
    key: 'repaint',
    operations: ['tank-off', 'panels-off'],
    hours: 0.5,
    parts: [],
    outsideWork: 15_000,
    fasteners: true,
    chance: 1,
  },
  operations: {
    'tank-off': { hours: 0.5, needs: [], fasteners: true },
    'panels-off': { hours: 0.4, needs: [], fasteners: true },
  },
  saleOffMinor: 25_000,
  slowerDays: 8,
}
const tried = (changes: WhatIf) => changedInput(input, { changes, addable: [repaint] })

it('with nothing changed it is the deal', () => {
  const answer = whatIf(input, { changes: {}, addable: [repaint] })
  const plain = deal(input)
  expect(answer.walkAway).toBe(plain.walkAway)
  expect(answer.margin).toMatchObject({
    mean: plain.atAsking!.expectedMargin,
    chanceOfLoss: plain.atAsking!.chanceOfLoss,
  })
})

test.each<[string, WhatIf, object]>([
  ['another price', { asking: 90_000 }, { asking: 90_000 }],
  ['another sale price', { sale: { low: 1, likely: 2, high: 3 } }, { sale: { low: 1, likely: 2, high: 3 } }],
  [
    'another rule',
    { targetMargin: 10_000, maxChanceOfLoss: 0.3 },
    { rule: { kind: 'average', targetMargin: 10_000, maxChanceOfLoss: 0.3 } },
  ],
  [
    'an optional job taken in sells for more, and sooner',
    { in: ['repaint'] },
    { saleOff: 5000, daysToSell: { low: 2, likely: 22, high: 52 } },
  ],
])('%s', (_, changes, expected) => {
  expect(tried(changes)).toMatchObject(expected)
})

describe('jobs', () => {
  it('that are left out cost nothing, and what they shared stays with the others', () => {
    const { estimate } = tried({ out: ['chain'] })
    expect(estimate.jobs.map(({ key }) => key)).toEqual(['boots', 'regulator', 'stator'])
  })

  it('of a group leave the others their own chances', () => {
    const { estimate } = tried({ out: ['stator'] })
    expect(estimate.oneOf).toEqual([{ name: 'no charge', chance: 0.3, jobs: { regulator: 1 } }])
  })

  it('taken in bring their operations with them', () => {
    const { estimate } = tried({ in: ['repaint'] })
    expect(Object.keys(estimate.operations)).toEqual(['tank-off', 'panels-off'])
    expect(dealInput.safeParse(tried({ in: ['repaint'], out: ['stator', 'regulator'] })).success).toBe(true)
  })
})

it('an idle bench leaves the hours in the bike', () => {
  const { margin, leftAfterKeep, hoursMean } = whatIf(input, {
    changes: { benchHourPrice: 0 },
    addable: [],
  })
  expect(leftAfterKeep).toBeCloseTo(margin!.mean + hoursMean * 5200, 6)
})
