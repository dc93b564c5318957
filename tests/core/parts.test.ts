import { describe, expect, it, test } from 'vitest'
import { whyNotUsed } from '../../lib/core/work/never-used'
import { outsideToPay, type PartLine, partsToPay, standingOf } from '../../lib/core/work/parts'

const line = (over: Partial<PartLine>): PartLine => ({
  ...{ job: 'boots', part: 'Boot', qty: 4, state: 'ordered', source: 'pattern' },
  ...{ at: '2026-11-20T10:00:00.000Z', dueOn: null, leadDays: null, ...over },
})
const standing = (...lines: PartLine[]) =>
  standingOf({ wanted: [{ job: 'boots', part: 'Boot', qty: 4 }], lines })[0]!

describe('how far a part has come', () => {
  test.each([
    ['nobody asked', [], 'to order'],
    ['on a list', [line({ state: 'to order' })], 'to order'],
    ['on its way', [line({})], 'ordered'],
    ['in the box', [line({ state: 'arrived' })], 'arrived'],
    ['half of it in the box', [line({ state: 'arrived', qty: 2 }), line({ qty: 2 })], 'ordered'],
    ['too few ordered', [line({ qty: 3 })], 'to order'],
    ['came wrong', [line({ state: 'wrong' })], 'wrong'],
    ['came wrong, asked anew', [line({ state: 'wrong' }), line({ state: 'to order' })], 'to order'],
    ['came wrong, ordered anew', [line({ state: 'wrong' }), line({})], 'ordered'],
    ['sent back', [line({ state: 'sent back' })], 'to order'],
    ['will not come', [line({ state: 'never' })], 'never'],
    [
      'will not come, asked elsewhere',
      [line({ state: 'never' }), line({ state: 'to order', at: '2026-11-21T10:00:00.000Z' })],
      'to order',
    ],
    ['off the shelf', [line({ state: 'arrived', source: 'shelf' })], 'arrived'],
  ] as const)('%s', (_what, lines, state) => {
    expect(standing(...lines).state).toBe(state)
  })

  it('is due when the last of it is, and takes as long as the slowest', () => {
    const on = ['2026-12-03', '2026-12-01'].map((dueOn) => line({ qty: 2, dueOn }))
    expect(standing(...on).dueOn).toBe('2026-12-03')
    const lists = [3, 8].map((leadDays) => line({ qty: 2, state: 'to order', leadDays }))
    expect(standing(...lists)).toMatchObject({ leadDays: 8, listed: 4, toOrder: 4 })
  })

  it('says what is on its way beyond what is needed', () => {
    expect(standing(line({ qty: 6 }))).toMatchObject({ ordered: 6, over: 2, toOrder: 0 })
  })

  it('keeps with its job what was asked for besides', () => {
    const [, besides] = standingOf({
      wanted: [{ job: 'boots', part: 'Boot', qty: 4 }],
      lines: [line({ part: 'Clamp', qty: 2 })],
    })
    expect(besides).toMatchObject({ part: 'Clamp', qty: 2, besides: true, state: 'ordered' })
  })
})

describe('what is still to be paid', () => {
  const parts = [{ name: 'Boot', qty: 4, unitCost: { low: 900, likely: 1400, high: 2600 } }]
  const told = { job: 'boots', part: 'Boot', carriageMinor: 0 }

  it('is the price that was asked, for as many as it was asked for', () => {
    const asked = { ...told, qty: 3, costs: { unitMinor: 1240 }, carriageMinor: 650 }
    expect(partsToPay({ key: 'boots', parts }, [asked])).toEqual([
      { ...parts[0], qty: 1 },
      { name: 'Boot', qty: 3, unitCost: 1240 },
      { name: 'Carriage of Boot', qty: 1, unitCost: 650 },
    ])
  })

  it('leaves out what is paid', () => {
    expect(partsToPay({ key: 'boots', parts }, [{ ...told, qty: 4, costs: 'paid' }])).toEqual([])
  })

  it('is what somebody outside asks, and nothing once that is paid', () => {
    const job = { key: 'tubes', outsideWork: { low: 14000, likely: 24000, high: 40000 } }
    expect(outsideToPay(job, [])).toEqual(job.outsideWork)
    expect(outsideToPay(job, [{ job: 'tubes', costs: { amountMinor: 19500 } }])).toBe(19500)
    expect(outsideToPay(job, [{ job: 'tubes', costs: 'paid' }])).toBe(0)
  })
})

test.each([
  ['Tyre', true],
  ['Pad set', true],
  ['Brake shoes', true],
  ['Shoe set', true],
  ['Hose and clips', true],
  ['Hoses and clips', true],
  ['Front tire', true],
  ['Intake boot', false],
  ['Used seat', false],
  ['Padded seat', false],
  ['Horseshoe clip', false],
])('whether %s is never fitted used: %s', (part, never) => {
  expect(whyNotUsed(part) !== null).toBe(never)
})
