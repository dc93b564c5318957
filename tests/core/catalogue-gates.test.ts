import { describe, expect, it } from 'vitest'
import { openedBy } from '../../lib/catalogue/opened-by'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { type BikeKind, bikeKindValues, fitsKind } from '../../lib/core/checks/bike-kind'
import type { Check, GatedRound } from '../../lib/core/checks/catalogue'
import { judgeBike, noWork, type WorkOnBike } from '../../lib/core/checks/judge-bike'
import type { EnteredLimit } from '../../lib/core/checks/limits'
import { neededCheck } from '../../lib/core/checks/locks'
import type { Reading } from '../../lib/core/checks/reading'
import { lastWorkOn } from '../../lib/core/checks/work-done'
import { anyBike } from '../support/small-catalogue'

/*
 * What the starting catalogue asks before an engine is started and before a bike is ridden. Common practice, no
 * published source: the list is the shop's rule, and the hours are starting values.
 */

const { checks, faults, operations } = startingCatalogue
const now = '2026-11-25T12:00:00.000Z'

/** Every part of the kind with every value it can have, the rest as usual; and the oddest all together. */
const kinds: BikeKind[] = [
  ...Object.entries(bikeKindValues).flatMap(([part, values]) =>
    values.map((value) => ({ ...anyBike, [part]: value }) as BikeKind),
  ),
  {
    ...anyBike,
    class: 'light',
    finalDrive: 'belt',
    cooling: 'air',
    frontBrake: 'drum',
    rearBrake: 'drum',
    wheels: 'spoked',
    rims: 'steel',
    strokes: 'two',
    starter: 'kick',
    centreStand: 'no',
  },
]
const nameOf = (kind: BikeKind) => Object.values(kind).join(' ')
const gated = (kind: BikeKind, round: GatedRound) =>
  checks
    .filter(({ gate, appliesTo }) => gate?.opens.includes(round) && fitsKind(kind, appliesTo))
    .map(({ key }) => key)

let count = 0
function good(check: Check): Reading[] {
  const answer = check.sort === 'look' ? check.answers.find(({ tone }) => tone === 'good')!.key : '0'
  const places = check.sort === 'measured' ? check.positions.map(({ key }) => key) : [null]
  return places.map((position): Reading => {
    count += 1
    return {
      id: `r${String(count).padStart(6, '0')}`,
      check: check.key,
      position,
      kind: check.sort === 'measured' ? 'measured' : check.sort === 'look' ? 'answer' : 'code',
      value: check.sort === 'measured' ? String(middle(check)) : answer,
      unit: check.sort === 'measured' ? check.unit : null,
      conditions: [...(check.conditions ?? [])],
      instrument: null,
      takenAt: '2026-11-25T11:00:00.000Z',
      supersedes: null,
    }
  })
}

const middle = ({ plausible }: Extract<Check, { sort: 'measured' }>) => (plausible.min + plausible.max) / 2

/** What a shop enters from the model's sheets, so that a measured check can be judged. */
const entered: EnteredLimit[] = checks.flatMap((check) =>
  check.sort === 'measured' && check.limit === null
    ? [
        {
          id: `limit-${check.key}`,
          check: check.key,
          scope: 'shop',
          position: null,
          min: check.plausible.min,
          max: check.plausible.max,
          asNew: null,
          saleMin: null,
          saleMax: null,
          unit: check.unit,
          source: { kind: 'maker', says: 'from the sheet of the model, for this test' },
        } satisfies EnteredLimit,
      ]
    : [],
)

function roundsOf(
  kind: BikeKind,
  readings: readonly Reading[],
  clearings: readonly string[] = [],
  work: WorkOnBike = noWork,
) {
  const { locks } = judgeBike({
    catalogue: startingCatalogue,
    kind,
    readings,
    limits: entered,
    decisions: [],
    clearings: clearings.map((fault) => ({ fault, until: '2026-11-26T12:00:00.000Z' })),
    work,
    ridePapers: { noted: true },
    ages: { guidance: 10, saleLine: 8 },
    asOf: '2026-11-25',
    now,
  })
  return Object.fromEntries(locks.map((lock) => [lock.round, lock]))
}

const gateReadings = (kind: BikeKind, without: readonly string[] = []) =>
  checks
    .filter(({ key, gate, appliesTo }) => gate && fitsKind(kind, appliesTo) && !without.includes(key))
    .flatMap(good)

describe('the gates of the starting catalogue', () => {
  it.each(kinds.map((kind) => [nameOf(kind), kind] as const))(
    'open for %s when what they ask for is done and good, and not before',
    (_name, kind) => {
      expect(roundsOf(kind, [])).toMatchObject({ running: { open: false }, road: { open: false } })
      const rounds = roundsOf(kind, gateReadings(kind))
      expect(rounds.running!.needs).toEqual([])
      expect(rounds.road!.needs).toEqual([])
      expect(rounds).toMatchObject({ running: { open: true }, road: { open: true } })
    },
  )

  it('stay shut for want of any single one of them', () => {
    for (const round of ['running', 'road'] as const) {
      for (const key of gated(anyBike, round)) {
        expect(roundsOf(anyBike, gateReadings(anyBike, [key]))[round]!.open, `${round} without ${key}`).toBe(
          false,
        )
      }
    }
  })

  it.each([
    ['no smell or wet of petrol', 'running', ['fuel-leaks'], anyBike],
    ['oil seen and smelt', 'running', ['oil-level', 'oil-smell'], anyBike],
    ['oil of a two-stroke', 'running', ['two-stroke-oil'], { ...anyBike, strokes: 'two' }],
    ['a throttle that snaps shut', 'running', ['throttle-snaps-shut'], anyBike],
    ['neutral and stand', 'running', ['neutral-and-stand'], anyBike],
    ['gas led away', 'running', ['gas-led-away'], anyBike],
    ['an extinguisher', 'running', ['extinguisher'], anyBike],
    ['petrol again', 'road', ['fuel-leaks', 'throttle-snaps-shut'], anyBike],
    ['a firm and dry front brake', 'road', ['front-brake-lever', 'brake-leaks-front'], anyBike],
    ['a firm and dry rear brake', 'road', ['rear-brake-pedal', 'brake-leaks-rear'], anyBike],
    [
      'drums that bite',
      'road',
      ['front-drum-bite', 'rear-drum-bite'],
      { ...anyBike, frontBrake: 'drum', rearBrake: 'drum' },
    ],
    ['pads', 'road', ['pads-front-twin', 'pads-rear'], anyBike],
    [
      'discs',
      'road',
      ['disc-front-left', 'disc-front-right', 'disc-rear', 'disc-cracks-front', 'disc-cracks-rear'],
      anyBike,
    ],
    [
      'pads and disc of a single',
      'road',
      ['pads-front-single', 'disc-front'],
      { ...anyBike, frontBrake: 'single-disc' },
    ],
    [
      'tyres: walls and pressure',
      'road',
      ['tyre-walls-front', 'tyre-walls-rear', 'tyre-pressure-front', 'tyre-pressure-rear'],
      anyBike,
    ],
    ['steering', 'road', ['steering-play'], anyBike],
    [
      'wheels, axles and pins',
      'road',
      ['wheel-bearings-front', 'wheel-bearings-rear', 'axles', 'torque-arm'],
      anyBike,
    ],
    ['spokes', 'road', ['spokes'], { ...anyBike, wheels: 'spoked' }],
    ['a chain', 'road', ['chain-slack', 'chain-wear', 'chain-joint'], anyBike],
    ['a shaft', 'road', ['shaft-drive'], { ...anyBike, finalDrive: 'shaft' }],
    ['a belt', 'road', ['drive-belt'], { ...anyBike, finalDrive: 'belt' }],
    ['fork oil off the disc', 'road', ['fork-seals'], anyBike],
    ['lamps', 'road', ['headlamp', 'brake-lamp', 'indicators'], anyBike],
    ['kill switch and stand cut-out', 'road', ['kill-switch', 'stand-cut-out'], anyBike],
  ] as const)('ask for %s before %s', (_what, round, keys, kind) => {
    expect(gated(kind, round)).toEqual(expect.arrayContaining([...keys]))
  })

  it('ask nothing that only a ride or, before a start, only a running engine can tell', () => {
    for (const { key, round, gate } of checks) {
      if (!gate) continue
      expect(round, key).not.toBe('road')
      if (gate.opens.includes('running')) expect(['cold', 'stand'], key).toContain(round)
    }
  })

  it('count petrol and brakes for one day, and wear for a month', () => {
    const hours = (key: string) => checks.find((one) => one.key === key)?.gate?.hours
    for (const key of ['fuel-leaks', 'front-brake-lever', 'rear-brake-pedal', 'brake-leaks-front'])
      expect(hours(key), key).toBe(24)
    expect(hours('tyre-walls-front')).toBe(7 * 24)
    expect(hours('pads-rear')).toBe(30 * 24)
  })

  it('take no reason in place of looking for petrol, and one in place of an extinguisher', () => {
    const reason = (key: string) =>
      roundsOf(anyBike, gateReadings(anyBike, [key]), [neededCheck(key)]).running!.open
    expect(reason('fuel-leaks')).toBe(false)
    expect(reason('throttle-snaps-shut')).toBe(false)
    expect(reason('extinguisher')).toBe(true)
  })

  /** With everything good but one answer, and a reason given for the check and for every fault. */
  const answeredSo = (key: string, answer: string, kind: BikeKind = anyBike) => {
    const check = checks.find((one) => one.key === key)!
    const said = good(check).map((reading) => ({ ...reading, value: answer }))
    return [...gateReadings(kind, [key]), ...said]
  }
  const drums: BikeKind = { ...anyBike, frontBrake: 'drum', rearBrake: 'drum' }

  it.each<[key: string, answer: string, opens: boolean, kind?: BikeKind]>([
    ['wheel-bearings-front', 'rough', true],
    ['wheel-bearings-front', 'loose', false],
    ['wheel-bearings-rear', 'rough', true],
    ['steering-play', 'notch', true],
    ['steering-play', 'loose', false],
    ['front-brake-lever', 'spongy', true],
    ['front-brake-lever', 'none', false],
    ['rear-brake-pedal', 'spongy', true],
    ['brake-leaks-front', 'damp', true],
    ['brake-leaks-front', 'wet', false],
    ['front-drum-bite', 'long', true, drums],
    ['front-drum-bite', 'none', false, drums],
    ['tyre-walls-front', 'cracked', true],
    ['tyre-walls-front', 'bald', true],
    ['tyre-walls-front', 'cord', false],
    ['oil-level', 'none', true],
    ['oil-smell', 'dirty', true],
    ['oil-smell', 'water', true],
    ['oil-smell', 'petrol', false],
    ['throttle-snaps-shut', 'sticks', false],
    ['fuel-leaks', 'smell', false],
    ['fuel-leaks', 'damp', false],
    ['fuel-leaks', 'wet', false],
  ])('take a reason for the answer and not for the check: %s %s, %s', (key, answer, opens, kind) => {
    const readings = answeredSo(key, answer, kind)
    const clearings = [neededCheck(key), ...faults.map((fault) => fault.key)]
    expect(roundsOf(kind ?? anyBike, readings).road!.open).toBe(false)
    expect(roundsOf(kind ?? anyBike, readings, clearings).road!.open).toBe(opens)
  })

  it('take none for a check that may hide what only its job clears: not done, too old, or worked on since', () => {
    const key = 'wheel-bearings-front'
    const lacking = (readings: Reading[], work?: WorkOnBike) => {
      const { road } = roundsOf(anyBike, readings, [neededCheck(key)], work)
      return road!.needs.flatMap(({ check, lacks, byReason }) => (check === key ? [[lacks, byReason]] : []))
    }
    expect(lacking(gateReadings(anyBike, [key]))).toEqual([['not-checked', false]])
    const old = good(checks.find((one) => one.key === key)!)
    const monthsAgo = old.map((reading) => ({ ...reading, takenAt: '2026-09-01T11:00:00.000Z' }))
    expect(lacking([...gateReadings(anyBike, [key]), ...monthsAgo])).toEqual([['too-old', false]])
    const work = { ...noWork, finished: [{ job: 'front-wheel-bearings', at: '2026-11-25T11:30:00.000Z' }] }
    expect(lacking(gateReadings(anyBike), work)).toEqual([['worked-on', false]])
  })

  it('are opened by the reason that opens the lock of the fault, and not by half of several', () => {
    const none = answeredSo('oil-level', 'none')
    expect(roundsOf(anyBike, none, ['oil-absent'])).toMatchObject({
      running: { open: true, needs: [{ check: 'oil-level', clearedUntil: '2026-11-26T12:00:00.000Z' }] },
    })
    const onBrake = answeredSo('fork-seals', 'on-brake')
    const road = (clearings: string[]) => roundsOf(anyBike, onBrake, clearings).road!.open
    expect(road(['fork-oil-on-brake'])).toBe(false)
    expect(road(['fork-oil-on-brake', neededCheck('fork-seals')])).toBe(false)
    expect(road(['fork-oil-on-brake', 'front-pads-oiled'])).toBe(true)
  })

  it('name checks that exist on some bike', () => {
    const reachable = new Set(kinds.flatMap((kind) => [...gated(kind, 'running'), ...gated(kind, 'road')]))
    expect(checks.filter(({ key, gate }) => gate && !reachable.has(key)).map(({ key }) => key)).toEqual([])
  })
})

describe('the fasteners of brake, wheel and steering', () => {
  const torques = checks.flatMap((check) => (check.sort === 'measured' && check.fastener ? [check] : []))

  it.each([
    [anyBike, ['torque-calipers-front-twin', 'torque-caliper-rear']],
    [{ ...anyBike, frontBrake: 'single-disc' }, ['torque-caliper-front-single', 'torque-caliper-rear']],
    [{ ...anyBike, frontBrake: 'drum', rearBrake: 'drum' }, ['torque-brake-arm']],
  ] as const)('have their torque noted on every kind of bike', (kind, brakes) => {
    const here = torques.filter(({ appliesTo }) => fitsKind(kind, appliesTo))
    expect(here.filter(({ fastener }) => fastener === 'brake').map(({ key }) => key)).toEqual(brakes)
    expect(here.filter(({ fastener }) => fastener === 'wheel').map(({ key }) => key)).toEqual([
      'torque-front-axle',
      'torque-rear-axle',
    ])
    expect(here.filter(({ fastener }) => fastener === 'steering')).toHaveLength(1)
  })

  it('are tightened with a torque wrench to a figure that the model gives, in either unit', () => {
    for (const { key, units, limit, needs, how, source } of torques) {
      expect(units, key).toEqual(['N·m', 'lbf·ft'])
      expect(limit, key).toBeNull()
      expect(source.kind, key).toBe('maker')
      expect(needs, key).toEqual(['torque wrench'])
      expect(how.join(' '), key).toContain('wrench')
    }
  })

  it('raise the fault of a loose part where the figure is missed', () => {
    for (const { key, raises } of torques) {
      const raised = raises.flatMap((raise) => ('fault' in raise ? [raise.fault] : []))
      expect(raised, key).toHaveLength(1)
      expect(
        faults.find((fault) => fault.key === raised[0]),
        key,
      ).toMatchObject({ call: 'stop' })
    }
  })
})

describe('work on a part asks for what is near it again', () => {
  const at = '2026-11-25T11:30:00.000Z'
  const asked = (job: string) => [...lastWorkOn(startingCatalogue, [{ job, at }]).keys()]

  it.each([
    ['front-tyre', ['axles', 'torque-front-axle', 'front-brake-lever', 'tyre-pressure-front']],
    ['chain-and-sprockets', ['chain-slack', 'axles', 'torque-rear-axle', 'rear-brake-pedal']],
    ['front-pads', ['front-brake-lever', 'brake-leaks-front', 'torque-calipers-front-twin']],
    ['rear-drum-shoes', ['rear-drum-bite', 'torque-arm', 'torque-brake-arm']],
    ['steering-bearings', ['steering-play', 'torque-steering-stem', 'torque-front-axle']],
    ['valve-clearances', ['fuel-leaks']],
    ['carburettor-clean', ['fuel-leaks', 'throttle-snaps-shut']],
    ['oil-and-filter', ['oil-level']],
  ])('after %s: %j', (job, checksAsked) => {
    expect(asked(job)).toEqual(expect.arrayContaining(checksAsked))
  })

  it('and leaves alone what it did not touch', () => {
    expect(asked('front-tyre')).not.toContain('torque-rear-axle')
    expect(asked('front-pads')).not.toContain('fuel-leaks')
    expect(asked('seat-cover').filter((key) => checks.find((one) => one.key === key)?.gate)).toEqual([])
  })

  it('for every step that opens fuel, oil, brake or axle', () => {
    for (const [step, kind] of Object.entries(openedBy)) {
      if (kind === 'coolant-out') continue
      const { disturbs = [], needs = [] } = operations.find(({ key }) => key === step)!
      const near = [
        ...disturbs,
        ...needs.flatMap((one) => operations.find(({ key }) => key === one)!.disturbs ?? []),
      ]
      expect(
        near.some((key) => checks.find((one) => one.key === key)?.gate),
        step,
      ).toBe(true)
    }
  })

  it('so that a round that was open is shut until it is looked at once more', () => {
    const work = { ...noWork, finished: [{ job: 'front-pads', at }] }
    const { road, running } = roundsOf(anyBike, gateReadings(anyBike), [], work)
    expect(running!.open).toBe(true)
    expect(road!.open).toBe(false)
    const lacks = road!.needs.map(({ check, lacks: why }) => [check, why])
    expect(lacks).toEqual(
      expect.arrayContaining([
        ['front-brake-lever', 'worked-on'],
        ['brake-leaks-front', 'worked-on'],
      ]),
    )
    expect(lacks.map(([check]) => check)).not.toContain('rear-brake-pedal')
  })
})
