import { describe, expect, it } from 'vitest'
import type { Check, CodeCheck, LookCheck, MeasuredCheck, Source } from '../../lib/core/checks/catalogue'
import { deriveFaults } from '../../lib/core/checks/faults'
import { instrumentKinds, instrumentsFor, isOverdue } from '../../lib/core/checks/instruments'
import { judge } from '../../lib/core/checks/judge'
import { lawLimits } from '../../lib/core/checks/limits'
import type { Reading } from '../../lib/core/checks/reading'
import { staleDays } from '../../lib/core/checks/stale'
import { anyBike, calliper, micrometer } from '../support/small-catalogue'

const source: Source = { kind: 'starting value', says: 'starting value for the tests' }
const asOf = '2026-11-25'
const base = { round: 'cold', how: [], needs: [], minutes: 1, raises: [], source } as const

const volts: MeasuredCheck = {
  ...base,
  key: 'volts',
  title: 'Volts at speed',
  sort: 'measured',
  unit: 'V',
  units: ['V'],
  positions: [],
  judgedOn: 'each',
  plausible: { min: 0, max: 20 },
  instruments: [{ key: 'meter', name: 'Meter', resolution: 0.01, unit: 'V', standardUncertainty: 0.01 }],
  limit: { min: 13.5, max: 14.8, unit: 'V', source },
  needsEngineSpeed: true,
  raises: [
    { when: { on: 'below-limit' }, fault: 'no-charge' },
    { when: { on: 'above-limit' }, fault: 'over-charge' },
  ],
}
const start: LookCheck = {
  ...base,
  key: 'start',
  title: 'Cold start',
  sort: 'look',
  conditions: ['cold'],
  answers: [
    { key: 'good', label: 'Starts', tone: 'good' },
    { key: 'hard', label: 'Hard to start', tone: 'bad' },
  ],
  raises: [{ when: { on: 'answer', answer: 'hard' }, fault: 'runs-badly' }],
}
const belts: CodeCheck = {
  ...base,
  key: 'belts',
  title: 'Cam belts',
  sort: 'code',
  code: 'done-on',
  overYears: 5,
  raises: [{ when: { on: 'outside' }, fault: 'belts-due' }],
}
const size: CodeCheck = { ...base, key: 'size', title: 'Tyre size', sort: 'code', code: 'tyre-size' }

let count = 0
function reading(check: Check, value: string, over: Partial<Reading> = {}): Reading {
  count += 1
  const kind = { measured: 'measured', look: 'answer', code: 'code', number: 'number' } as const
  return {
    id: `r${String(count).padStart(4, '0')}`,
    check: check.key,
    position: null,
    kind: kind[check.sort],
    value,
    unit: null,
    conditions: [],
    instrument: null,
    takenAt: `2026-11-20T10:${String(count % 60).padStart(2, '0')}:00.000Z`,
    supersedes: null,
    ...over,
  }
}
const judged = (check: Check, ...readings: Reading[]) =>
  judge({ check, readings, limits: [], kind: anyBike, asOf, ages: { guidance: 10, saleLine: 8 } })

describe('the engine speed beside a reading', () => {
  it('without it the voltage is kept and not judged', () => {
    expect(judged(volts, reading(volts, '12.7'))).toMatchObject({
      verdict: 'not-judged',
      why: 'no-engine-speed',
      found: { value: 12.7 },
    })
  })

  it('with it the voltage is judged, and one without it does not enter the mean', () => {
    const bare = reading(volts, '14.9')
    const noted = reading(volts, '14.2', { engineSpeed: 5000 })
    expect(judged(volts, bare, noted)).toMatchObject({ verdict: 'within', readings: [noted.id] })
  })
})

describe('which side of a limit is broken', () => {
  const faults = ['no-charge', 'over-charge'].map((key) => ({
    key,
    title: key,
    means: '',
    call: 'must' as const,
    jobs: [],
    rechecks: ['volts'],
    hidden: { kept: 0.1, average: 0.1, neglected: 0.1 },
    source,
  }))
  const statesAt = (value: string) => {
    const judgements = [judged(volts, reading(volts, value, { engineSpeed: 5000 }))]
    const catalogue = { checks: [volts], faults, jobs: [] }
    return deriveFaults({ catalogue, kind: anyBike, judgements, decisions: [] }).map(({ state }) => state)
  }

  it.each([
    ['12.7', ['found', 'clear']],
    ['15.6', ['clear', 'found']],
    ['14.2', ['clear', 'clear']],
  ])('%s V', (value, states) => {
    expect(statesAt(value)).toEqual(states)
  })

  it('too close to the upper bound leaves a chance of the upper fault only', () => {
    const safe = { ...volts, safety: true }
    const judgement = judged(safe, reading(safe, '14.79', { engineSpeed: 5000 }))
    expect(judgement.verdict).toBe('too-close')
    const states = deriveFaults({
      catalogue: { checks: [safe], faults, jobs: [] },
      kind: anyBike,
      judgements: [judgement],
      decisions: [],
    })
    expect(states[0]).toMatchObject({ fault: 'no-charge', state: 'clear' })
    expect(states[1]).toMatchObject({ fault: 'over-charge', state: 'open' })
    expect(states[1]?.chance).toBeGreaterThan(0.1)
  })
})

describe('a look in the wrong condition', () => {
  it('is kept and not judged, so the fault stays open', () => {
    const judgement = judged(start, reading(start, 'good'))
    expect(judgement).toMatchObject({
      verdict: 'not-judged',
      why: 'wrong-condition',
      needs: ['cold'],
      found: { sort: 'look', answer: { key: 'good' } },
    })
    expect(judgement.says).toBe('Starts. Kept and not judged: it has to be done cold.')
  })

  it('counts where the condition was stamped', () => {
    expect(judged(start, reading(start, 'good', { conditions: ['cold'] })).verdict).toBe('within')
  })
})

describe('when something was last done', () => {
  it.each([
    ['2024', 'within', 2.9],
    ['2021-12', 'within', 5],
    ['2021', 'outside', 5.9],
    ['2019-06-30', 'outside', 7.4],
    ['unknown', 'outside', null],
  ])('%s is %s', (value, verdict, ageYears) => {
    expect(judged(belts, reading(belts, value))).toMatchObject({ verdict, found: { ageYears } })
  })

  it.each(['2027', '21', '2021-13', '2023-02-29', 'last year'])('%s is not judged and says why', (value) => {
    const judgement = judged(belts, reading(belts, value))
    expect(judgement).toMatchObject({ verdict: 'not-judged', why: 'unreadable' })
    expect(judgement.says.length).toBeGreaterThan(20)
  })

  it('becomes due as the days pass, with nobody touching it', () => {
    const done = reading(belts, '2022-01')
    const on = (day: string) =>
      judge({
        check: belts,
        readings: [done],
        limits: [],
        kind: anyBike,
        asOf: day,
        ages: { guidance: 10, saleLine: 8 },
      }).verdict
    expect([on('2026-11-25'), on('2027-06-01')]).toEqual(['within', 'outside'])
  })
})

describe('a size on the side wall', () => {
  it('is decoded and not judged', () => {
    expect(judged(size, reading(size, '190/50 ZR17 M/C (73W)'))).toMatchObject({
      verdict: 'not-judged',
      why: 'no-limit',
      found: { sort: 'tyre-size', tyre: { widthMm: 190 } },
    })
  })

  it('that cannot be read says what is wrong', () => {
    expect(judged(size, reading(size, 'round'))).toMatchObject({ verdict: 'not-judged', why: 'unreadable' })
  })
})

describe('a reading that was taken back', () => {
  it('leaves the check as if it had never been taken', () => {
    const slip = reading(start, 'hard', { conditions: ['cold'] })
    const back = reading(start, 'tapped by mistake', { kind: 'withdrawn', supersedes: slip.id })
    expect(judged(start, slip, back)).toMatchObject({ verdict: 'not-checked', because: null })
  })

  it('lets the one before it stand again beside, not instead', () => {
    const first = reading(start, 'good', { conditions: ['cold'] })
    const slip = reading(start, 'hard', { conditions: ['cold'] })
    const back = reading(start, 'tapped by mistake', { kind: 'withdrawn', supersedes: slip.id })
    expect(judged(start, first, slip, back)).toMatchObject({ verdict: 'within', readings: [first.id] })
  })
})

describe('what a shop measures with', () => {
  const own = {
    ...calliper,
    key: 'tool-1',
    of: 'calliper',
    name: 'Blue calliper',
    calibrationDue: '2026-11-19',
  }
  const disc: MeasuredCheck = {
    ...volts,
    key: 'disc',
    unit: 'mm',
    units: ['mm'],
    instruments: [calliper, micrometer],
    limit: null,
    needsEngineSpeed: false,
    raises: [],
  }

  it("its own tools take the place of their kind, other kinds keep the catalogue's figures", () => {
    expect(instrumentsFor(disc, [own]).map(({ name }) => name)).toEqual(['Blue calliper', 'Micrometer'])
    expect(instrumentsFor(disc, [])).toEqual([calliper, micrometer])
  })

  it('names each kind of the catalogue once', () => {
    expect(instrumentKinds([disc, disc, start]).map(({ key }) => key)).toEqual(['calliper', 'micrometer'])
  })

  it('is overdue from the day after the last day of its calibration', () => {
    expect(isOverdue(own, '2026-11-19')).toBe(false)
    expect(isOverdue(own, '2026-11-20')).toBe(true)
    expect(isOverdue({ calibrationDue: null }, '2026-11-20')).toBe(false)
  })

  it('an overdue one is marked on the verdict that rests on it', () => {
    const { name, resolution, unit, standardUncertainty, calibrationDue } = own
    const instrument = { name, resolution, unit, standardUncertainty, calibrationDue }
    expect(judged(disc, reading(disc, '4.6', { instrument })).overdue).toEqual([
      { name: 'Blue calliper', due: '2026-11-19' },
    ])
    const inTime = { ...instrument, calibrationDue: '2026-12-31' }
    expect(judged(disc, reading(disc, '4.6', { instrument: inTime })).overdue).toBeUndefined()
  })
})

describe('an answer that has grown old', () => {
  const check = { ...start, staleAfterDays: 3 }
  const answer = reading(check, 'good', { conditions: ['cold'], takenAt: '2026-11-20T10:00:00.000Z' })
  const daysOn = (asOf: string) =>
    staleDays({ check, judgement: judged(check, answer), readings: [answer], asOf })

  it('is asked for again after its days and not before', () => {
    expect(daysOn('2026-11-23')).toBeNull()
    expect(daysOn('2026-11-24')).toBe(4)
  })

  it('never where the check sets no days or nobody has answered', () => {
    expect(staleDays({ check: start, judgement: judged(start, answer), readings: [answer], asOf })).toBeNull()
    expect(staleDays({ check, judgement: judged(check), readings: [], asOf })).toBeNull()
  })
})

describe('what the law asks', () => {
  const tread: MeasuredCheck = {
    ...volts,
    key: 'tread',
    unit: 'mm',
    units: ['mm'],
    limit: null,
    needsEngineSpeed: false,
    law: [
      { country: 'DE', min: 1.6, unit: 'mm', source, appliesTo: { class: ['motorcycle'] } },
      { country: 'DE', min: 1, unit: 'mm', source, appliesTo: { class: ['light', 'moped'] } },
    ],
  }
  const leastIn = (country: 'DE' | 'GB', kind = anyBike) =>
    lawLimits({ checks: [tread, start], country, kind }).map(({ check, min }) => [check, min])

  it('is that of the country and of the class of bike', () => {
    expect(leastIn('DE')).toEqual([['tread', 1.6]])
    expect(leastIn('DE', { ...anyBike, class: 'moped' })).toEqual([['tread', 1]])
    expect(leastIn('GB')).toEqual([])
  })
})
