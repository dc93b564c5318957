import { describe, expect, it } from 'vitest'
import type { Decision } from '../../lib/core/checks/decision.input'
import { deriveFaults } from '../../lib/core/checks/faults'
import { type Clearing, locks } from '../../lib/core/checks/locks'
import type { Reading } from '../../lib/core/checks/reading'
import { anyBike, smallCatalogue } from '../support/small-catalogue'
import { judgements, now, reading } from '../support/small-readings'

function openRounds(known: {
  readings?: readonly Reading[]
  decisions?: readonly Decision[]
  clearings?: readonly Clearing[]
}): string[] {
  const { readings = [], decisions = [], clearings = [] } = known
  const faults = deriveFaults({
    catalogue: smallCatalogue,
    kind: anyBike,
    judgements: judgements(readings),
    decisions,
  })
  return locks({ faults, clearings, now })
    .filter(({ open }) => open)
    .map(({ round }) => round)
}

const tomorrow = '2026-11-26T12:00:00.000Z'
const reason = 'one ride to the weighbridge'
const wet = () => [reading('fuel', 'wet')]
const slow = () => [reading('throttle', 'bad')]
const every = ['cold', 'stand', 'running', 'road']

describe('locks', () => {
  it.each([
    ['nothing is shut on a bike without a stop', {}, every],
    ['a damp line is a fault and no lock', { readings: [reading('fuel', 'damp')] }, every],
    ['dripping fuel shuts the engine and the road', { readings: wet() }, ['cold', 'stand']],
    ['a slow throttle likewise', { readings: slow() }, ['cold', 'stand']],
    [
      'a manager clears the throttle for a day',
      { readings: slow(), clearings: [{ fault: 'throttle-slow', until: tomorrow }] },
      every,
    ],
    [
      'a clearing that is over opens nothing',
      { readings: slow(), clearings: [{ fault: 'throttle-slow', until: now }] },
      ['cold', 'stand'],
    ],
    [
      'a typed reason does not open what only the job clears',
      { readings: wet(), clearings: [{ fault: 'fuel-leak', until: tomorrow }] },
      ['cold', 'stand'],
    ],
    [
      'nor does dropping the fault',
      { readings: wet(), decisions: [{ kind: 'drop-fault', id: '1', key: 'fuel-leak', reason }] },
      ['cold', 'stand'],
    ],
    [
      'nor calling it something milder',
      {
        readings: wet(),
        decisions: [{ kind: 'change-call', id: '1', key: 'fuel-leak', call: 'leave', reason }],
      },
      ['cold', 'stand'],
    ],
    [
      'a stop fault of one’s own shuts the road',
      {
        decisions: [
          {
            kind: 'add-fault',
            id: '1',
            key: 'own',
            own: { title: 'Frame bent', call: 'stop', job: null },
            reason,
          },
        ],
      },
      ['cold', 'stand', 'running'],
    ],
  ] as [string, Parameters<typeof openRounds>[0], string[]][])('%s', (_, known, open) => {
    expect(openRounds(known)).toEqual(open)
  })

  it('a reading that was wrong opens the lock when it is corrected', () => {
    const wrong = reading('fuel', 'wet')
    const right = reading('fuel', 'dry', { supersedes: wrong.id })
    expect(openRounds({ readings: [wrong, right] })).toEqual(every)
  })
})
