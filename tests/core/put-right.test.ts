import { describe, expect, it } from 'vitest'
import type { FaultState } from '../../lib/core/checks/faults'
import { estimateInput } from '../../lib/core/work/estimate.input'
import type { JobLine } from '../../lib/core/work/propose-jobs'
import { putRight } from '../../lib/core/work/put-right'

/* Labour at 50.00 an hour. Amounts are worked out by hand beside each. */

type Known = { key: string; state: FaultState['state']; call?: FaultState['call'] }
const fault = ({ key, state, call = 'must' }: Known) =>
  ({ fault: key, title: `Title of ${key}`, call, state }) as FaultState
const line = (key: string, faults: [string, 'found' | 'added' | 'open'][], state: JobLine['state'] = 'in') =>
  ({ key, state, faults: faults.map(([fault, state]) => ({ fault, state })) }) as unknown as JobLine
const input = (raw: object) => estimateInput.parse({ labourRate: 5000, ...raw })
const costs = (found: ReturnType<typeof putRight>) =>
  Object.fromEntries(found.faults.map(({ fault, putRightMinor }) => [fault, putRightMinor]))

describe('what found faults cost to put right', () => {
  it('leaves out what only may be there, and work that no fault asks for', () => {
    const found = putRight({
      faults: [fault({ key: 'pads', state: 'found' }), fault({ key: 'boots', state: 'open' })],
      jobs: [
        line('new-pads', [['pads', 'found']]),
        line('new-boots', [['boots', 'open']]),
        line('valet', []),
      ],
      estimateInput: input({
        jobs: [
          { key: 'new-pads', hours: 1, parts: [{ name: 'set', unitCost: 3000 }] },
          { key: 'new-boots', hours: 9, chance: 0.4 },
          { key: 'valet', hours: 7 },
        ],
      }),
    })
    // 1 h × 50 + 30.
    expect(found).toEqual({
      faults: [{ fault: 'pads', title: 'Title of pads', call: 'must', putRightMinor: 8000 }],
      putRightMinor: 8000,
    })
  })

  it('counts labour that jobs share once, splits a job among its faults, and adds up', () => {
    const found = putRight({
      faults: ['tank', 'tap', 'hose'].map((key) => fault({ key, state: 'found' })),
      jobs: [
        line('reseal', [['tank', 'found']]),
        line('tap-kit', [
          ['tap', 'found'],
          ['hose', 'added'],
        ]),
      ],
      estimateInput: input({
        operations: { 'tank-off': { hours: 1 } },
        jobs: [
          { key: 'reseal', hours: 3, operations: ['tank-off'] },
          { key: 'tap-kit', hours: 1, operations: ['tank-off'] },
        ],
      }),
    })
    // Five hours in all; half of tank-off each: 3.5 h = 175, and 1.5 h = 75 for two faults, 37.50 each.
    expect(found.putRightMinor).toBe(25000)
    expect(costs(found)).toEqual({ tank: 17000, tap: 4000, hose: 4000 })
  })

  it('counts a symptom that is there by the shares of its causes, and not one that may be', () => {
    const causes = { 'new-plug': 0.75, 'new-coil': 0.25 }
    const jobs = [line('new-plug', [['dead', 'found']]), line('new-coil', [['dead', 'found']])]
    const shared = { jobs: Object.keys(causes).map((key, no) => ({ key, hours: [1, 5][no] })) }
    const of = (chance: number) => input({ ...shared, oneOf: [{ name: 'dead', chance, jobs: causes }] })
    const faults = [fault({ key: 'dead', state: 'found' })]
    // 0.75 × 1 h + 0.25 × 5 h = 2 h.
    expect(putRight({ faults, jobs, estimateInput: of(1) }).putRightMinor).toBe(10000)
    expect(putRight({ faults, jobs, estimateInput: of(0.3) }).putRightMinor).toBe(0)
  })

  it('tells a fault with no work counted apart from one that costs next to nothing, severest first', () => {
    const found = putRight({
      faults: [
        fault({ key: 'scratch', state: 'added', call: 'leave' }),
        fault({ key: 'bulb', state: 'found', call: 'must' }),
        fault({ key: 'leak', state: 'found', call: 'stop' }),
      ],
      jobs: [
        line('bulb', [['bulb', 'found']]),
        line('leak', [['leak', 'found']]),
        line('paint', [['scratch', 'added']], 'left'),
      ],
      estimateInput: input({
        jobs: [
          { key: 'bulb', parts: [{ name: 'bulb', unitCost: 200 }] },
          { key: 'leak', hours: 2 },
        ],
      }),
    })
    expect(found.faults.map(({ fault }) => fault)).toEqual(['leak', 'bulb', 'scratch'])
    expect(costs(found)).toEqual({ leak: 10000, bulb: 0, scratch: null })
  })
})
