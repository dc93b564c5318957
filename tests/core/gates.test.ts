import { describe, expect, it } from 'vitest'
import type {
  Catalogue,
  Check,
  Fault,
  LookCheck,
  MeasuredCheck,
  Source,
} from '../../lib/core/checks/catalogue'
import type { Decision } from '../../lib/core/checks/decision.input'
import { deriveFaults } from '../../lib/core/checks/faults'
import { gateNeeds } from '../../lib/core/checks/gates'
import type { Judgement } from '../../lib/core/checks/judge'
import { judgeBike, noWork, type WorkOnBike } from '../../lib/core/checks/judge-bike'
import { type Clearing, neededCheck } from '../../lib/core/checks/locks'
import type { Reading } from '../../lib/core/checks/reading'
import { readyLacks } from '../../lib/core/checks/ready'
import { lastWorkOn } from '../../lib/core/checks/work-done'
import { anyBike } from '../support/small-catalogue'

const source: Source = { kind: 'starting value', says: 'starting value for the tests' }
const look = (key: string, rest: Partial<LookCheck> = {}): LookCheck => ({
  key,
  title: key,
  sort: 'look',
  round: 'cold',
  how: [],
  needs: [],
  minutes: 1,
  answers: [
    { key: 'good', label: 'Good', tone: 'good' },
    { key: 'bad', label: 'Bad', tone: 'bad' },
  ],
  raises: [{ when: { on: 'answer', answer: 'bad' }, fault: `${key}-bad` }],
  source,
  ...rest,
})
const fault = (key: string, rest: Partial<Fault>): Fault => ({
  key,
  title: key,
  means: '',
  call: 'stop',
  jobs: [],
  rechecks: [],
  source,
  ...rest,
})
const pads: MeasuredCheck = {
  ...look('pads'),
  sort: 'measured',
  unit: 'mm',
  units: ['mm'],
  positions: [
    { key: 'left', label: 'Left' },
    { key: 'right', label: 'Right' },
  ],
  judgedOn: 'lowest',
  plausible: { min: 0, max: 20 },
  instruments: [],
  limit: { min: 1, unit: 'mm', source },
  gate: { opens: ['road'], hours: 24 * 30 },
  raises: [{ when: { on: 'outside' }, fault: 'pads-bad' }],
} as MeasuredCheck

const checks: Check[] = [
  look('fuel', { gate: { opens: ['running', 'road'], hours: 24 } }),
  look('lamps', { gate: { opens: ['road'], hours: 24 * 30 } }),
  pads,
]
const catalogue: Catalogue = {
  checks,
  faults: [
    fault('fuel-bad', {
      locks: ['ignition', 'engine', 'road'],
      clearedBy: 'job',
      jobs: ['hoses'],
      rechecks: ['fuel'],
    }),
    fault('lamps-bad', { call: 'must', jobs: ['bulb'], rechecks: ['lamps'] }),
    fault('pads-bad', { locks: ['road'], clearedBy: 'job', jobs: ['pads-new'], rechecks: ['pads'] }),
  ],
  jobs: ['hoses', 'bulb', 'pads-new'].map((key) => ({
    key,
    title: key,
    operations: [],
    hours: 1,
    parts: [],
    source,
  })),
  operations: [],
  cautions: [],
}

const now = '2026-11-25T12:00:00.000Z'
let count = 0
const read = (check: string, value: string, hoursAgo = 1, position: string | null = null): Reading => {
  count += 1
  return {
    id: `r${String(count).padStart(5, '0')}`,
    check,
    position,
    kind: check === 'pads' ? 'measured' : 'answer',
    value,
    unit: null,
    conditions: [],
    instrument: null,
    takenAt: new Date(Date.parse(now) - hoursAgo * 3_600_000).toISOString(),
    supersedes: null,
  }
}
const hoursAgo = (hours: number) => new Date(Date.parse(now) - hours * 3_600_000).toISOString()

function judged(
  readings: Reading[],
  more: { clearings?: Clearing[]; work?: Partial<WorkOnBike>; papers?: boolean } = {},
) {
  const { clearings = [], work = {}, papers = true } = more
  const out = judgeBike({
    catalogue,
    kind: anyBike,
    readings,
    limits: [],
    decisions: [],
    clearings,
    work: { ...noWork, ...work },
    ridePapers: { noted: papers },
    ages: { guidance: 10, saleLine: 8 },
    asOf: '2026-11-25',
    now,
  })
  const lock = (round: string) => out.locks.find((one) => one.round === round)!
  const lacking = (round: string) => lock(round).needs.map(({ check, lacks }) => `${check} ${lacks}`)
  const stateOf = (key: string) => out.faults.find((one) => one.fault === key)!
  return { ...out, lock, lacking, stateOf }
}
const allGood = () => [
  read('fuel', 'good'),
  read('lamps', 'good'),
  read('pads', '4', 1, 'left'),
  read('pads', '4', 1, 'right'),
]

describe('what opens a round', () => {
  it('nothing checked locks, and the cold and stand rounds are never shut', () => {
    const { lock, lacking } = judged([])
    expect(lacking('running')).toEqual(['fuel not-checked'])
    expect(lacking('road')).toEqual(['fuel not-checked', 'lamps not-checked', 'pads not-checked'])
    expect([lock('cold').open, lock('stand').open]).toEqual([true, true])
  })

  it('all done and good opens both', () => {
    const { lock } = judged(allGood())
    expect([lock('running').open, lock('road').open]).toEqual([true, true])
  })

  it.each([
    ['a stale answer does not open', [read('fuel', 'good', 25)], 'fuel too-old'],
    ['a bad one does not', [read('fuel', 'bad')], 'fuel not-good'],
    ['a skip is not checked', [{ ...read('fuel', 'no time'), kind: 'skipped' as const }], 'fuel not-checked'],
  ])('%s', (_, readings, lacks) => {
    expect(judged(readings).lacking('running')).toEqual([lacks])
  })

  it('of several positions the oldest counts, and too few judge nothing', () => {
    const rest = allGood().filter(({ check }) => check !== 'pads')
    expect(judged([...rest, read('pads', '4', 1, 'left')]).lacking('road')).toEqual(['pads not-judged'])
    const half = [read('pads', '4', 24 * 31, 'left'), read('pads', '4', 1, 'right')]
    expect(judged([...rest, ...half]).lacking('road')).toEqual(['pads too-old'])
  })

  it('work on the part ends what was read before it, whether begun, finished or given up', () => {
    const begun = { underWay: [{ job: 'pads-new', title: 'pads-new', at: hoursAgo(0.5) }] }
    expect(judged(allGood(), { work: begun }).lacking('road')).toEqual(['pads worked-on'])
    const finished = { finished: [{ job: 'pads-new', at: hoursAgo(0.5) }] }
    expect(judged(allGood(), { work: finished }).lacking('road')).toEqual(['pads worked-on'])
    const givenUp = { givenUp: [{ job: 'pads-new', at: hoursAgo(0.5) }] }
    expect(judged(allGood(), { work: givenUp }).lacking('road')).toEqual(['pads worked-on'])
  })

  it('the road stays shut while work is begun, a state is open or the ride has no papers', () => {
    const open = (work: Partial<WorkOnBike>, papers = true) =>
      judged(allGood(), { work, papers }).lock('road').open
    expect(open({ underWay: [{ job: 'bulb', title: 'bulb', at: hoursAgo(5) }] })).toBe(false)
    expect(open({ openStates: [{ id: 's', kind: 'brake-open' }] })).toBe(false)
    expect(open({}, false)).toBe(false)
    expect(open({})).toBe(true)
  })

  it.each([
    ['oil-drained', [false, false]],
    ['coolant-out', [false, false]],
    ['fuel-off', [false, false]],
    ['brake-open', [true, false]],
    ['axle-loose', [true, false]],
  ] as const)('%s shuts no more than it must', (kind, opens) => {
    const { lock } = judged(allGood(), { work: { openStates: [{ id: 's', kind }] } })
    expect([lock('running').open, lock('road').open]).toEqual(opens)
  })
})

describe("a manager's reason", () => {
  const until = '2026-11-26T12:00:00.000Z'

  it('stands in for a check that guards against nothing deadly', () => {
    const readings = allGood().filter(({ check }) => check !== 'lamps')
    const clearings = [{ fault: neededCheck('lamps'), until }]
    expect(judged(readings).lock('road').open).toBe(false)
    expect(judged(readings, { clearings }).lock('road').open).toBe(true)
    expect(
      judged(readings, { clearings: [{ fault: neededCheck('lamps'), until: now }] }).lock('road').open,
    ).toBe(false)
  })

  it('does not for one whose fault only the job clears, nor for an open state', () => {
    const readings = allGood().filter(({ check }) => check !== 'fuel')
    const clearings = ['fuel', 'lamps', 'pads'].map((check) => ({ fault: neededCheck(check), until }))
    expect(judged(readings, { clearings }).lock('running').open).toBe(false)
    const work = { openStates: [{ id: 's', kind: 'oil-drained' as const }] }
    expect(judged(allGood(), { clearings, work }).lock('running').open).toBe(false)
  })

  it('does not for a value too close to call, where past the limit only the job would clear it', () => {
    const tooClose = { check: 'pads', title: 'pads', verdict: 'too-close', conformanceProbability: 0.9 }
    const asked = { kind: anyBike, readings: allGood(), worked: new Map(), now }
    const judgements = [...judged(allGood()).judgements.filter(({ check }) => check !== 'pads')]
    const needs = (of: Pick<Catalogue, 'checks' | 'faults'>) =>
      gateNeeds({ ...asked, catalogue: of, judgements: [...judgements, tooClose as Judgement] })
    expect(needs(catalogue)).toMatchObject([
      { check: 'pads', lacks: 'not-good', byReason: false, raises: [] },
    ])
    const faults = catalogue.faults.map((one) => ({ ...one, clearedBy: 'reason' as const }))
    expect(needs({ ...catalogue, faults })).toMatchObject([{ check: 'pads', byReason: true }])
  })
})

describe('a job that is done', () => {
  const bad = () => [...allGood().filter(({ check }) => check !== 'lamps'), read('lamps', 'bad', 10)]
  const finished = [{ job: 'bulb', at: hoursAgo(5) }]

  it('does not close its fault', () => {
    expect(judged(bad(), { work: { finished } }).stateOf('lamps-bad')).toMatchObject({
      state: 'found',
      awaitsRecheck: { job: 'bulb' },
    })
  })

  it('its recheck does', () => {
    const { stateOf, lock } = judged([...bad(), read('lamps', 'good', 1)], { work: { finished } })
    expect(stateOf('lamps-bad')).toMatchObject({ state: 'clear', awaitsRecheck: null })
    expect(lock('road').open).toBe(true)
  })

  it('a bad recheck finds it anew', () => {
    const { stateOf } = judged([...bad(), read('lamps', 'bad', 1)], { work: { finished } })
    expect(stateOf('lamps-bad')).toMatchObject({ state: 'found', awaitsRecheck: null })
  })

  it('a measured recheck does not average with what was read before the work', () => {
    const worn = [read('pads', '0.4', 10, 'left'), read('pads', '0.5', 10, 'right')]
    const again = [read('pads', '1.2', 1, 'left'), read('pads', '1.2', 1, 'right')]
    const work = { finished: [{ job: 'pads-new', at: hoursAgo(5) }] }
    expect(judged([...worn, ...again]).stateOf('pads-bad').state).toBe('found')
    expect(judged([...worn, ...again], { work }).stateOf('pads-bad').state).toBe('clear')
  })

  it('what only the job clears stays found when it is answered well without the job', () => {
    const leak = [...allGood(), read('fuel', 'bad', 20), read('fuel', 'good', 1)]
    expect(judged(leak).stateOf('fuel-bad')).toMatchObject({ state: 'found', awaitsRecheck: null })
    expect(judged(leak).lock('running').open).toBe(false)
    const work = { finished: [{ job: 'hoses', at: hoursAgo(5) }] }
    expect(judged(leak, { work }).stateOf('fuel-bad').state).toBe('clear')
    expect(judged(leak, { work }).lock('running').open).toBe(true)
    const before = { finished: [{ job: 'hoses', at: hoursAgo(30) }] }
    expect(judged(leak, { work: before }).stateOf('fuel-bad').state).toBe('found')
  })

  it('a slip that was corrected or taken back never was', () => {
    const slip = read('fuel', 'bad', 20)
    const right = { ...read('fuel', 'good', 1), supersedes: slip.id }
    expect(judged([...allGood().slice(1), slip, right]).stateOf('fuel-bad').state).toBe('clear')
    const back = { ...read('fuel', 'slipped', 19), kind: 'withdrawn' as const, supersedes: slip.id }
    expect(judged([...allGood(), slip, back]).stateOf('fuel-bad').state).toBe('clear')
  })

  it('half a recheck closes nothing', () => {
    const worn = [read('pads', '0.4', 10, 'left'), read('pads', '0.5', 10, 'right')]
    const work = { finished: [{ job: 'pads-new', at: hoursAgo(5) }] }
    expect(judged([...worn, read('pads', '6', 1, 'left')], { work }).stateOf('pads-bad')).toMatchObject({
      state: 'found',
      awaitsRecheck: { job: 'pads-new' },
    })
  })

  it('names the checks that look at its part', () => {
    expect([...lastWorkOn(catalogue, finished).keys()]).toEqual(['lamps'])
  })
})

describe('ready', () => {
  const ended = hoursAgo(48)
  const finished = [{ job: 'bulb', at: ended }]
  const sound = () => [...allGood()]
  const lacksWith = (
    over: Partial<Parameters<typeof readyLacks>[0]> = {},
    readings = sound(),
    work: Partial<WorkOnBike> = { finished },
  ) => {
    const { judgements, faults } = judged(readings, { work })
    return readyLacks({
      catalogue,
      kind: anyBike,
      judgements,
      faults,
      readings,
      work: { ...noWork, ...work },
      putBackAt: [],
      workers: ['wyn'],
      lastWorkDay: '2026-11-23',
      rides: [{ purpose: 'final', inAt: hoursAgo(2) }],
      words: [{ point: 'second-person', person: 'idris', at: hoursAgo(1), day: '2026-11-25' }],
      certificateWanted: false,
      neverSold: false,
      onePersonShop: false,
      now,
      ...over,
    }).map(({ about }) => about)
  }

  it('lacks nothing where all was done in order', () => {
    expect(lacksWith()).toEqual([])
  })

  it.each([
    ['no final ride', { rides: [] }, ['ride']],
    ['a ride before the work', { rides: [{ purpose: 'final', inAt: hoursAgo(50) }] }, ['ride']],
    ['a ride of another purpose', { rides: [{ purpose: 'test', inAt: hoursAgo(2) }] }, ['ride']],
    ['nobody looked a second time', { words: [] }, ['second-person']],
    [
      'the one who worked looked again',
      { words: [{ point: 'second-person' as const, person: 'wyn', at: hoursAgo(1), day: '2026-11-25' }] },
      ['second-person'],
    ],
    ['the certificate', { certificateWanted: true }, ['certificate']],
    ['a right to sell it', { neverSold: true }, ['identity']],
  ])('%s', (_, over, expected) => {
    expect(lacksWith(over)).toEqual(expected)
  })

  it('one person alone looks again on a later day', () => {
    const again = (day: string) => [{ point: 'second-person' as const, person: 'wyn', at: hoursAgo(1), day }]
    expect(lacksWith({ onePersonShop: true, words: again('2026-11-24') })).toEqual([])
    expect(lacksWith({ onePersonShop: true, words: again('2026-11-23') })).toEqual(['second-person'])
  })

  it('a must that is open, work begun and a state not put back each hold it', () => {
    const bad = [...sound(), read('lamps', 'bad', 0.5)]
    expect(lacksWith({}, bad)).toEqual(['fault', 'check'])
    const begun = { finished, underWay: [{ job: 'hoses', title: 'hoses', at: hoursAgo(90) }] }
    expect(lacksWith({}, sound(), begun)).toEqual(['work'])
    const open = { finished, openStates: [{ id: 's', kind: 'brake-open' as const }] }
    expect(lacksWith({}, sound(), open)).toEqual(['open-state'])
  })

  it('a stop that a person dropped or called milder holds it all the same, a must does not', () => {
    const dropped = (key: string): Decision => ({ kind: 'drop-fault', id: '1', key, reason: 'not so bad' })
    const milder: Decision = { kind: 'change-call', id: '1', key: 'fuel-bad', reason: 'x', call: 'leave' }
    const faultsOf = (key: string, decisions: Decision[]) =>
      deriveFaults({
        catalogue,
        kind: anyBike,
        judgements: judged([...sound(), read(key, 'bad', 0.5)]).judgements,
        decisions,
      })
    expect(lacksWith({ faults: faultsOf('fuel', [dropped('fuel-bad')]) })).toEqual(['fault'])
    expect(lacksWith({ faults: faultsOf('fuel', [milder]) })).toEqual(['fault'])
    expect(lacksWith({ faults: faultsOf('lamps', []) })).toEqual(['fault'])
    expect(lacksWith({ faults: faultsOf('lamps', [dropped('lamps-bad')]) })).toEqual([])
  })

  it('work that was given up asks for its ride and its second look like any other', () => {
    const left = { finished, givenUp: [{ job: 'bulb', at: hoursAgo(0.5) }] }
    const read = sound().map((one) => ({ ...one, takenAt: hoursAgo(0.1) }))
    expect(lacksWith({}, read, left)).toEqual(['ride', 'second-person'])
  })

  it('what was put back asks for a ride and a second look after it, whether a job had opened it or not', () => {
    expect(lacksWith({ putBackAt: [hoursAgo(3)] })).toEqual([])
    expect(lacksWith({ putBackAt: [hoursAgo(3), hoursAgo(1.5)] })).toEqual(['ride'])
    expect(lacksWith({ putBackAt: [hoursAgo(0.5)] })).toEqual(['ride', 'second-person'])
  })

  it('an old answer holds nothing, one from before the work does', () => {
    const old = [read('fuel', 'good', 24 * 9), ...sound().slice(1)]
    expect(lacksWith({}, old)).toEqual([])
    expect(
      lacksWith({}, [read('lamps', 'good', 60), ...sound().filter(({ check }) => check !== 'lamps')]),
    ).toEqual(['check'])
  })
})
