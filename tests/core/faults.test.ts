import { describe, expect, it } from 'vitest'
import type { Decision } from '../../lib/core/checks/decision.input'
import { decisionInput } from '../../lib/core/checks/decision.input'
import { deriveFaults, type FaultState } from '../../lib/core/checks/faults'
import type { EnteredLimit } from '../../lib/core/checks/limits'
import type { Reading } from '../../lib/core/checks/reading'
import { anyBike, calliper, micrometer, smallCatalogue } from '../support/small-catalogue'
import { around, judgements, reading, stamped } from '../support/small-readings'

type Known = {
  readings?: readonly Reading[]
  limits?: readonly EnteredLimit[]
  decisions?: readonly Decision[]
}

function faultsOf({ readings = [], limits = [], decisions = [] }: Known): Map<string, FaultState> {
  const derived = deriveFaults({
    catalogue: smallCatalogue,
    kind: anyBike,
    judgements: judgements(readings, limits),
    decisions,
  })
  return new Map(derived.map((fault) => [fault.fault, fault]))
}

const reason = 'seen by me'

describe('a bike that does not run', () => {
  const withChance = {
    ...smallCatalogue,
    faults: smallCatalogue.faults.map((fault) =>
      fault.key === 'tank-rust'
        ? { ...fault, nonRunner: { kept: 0.2, average: 0.4, neglected: 0.8 } }
        : fault,
    ),
  }
  const rust = (nonRunner: boolean, readings: readonly Reading[] = []) =>
    deriveFaults({
      catalogue: withChance,
      kind: anyBike,
      judgements: judgements(readings, []),
      decisions: [],
      nonRunner,
    }).find(({ fault }) => fault === 'tank-rust')

  it('hides what nobody could hear by its own chance, and a bike that runs by the usual one', () => {
    expect(rust(true)).toMatchObject({ state: 'open', chance: { kept: 0.2, average: 0.4, neglected: 0.8 } })
    expect(rust(false)).toMatchObject({ chance: { kept: 0.03, average: 0.15, neglected: 0.5 } })
  })

  it('is believed when the check could be done all the same', () => {
    // By hand, q(1 − 0.9)/(1 − 0.9 q): 0.8 → 0.08/0.28.
    expect(rust(true, [reading('tank', 'good')])).toMatchObject({
      chance: { neglected: expect.closeTo(0.08 / 0.28, 12) },
    })
    expect(rust(true, [reading('tank', 'bad')])).toMatchObject({ state: 'found' })
  })
})

describe('what readings do to faults', () => {
  it('a bad answer raises its fault and opens to the check and the reading', () => {
    const wet = reading('fuel', 'wet')
    expect(faultsOf({ readings: [wet] }).get('fuel-leak')).toMatchObject({
      state: 'found',
      chance: 1,
      call: 'stop',
      because: [
        { from: 'check', check: 'fuel', verdict: 'outside', says: 'Wet or dripping.', readings: [wet.id] },
      ],
    })
  })

  it('the same answer clears the other faults of the check', () => {
    expect(faultsOf({ readings: [reading('fuel', 'wet')] }).get('fuel-damp')).toMatchObject({
      state: 'clear',
    })
  })

  it('a fault nobody has looked for keeps its hidden chance in each care state', () => {
    expect(faultsOf({}).get('tank-rust')).toMatchObject({
      state: 'open',
      chance: { kept: 0.03, average: 0.15, neglected: 0.5 },
      openChecks: ['tank'],
    })
  })

  it('a clean look that misses one in ten leaves a smaller chance', () => {
    const rust = faultsOf({ readings: [reading('tank', 'good')] }).get('tank-rust')
    // By hand, q(1 − 0.9)/(1 − 0.9 q): 0.5 → 0.05/0.55 = 0.0909, 0.15 → 0.015/0.865 = 0.01734.
    expect(rust).toMatchObject({
      state: 'open',
      chance: { neglected: expect.closeTo(0.05 / 0.55, 12), average: expect.closeTo(0.015 / 0.865, 12) },
      openChecks: [],
    })
  })

  it('a clean look that misses nothing clears', () => {
    expect(faultsOf({ readings: [reading('boots', 'good')] }).get('boots-cracked')).toMatchObject({
      state: 'clear',
      chance: 0,
    })
  })

  it('too close to call puts the chance that the limit is broken in place of the hidden one', () => {
    const close = around('disc-left', [4.52, 4.52, 4.52, 4.52], calliper)
    const thin = faultsOf({ readings: close, limits: [stamped('disc-left', 4.5)] }).get('disc-thin')
    expect(thin).toMatchObject({ state: 'open', chance: expect.closeTo(1 - 0.791, 3) })
  })

  it('too few readings keep the hidden chance', () => {
    const one = around('disc-left', [4.9], micrometer)
    const thin = faultsOf({ readings: one, limits: [stamped('disc-left', 4.5)] }).get('disc-thin')
    expect(thin).toMatchObject({ state: 'open', chance: { kept: 0.05, average: 0.1, neglected: 0.3 } })
  })

  it('below the sale line the fault beside the limit is raised, as a must at least', () => {
    const legal = around('disc-left', [4.6, 4.6, 4.6, 4.6], micrometer)
    const faults = faultsOf({ readings: legal, limits: [stamped('disc-left', 4.5, { saleMin: 4.7 })] })
    expect(faults.get('disc-near-limit')).toMatchObject({ state: 'found', call: 'must', derivedCall: 'must' })
    expect(faults.get('disc-thin')).toMatchObject({ state: 'clear' })
  })

  it('one place below the sale line is enough for it', () => {
    const one = around('disc-left', [4.6], micrometer)
    const faults = faultsOf({ readings: one, limits: [stamped('disc-left', 4.5, { saleMin: 4.7 })] })
    expect(faults.get('disc-near-limit')).toMatchObject({ state: 'found', call: 'must' })
  })

  it('past the limit one worn disc is one fault', () => {
    const worn = around('disc-left', [4.4, 4.4, 4.4, 4.4], micrometer)
    const faults = faultsOf({ readings: worn, limits: [stamped('disc-left', 4.5, { saleMin: 4.7 })] })
    expect(faults.get('disc-thin')).toMatchObject({ state: 'found', call: 'stop' })
    expect(faults.get('disc-near-limit')).toMatchObject({ state: 'clear' })
  })

  it('a tyre over the sale line but not over the guidance age is a must', () => {
    const faults = faultsOf({ readings: [reading('tyre-code', '0118')] })
    expect(faults.get('tyre-ageing')).toMatchObject({ state: 'found', call: 'must' })
    expect(faults.get('tyre-old')).toMatchObject({ state: 'clear' })
  })

  it('a tyre over the guidance age is the older fault alone', () => {
    const faults = faultsOf({ readings: [reading('tyre-code', '2207')] })
    expect(faults.get('tyre-old')).toMatchObject({ state: 'found' })
    expect(faults.get('tyre-ageing')).toMatchObject({ state: 'clear' })
  })

  it('faults whose only check does not apply to the bike are neither found nor likely', () => {
    const derived = deriveFaults({ catalogue: smallCatalogue, kind: anyBike, judgements: [], decisions: [] })
    expect(derived.find(({ fault }) => fault === 'chain-dry')).toMatchObject({ state: 'open', chance: 0 })
  })
})

describe('no charge: connector, regulator or stator', () => {
  const weak = () => [reading('charging', 12.7)]
  const shares = (fault: FaultState | undefined) =>
    Object.fromEntries((fault?.causes ?? []).map(({ job, share }) => [job, share]))

  it('one of three, before anybody looks at the plug', () => {
    const fault = faultsOf({ readings: weak() }).get('no-charge')
    expect(fault).toMatchObject({ state: 'found' })
    expect(shares(fault)).toEqual({ connector: 0.4, regulator: 0.4, stator: 0.2 })
  })

  it('a browned plug settles it', () => {
    const fault = faultsOf({ readings: [...weak(), reading('plug', 'browned')] }).get('no-charge')
    expect(shares(fault)).toEqual({ connector: 1 })
    expect(fault?.because.map((e) => (e.from === 'check' ? e.check : ''))).toEqual(['charging', 'plug'])
  })

  it('a clean plug makes the connector unlikely and the others more likely in proportion', () => {
    const fault = faultsOf({ readings: [...weak(), reading('plug', 'clean')] }).get('no-charge')
    // By hand with detection 0.9: 0.4 × 0.1 = 0.04, over 1 − 0.36 = 0.64.
    expect(shares(fault)).toEqual({
      connector: expect.closeTo(0.0625, 12),
      regulator: expect.closeTo(0.625, 12),
      stator: expect.closeTo(0.3125, 12),
    })
  })

  it('a clean plug alone lowers the hidden chance of the whole symptom', () => {
    const fault = faultsOf({ readings: [reading('plug', 'clean')] }).get('no-charge')
    // By hand, c(1 − 0.36)/(1 − 0.36 c) for c = 0.2: 0.128/0.928.
    expect(fault).toMatchObject({ state: 'open', chance: { neglected: expect.closeTo(0.128 / 0.928, 12) } })
  })

  it('a browned plug alone is a fault found, with its cause', () => {
    const fault = faultsOf({ readings: [reading('plug', 'browned')] }).get('no-charge')
    expect(fault).toMatchObject({ state: 'found' })
    expect(shares(fault)).toEqual({ connector: 1 })
  })

  it('a person may name the cause', () => {
    const decisions: Decision[] = [{ kind: 'choose-job', id: '1', key: 'no-charge', job: 'stator', reason }]
    expect(shares(faultsOf({ readings: weak(), decisions }).get('no-charge'))).toEqual({ stator: 1 })
  })
})

describe('what a person sets against it', () => {
  it('adds a fault of the catalogue', () => {
    const decisions: Decision[] = [{ kind: 'add-fault', id: '1', key: 'paint-poor', reason }]
    expect(faultsOf({ decisions }).get('paint-poor')).toMatchObject({
      state: 'added',
      chance: 1,
      because: [{ from: 'decision', decision: '1', says: reason }],
    })
  })

  it('adds a fault of his own', () => {
    const own = { title: 'Seat torn', call: 'leave', job: null, saleOffMinor: 2000 } as const
    const decisions: Decision[] = [{ kind: 'add-fault', id: '1', key: 'own-1', own, reason }]
    expect(faultsOf({ decisions }).get('own-1')).toMatchObject({
      title: 'Seat torn',
      state: 'added',
      jobs: [],
    })
  })

  it('drops a fault, and what it was stays readable', () => {
    const decisions: Decision[] = [{ kind: 'drop-fault', id: '1', key: 'fuel-damp', reason }]
    expect(faultsOf({ readings: [reading('fuel', 'damp')], decisions }).get('fuel-damp')).toMatchObject({
      state: 'dropped',
      was: 'found',
      chance: 0,
    })
  })

  it('changes a call, the later decision standing', () => {
    const decisions: Decision[] = [
      { kind: 'change-call', id: '2', key: 'fuel-damp', call: 'leave', reason },
      { kind: 'change-call', id: '1', key: 'fuel-damp', call: 'stop', reason },
    ]
    expect(faultsOf({ readings: [reading('fuel', 'damp')], decisions }).get('fuel-damp')).toMatchObject({
      call: 'leave',
      derivedCall: 'must',
    })
  })

  it.each([
    [{ kind: 'add-fault', id: '1', key: 'x', reason: '  ' }, 'Say why, in a few words.'],
    [{ kind: 'change-job', id: '1', key: 'x', reason }, 'Change the hours, the parts or the outside work.'],
  ])('a decision without its point is refused: %j', (typed, message) => {
    const parsed = decisionInput.safeParse(typed)
    expect(parsed.error?.issues.map((issue) => issue.message)).toEqual([message])
  })
})
