import { describe, expect, it } from 'vitest'
import { openedBy } from '../../lib/catalogue/opened-by'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { type BikeKind, bikeKindValues, fitsKind } from '../../lib/core/checks/bike-kind'
import {
  type Check,
  careStates,
  conditions,
  type Fault,
  type Job,
  type Raise,
  type Source,
  shortPlaces,
} from '../../lib/core/checks/catalogue'
import type { OpenStateKind } from '../../lib/core/checks/open-states'
import { convert } from '../../lib/core/quantity/units'
import { anyBike } from '../support/small-catalogue'

const { checks, faults, jobs, operations, cautions } = startingCatalogue

const tables = { checks, faults, jobs, operations, cautions }

const check = byKey(checks)
const fault = byKey(faults)
const job = byKey(jobs)
const operation = byKey(operations)
const caution = byKey(cautions)

describe('the starting catalogue', () => {
  it.each([
    ['checks', 95],
    ['faults', 65],
    ['jobs', 65],
    ['operations', 45],
  ] as const)('has its %s: at least %i', (table, least) => {
    expect(tables[table].length).toBeGreaterThanOrEqual(least)
  })

  it('has checks of every sort and in every round', () => {
    expect(new Set(checks.map(({ sort }) => sort))).toEqual(new Set(['measured', 'look', 'code', 'number']))
    expect(new Set(checks.map(({ round }) => round))).toEqual(new Set(['cold', 'stand', 'running', 'road']))
  })

  it.each(Object.entries(tables))('uses each key of its %s once', (_, table) => {
    const keys = table.map(({ key }) => key)
    expect(repeated(keys)).toEqual([])
    expect(keys.filter((key) => !/^[a-z]+(-[a-z0-9]+)*$/.test(key))).toEqual([])
  })

  it('names nothing that does not exist', () => {
    const dangling = [
      ...checks.flatMap(({ key, raises }) => raises.map((raise) => [key, faultOf(raise), fault] as const)),
      ...checks.flatMap(({ key, cautions: of = [] }) => of.map((to) => [key, to, caution] as const)),
      ...faults.flatMap((of) => jobsOf(of).map((to) => [of.key, to, job] as const)),
      ...faults.flatMap(({ key, diagnosis }) => (diagnosis ? [[key, diagnosis, job] as const] : [])),
      ...faults.flatMap(({ key, rechecks }) => rechecks.map((to) => [key, to, check] as const)),
      ...jobs.flatMap(({ key, operations: of }) => of.map((to) => [key, to, operation] as const)),
      ...jobs.flatMap(({ key, cautions: of = [] }) => of.map((to) => [key, to, caution] as const)),
      ...operations.flatMap(({ key, needs = [] }) => needs.map((to) => [key, to, operation] as const)),
      ...operations.flatMap(({ key, disturbs = [] }) => disturbs.map((to) => [key, to, check] as const)),
    ]
      .filter(([, to, table]) => !table.has(to))
      .map(([from, to]) => `${from} names ${to}`)
    expect(dangling).toEqual([])
  })

  it('leaves no fault unraised, no job without a fault, no operation and no caution unused', () => {
    const raised = new Set(
      checks.flatMap(({ raises }) => raises).flatMap((r) => ('fault' in r ? [r.fault] : [])),
    )
    expect(faults.map(({ key }) => key).filter((key) => !raised.has(key))).toEqual([])
    const curing = new Set(faults.flatMap((of) => [...jobsOf(of), ...(of.diagnosis ? [of.diagnosis] : [])]))
    expect(jobs.map(({ key }) => key).filter((key) => !curing.has(key))).toEqual([])
    const needed = new Set([
      ...jobs.flatMap((of) => of.operations),
      ...operations.flatMap(({ needs = [] }) => needs),
    ])
    expect(operations.map(({ key }) => key).filter((key) => !needed.has(key))).toEqual([])
    const shared = operations.filter(
      ({ key }) => jobs.filter((of) => closure(of.operations).has(key)).length > 1,
    )
    // Only what several jobs need is worth counting once: most steps are, and the rest are a way to one of them.
    expect(shared.length).toBeGreaterThanOrEqual(40)
    const shown = new Set([...checks, ...jobs].flatMap((of) => of.cautions ?? []))
    expect(cautions.map(({ key }) => key).filter((key) => !shown.has(key))).toEqual([])
  })

  it('gives every entry its source', () => {
    const sources: [string, Source][] = [
      ...[...checks, ...faults, ...jobs].map(({ key, source }): [string, Source] => [key, source]),
      ...checks.flatMap((of) => (of.sort === 'measured' ? bounds(of) : [])),
    ]
    expect(sources.filter(([, { says }]) => says.length < 15).map(([key]) => key)).toEqual([])
    const unmarked = sources.filter(
      ([, { kind, says }]) =>
        kind === 'common practice' && !says.startsWith('common practice, no published source'),
    )
    expect(unmarked.map(([key]) => key)).toEqual([])
    const unsaid = sources.filter(([, { kind, says }]) => kind === 'starting value' && !says.includes(kind))
    expect(unsaid.map(([key]) => key)).toEqual([])
  })
})

describe('a check of the catalogue', () => {
  it('says how in two to five plain sentences', () => {
    const wrong = checks.filter(
      ({ how }) => how.length < 2 || how.length > 5 || how.some((says) => !/^[A-Z].*[^.]\.$/.test(says)),
    )
    expect(wrong.map(({ key }) => key)).toEqual([])
  })

  it('takes a realistic time', () => {
    expect(checks.filter(({ minutes }) => minutes < 0.3 || minutes > 5).map(({ key }) => key)).toEqual([])
  })

  it('has at least one good and one other answer where it is a look, each key once', () => {
    const wrong = checks.filter(
      (of) =>
        of.sort === 'look' &&
        (repeated(of.answers.map(({ key }) => key)).length > 0 ||
          !of.answers.some(({ tone }) => tone === 'good') ||
          of.answers.every(({ tone }) => tone === 'good')),
    )
    expect(wrong.map(({ key }) => key)).toEqual([])
  })

  it('reacts to every bad answer and only to answers that it has', () => {
    for (const of of checks) {
      const spoken = of.raises.flatMap(({ when }) => (when.on === 'answer' ? [when.answer] : []))
      if (of.sort !== 'look') {
        expect(spoken, of.key).toEqual([])
        continue
      }
      const answers = new Set(of.answers.map(({ key }) => key))
      expect(
        spoken.filter((answer) => !answers.has(answer)),
        of.key,
      ).toEqual([])
      if (aboutThePlace(of)) continue
      const bad = of.answers.filter(({ tone }) => tone === 'bad').map(({ key }) => key)
      expect(
        bad.filter((answer) => !spoken.includes(answer)),
        of.key,
      ).toEqual([])
    }
  })

  it('asks what its sort can answer', () => {
    const can: Record<Check['sort'], readonly string[]> = {
      measured: ['outside', 'above-limit', 'below-limit', 'below-sale-line'],
      look: ['answer'],
      code: [],
      number: ['over', 'under'],
    }
    const ofCode = {
      'tyre-date': ['older-than'],
      'tyre-size': [],
      'done-on': ['outside'],
    } as const satisfies Record<string, readonly string[]>
    const wrong = checks.filter((of) => {
      const known: readonly string[] = of.sort === 'code' ? ofCode[of.code] : can[of.sort]
      return of.raises.some(({ when }) => !known.includes(when.on))
    })
    expect(wrong.map(({ key }) => key)).toEqual([])
  })

  it('asks for conditions that there are, each once, and is measured where the engine speed counts', () => {
    for (const { key, conditions: of = [] } of checks) {
      expect(repeated(of), key).toEqual([])
      expect(
        of.filter((one) => !conditions.includes(one)),
        key,
      ).toEqual([])
      expect(of.includes('cold') && of.includes('hot'), key).toBe(false)
    }
    const bySpeed = checks.flatMap((of) => (of.sort === 'measured' && of.needsEngineSpeed ? [of.key] : []))
    expect(bySpeed.sort()).toEqual(['charging-idle-volts', 'charging-speed-volts', 'oil-pressure'])
  })

  it.each([
    ['cold-start', ['cold']],
    ['oil-level', ['upright', 'level']],
    ['brake-fluid-front', ['upright', 'level']],
    ['brake-fluid-rear', ['upright', 'level']],
    ['coolant', ['cold']],
    ['tyre-pressure-front', ['cold']],
    ['battery-rest-volts', ['rested', 'off']],
    ['battery-drain', ['off']],
    ['compression', ['hot']],
    ['oil-level-warm', ['hot', 'upright', 'level']],
  ])('judges %s only when %j', (key, when) => {
    expect(check.get(key)?.conditions).toEqual(when)
  })

  it.each([
    ['tyre-pressure-front', 14],
    ['tyre-pressure-rear', 14],
    ['battery-rest-volts', 30],
    ['battery-cells', 30],
    ['fuel-age', 90],
  ])('asks for %s again after %i days', (key, days) => {
    expect(check.get(key)?.staleAfterDays).toBe(days)
  })

  it('starts ages from years that are marked as starting values', () => {
    const ages = checks.flatMap((of) => (of.sort === 'code' && of.code === 'done-on' ? [of] : []))
    expect(ages.length).toBeGreaterThanOrEqual(12)
    for (const { key, overYears, source, raises } of ages) {
      expect(overYears, key).toBeGreaterThan(0)
      expect(source.kind, key).toBe('starting value')
      expect(raises.length, key).toBeGreaterThan(0)
    }
  })

  it.each([
    ['cam-belt-age', 'cam-belts-due', 'must'],
    ['brake-fluid-age-front', 'front-brake-fluid-old', 'must'],
    ['brake-fluid-age-rear', 'rear-brake-fluid-old', 'must'],
    ['brake-hose-age-front', 'front-brake-hose-aged', 'must'],
    ['brake-hose-age-rear', 'rear-brake-hose-aged', 'must'],
    ['coolant-age', 'coolant-old', 'must'],
    ['shaft-oil-age', 'shaft-oil-due', 'must'],
    ['engine-oil-age', 'engine-oil-due', 'pays'],
    ['gearbox-oil-age', 'gearbox-oil-due', 'pays'],
    ['coolant-hose-age', 'coolant-hoses-aged', 'pays'],
    ['fuel-hose-age', 'fuel-hoses-aged', 'pays'],
    ['fork-oil-age', 'fork-oil-due', 'pays'],
    ['drive-belt-age', 'drive-belt-aged', 'pays'],
  ])('%s raises %s, which a careful trade calls %s, and which may be there unasked', (key, of, call) => {
    expect(check.get(key)?.raises).toEqual([{ when: { on: 'outside' }, fault: of }])
    expect(fault.get(of)).toMatchObject({ call, hidden: {} })
    expect(fault.get(of)?.rechecks).toContain(key)
    expect(fault.get(of)?.jobs.length).toBeGreaterThan(0)
  })

  it('tries the kill switch first after the start, and starts only when the lamps have been seen', () => {
    const running = checks.filter(({ round }) => round === 'running').map(({ key }) => key)
    expect(running.indexOf('kill-switch')).toBe(running.indexOf('cold-start') + 1)
    expect(running.indexOf('brake-lamp')).toBeLessThan(running.indexOf('cold-start'))
  })

  it('looks for what burns and for oil before anything is started', () => {
    const order = checks.map(({ key }) => key)
    const before = ['fuel-leaks', 'oil-level', 'oil-smell', 'two-stroke-oil', 'throttle-snaps-shut', 'loom']
    expect(before.filter((key) => order.indexOf(key) >= order.indexOf('ignition-on'))).toEqual([])
    expect(order[0]).toBe('fuel-leaks')
  })

  it('names as a cause only what is one, and raises a fault with causes elsewhere', () => {
    const named = checks.flatMap(({ raises }) =>
      raises.flatMap((raise) =>
        'settles' in raise ? [raise.settles] : 'rulesOut' in raise ? [raise.rulesOut] : [],
      ),
    )
    expect(named.length).toBeGreaterThan(0)
    const wrong = named.filter(
      ({ fault: of, cause }) => !fault.get(of)?.causes?.some(({ job }) => job === cause),
    )
    expect(wrong).toEqual([])
  })

  it('finds its fault with a chance that is one', () => {
    expect(checks.filter(({ detects = 1 }) => detects <= 0 || detects > 1).map(({ key }) => key)).toEqual([])
  })
})

describe('a measured check', () => {
  const measured = checks.flatMap((of) => (of.sort === 'measured' ? [of] : []))

  it('has positions, each once, and instruments in a unit of its own', () => {
    for (const of of measured) {
      expect(of.positions.length, of.key).toBeGreaterThan(0)
      expect(repeated(of.positions.map(({ key }) => key)), of.key).toEqual([])
      expect(of.instruments.length, of.key).toBeGreaterThan(0)
      expect(of.units[0], of.key).toBe(of.unit)
      for (const tool of of.instruments) {
        expect(of.units, `${of.key} read with ${tool.key}`).toContain(tool.unit)
        expect(tool.resolution, tool.key).toBeGreaterThan(0)
        expect(tool.standardUncertainty, tool.key).toBeGreaterThan(0)
      }
    }
  })

  it('holds its limit and its sale line inside what can be read at all', () => {
    for (const of of measured) {
      for (const [line, { min, max, unit }] of Object.entries({
        limit: of.limit,
        saleLine: of.saleLine,
        ...Object.fromEntries((of.law ?? []).map((law, place) => [`law ${place} ${law.country}`, law])),
      }).flatMap(([line, value]) => (value ? [[line, value] as const] : []))) {
        for (const value of [min, max]) {
          if (value === undefined) continue
          const here = convert(value, unit, of.unit)
          expect(here, `${line} of ${of.key}`).toBeGreaterThan(of.plausible.min)
          expect(here, `${line} of ${of.key}`).toBeLessThan(of.plausible.max)
        }
        expect(min ?? max, `${line} of ${of.key}`).toBeDefined()
      }
    }
  })

  it('puts the sale line on the safe side of the limit', () => {
    for (const { key, unit, limit, law = [], saleLine } of measured) {
      for (const bound of [...law, ...(limit ? [limit] : [])]) {
        if (!saleLine) continue
        if (saleLine.min !== undefined) {
          expect(convert(saleLine.min, saleLine.unit, unit), key).toBeGreaterThan(
            convert(bound.min!, bound.unit, unit),
          )
        } else expect(saleLine.max!, key).toBeLessThan(bound.max!)
      }
    }
  })

  it.each([
    'disc-front-left',
    'disc-front-right',
    'disc-front',
    'disc-rear',
    'chain-slack',
    'charging-idle-volts',
    'disc-run-out-front',
    'tyre-pressure-rear',
    'compression',
    'oil-pressure',
    'idle-speed',
    'shaft-lash',
    'torque-front-axle',
    'torque-steering-stem',
  ])('leaves the limit of %s to the part or its maker', (key) => {
    const of = check.get(key)
    expect(of?.sort === 'measured' && of.limit).toBeNull()
    expect(['stamped', 'maker']).toContain(of?.source.kind)
  })

  it.each([
    ['rim-front-cast', { max: 2 }, 'standard'],
    ['rim-front-spoked', { max: 2 }, 'standard'],
    ['rim-rear-steel', { max: 4 }, 'standard'],
    ['chain-length', { max: 327, asNew: 317.5 }, 'standard'],
    ['chain-length-light', { max: 261.6, asNew: 254 }, 'standard'],
    ['battery-drain', { max: 5 }, 'starting value'],
    // US Army TM 5-3820-256-24-4, table 2: 1.225 at 80 °F is 75 % charged.
    ['battery-density', { min: 1.225 }, 'standard'],
    ['brake-tester-stronger', { min: 30 }, 'standard'],
    ['brake-tester-weaker', { min: 25 }, 'standard'],
    ['charging-speed-volts', { min: 13.5, max: 14.8 }, 'starting value'],
    ['battery-rest-volts', { min: 12.6 }, 'common practice'],
    ['throttle-free-play', { min: 3, max: 7 }, 'common practice'],
  ] as const)('starts %s from a figure that says where it comes from', (key, figures, kind) => {
    const of = check.get(key)
    expect(of).toMatchObject({ limit: { ...figures, source: { kind } } })
  })

  // United Kingdom: Highway Code annex 6. Germany: StVZO 36(2). Austria: KDV 4(4). United States: FMVSS 119 S6.4.
  it.each([
    ['GB', 'motorcycle', [1]],
    ['GB', 'light', [1]],
    ['GB', 'moped', []],
    ['DE', 'motorcycle', [1.6]],
    ['DE', 'light', [1]],
    ['DE', 'moped', [1]],
    ['AT', 'motorcycle', [1.6]],
    ['AT', 'light', [1]],
    ['AT', 'moped', [1]],
    ['US', 'motorcycle', [0.79375]],
    ['US', 'moped', [0.79375]],
  ] as const)('asks in %s of a %s for a tread of %j mm by law', (country, of, figures) => {
    for (const key of ['tread-front', 'tread-rear']) {
      const tread = check.get(key)
      if (tread?.sort !== 'measured') throw new Error(`${key} is not measured`)
      expect(tread.limit).toBeNull()
      const kind = { ...anyBike, class: of }
      const asked = (tread.law ?? []).filter(
        (law) => law.country === country && fitsKind(kind, law.appliesTo),
      )
      expect(asked.map(({ min, unit }) => convert(min!, unit, 'mm'))).toEqual(figures)
      expect(asked.every(({ source }) => source.kind === 'law')).toBe(true)
    }
  })

  it('has one bound for the rim of every wheel, by what the rim is made of', () => {
    for (const wheels of ['cast', 'spoked'] as const) {
      for (const rims of ['alloy', 'steel'] as const) {
        const here = measured.filter(
          ({ key, appliesTo }) => /^rim-/.test(key) && fitsKind({ ...anyBike, wheels, rims }, appliesTo),
        )
        expect(here.map(({ limit }) => limit?.max)).toEqual(rims === 'steel' ? [4, 4] : [2, 2])
      }
    }
  })

  it('measures a disc at four places round it and a tyre at three across it', () => {
    expect(positionsOf('disc-front-left')).toEqual(['a', 'b', 'c', 'd'])
    expect(positionsOf('tread-rear')).toEqual(['left', 'middle', 'right'])
  })

  function positionsOf(key: string) {
    const of = check.get(key)
    return of?.sort === 'measured' ? of.positions.map((position) => position.key) : null
  }
})

describe('a fault of the catalogue', () => {
  it('explains itself in one sentence', () => {
    expect(faults.filter(({ means }) => !/^[A-Z].*[^.]\.$/.test(means)).map(({ key }) => key)).toEqual([])
  })

  it('names locks, what clears them and a recheck where it stops, and no lock elsewhere', () => {
    for (const { key, call, locks = [], clearedBy, rechecks } of faults) {
      expect(rechecks.length, key).toBeGreaterThan(0)
      expect(locks.length > 0, key).toBe(call === 'stop')
      expect(clearedBy !== undefined, key).toBe(call === 'stop')
    }
  })

  it.each([
    [
      ['ignition', 'engine', 'road'],
      ['fuel-leak', 'fuel-hose-leak', 'fuel-tap-leak', 'carburettor-overflow'],
    ],
    [
      ['engine', 'road'],
      ['petrol-in-oil', 'float-valves-flooding', 'throttle-sticks', 'oil-absent'],
    ],
    [
      ['road'],
      ['front-brake-no-pressure', 'rear-brake-no-pressure', 'front-disc-cracked', 'rear-disc-cracked'],
    ],
    [
      ['road'],
      ['front-tyre-cord', 'rear-tyre-cord', 'front-wheel-loose', 'rear-wheel-loose', 'steering-loose'],
    ],
    [['road'], ['fork-oil-on-brake', 'torque-arm-loose', 'frame-cracked', 'axle-loose']],
  ])('locks %j, no more and no less, for %j', (locks, keys) => {
    for (const key of keys) expect(fault.get(key)?.locks, key).toEqual(locks)
  })

  it('is cleared only by its job where a reason would be no help', () => {
    const onlyJob = faults.filter(({ clearedBy }) => clearedBy === 'job').map(({ key }) => key)
    expect(onlyJob.sort()).toEqual(
      [
        'axle-loose',
        'carburettor-overflow',
        'float-valves-flooding',
        'frame-cracked',
        'front-brake-leak',
        'front-brake-no-pressure',
        'front-disc-cracked',
        'front-drum-no-bite',
        'front-tyre-cord',
        'front-wheel-loose',
        'fuel-hose-leak',
        'fuel-leak',
        'fuel-tap-leak',
        'petrol-in-oil',
        'rear-brake-leak',
        'rear-brake-no-pressure',
        'rear-disc-cracked',
        'rear-drum-no-bite',
        'rear-tyre-cord',
        'rear-wheel-loose',
        'steering-loose',
        'swing-arm-worn',
        'throttle-sticks',
      ].sort(),
    )
  })

  it('calls a stain a must and a drip a stop', () => {
    for (const key of [
      'fuel-smell',
      'fuel-damp',
      'fuel-tap-worn',
      'fuel-lines-perished',
      'fork-seals-leak',
    ]) {
      expect(fault.get(key)?.call, key).toBe('must')
    }
  })

  it('rattles without a lock where only the clutch basket rattles', () => {
    expect(fault.get('clutch-basket-noise')).toMatchObject({ call: 'pays', jobs: ['clutch-basket-pin'] })
    expect(fault.get('clutch-basket-noise')?.locks).toBeUndefined()
  })

  it('says what it takes off the price where it may be left, and only there', () => {
    for (const { key, call, saleOffMinor } of faults) {
      const mayBeLeft = call === 'pays' || call === 'leave'
      expect(saleOffMinor !== undefined && saleOffMinor > 0, key).toBe(mayBeLeft)
    }
  })

  it('has a job, or causes, or says why no work cures it: one of the three', () => {
    const wrong = faults.filter(
      ({ jobs: of, causes, noJobBecause }) =>
        [of.length > 0, (causes?.length ?? 0) > 1, noJobBecause !== undefined].filter(Boolean).length !== 1,
    )
    expect(wrong.map(({ key }) => key)).toEqual([])
    const said = faults.flatMap(({ noJobBecause }) => noJobBecause ?? [])
    expect(said.length).toBeGreaterThan(5)
    expect(said.filter((says) => !/^[A-Z].*[^.]\.$/.test(says))).toEqual([])
  })

  it('shares its causes out to one, and names the job that finds out which it is', () => {
    const withCauses = faults.filter(({ causes }) => causes)
    expect(withCauses.map(({ key }) => key).sort()).toEqual(
      ['abs-fails', 'does-not-start', 'no-charge', 'no-power', 'overheats', 'starter-dead'].sort(),
    )
    for (const { key, causes = [], diagnosis, appliesTo } of withCauses) {
      expect(causes.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12)
      expect(repeated(causes.map(({ job: of }) => of)), key).toEqual([])
      expect(job.has(diagnosis ?? ''), key).toBe(true)
      const everywhere = [diagnosis, ...causes.map(({ job: of }) => of)]
      // What may be at fault must be possible wherever the fault is: a share is never lost to the kind of bike.
      const narrower = everywhere.filter((of) =>
        Object.keys(job.get(of ?? '')?.appliesTo ?? {}).some((part) => !(part in (appliesTo ?? {}))),
      )
      expect(narrower, key).toEqual([])
    }
  })

  it('has a check that narrows its causes without taking anything apart', () => {
    const narrowed = new Set(
      checks.flatMap(({ minutes, raises }) =>
        minutes > 5 ? [] : raises.flatMap((raise) => ('fault' in raise ? [] : [faultOf(raise)])),
      ),
    )
    expect(faults.filter(({ key, causes }) => causes && !narrowed.has(key)).map(({ key }) => key)).toEqual([])
  })

  it('shares a job that is one of several causes only with a fault that is never merely suspected', () => {
    // A fault without a hidden chance asks for its job only when it is found, so that the causes stay a group.
    const causes = new Set(faults.flatMap(({ causes: of = [] }) => of.map(({ job }) => job)))
    const hiding = faults.filter(({ hidden }) => hidden)
    const wrong = hiding.filter(({ jobs: of }) => of.some((key) => causes.has(key)))
    expect(wrong.map(({ key }) => key)).toEqual([])
  })

  it.each([
    ['tank-rust', ['tank-reseal', 'tank-replaced']],
    ['seat-torn', ['seat-cover', 'seat-replaced']],
    ['cam-chain-noisy', ['cam-chain-tensioner', 'cam-chain']],
    ['front-caliper-seized', ['front-caliper-rebuild', 'front-caliper-exchange']],
    ['rear-shock-worn', ['rear-shock', 'rear-shock-rebuilt']],
    ['panels-cracked', ['panels-repaired', 'panels-replaced']],
  ])('%s may be cured in several ways, the anyBike one first: %j', (key, ways) => {
    expect(fault.get(key)?.jobs).toEqual(ways)
  })

  it('charges too little or too much: two faults, and never both from one reading', () => {
    for (const key of ['charging-idle-volts', 'charging-speed-volts']) {
      expect(check.get(key)?.raises).toEqual([
        { when: { on: 'below-limit' }, fault: 'no-charge' },
        { when: { on: 'above-limit' }, fault: 'overcharges' },
      ])
    }
    expect(fault.get('overcharges')?.jobs).toEqual(['regulator'])
  })

  it('hides the more often on a bike that does not run where only a running engine or a ride would show it', () => {
    for (const { key, hidden, nonRunner } of faults) {
      const told = checks.filter(({ raises }) =>
        raises.some((raise) => faultOf(raise) === key && 'fault' in raise),
      )
      const onlyRunning = told.every(({ round }) => round === 'running' || round === 'road')
      expect(nonRunner !== undefined, key).toBe(
        onlyRunning && (hidden !== undefined || key === 'engine-inside'),
      )
      if (!nonRunner) continue
      for (const state of careStates) {
        expect(nonRunner[state], key).toBeGreaterThan(hidden?.[state] ?? 0)
        expect(nonRunner[state], key).toBeLessThan(1)
      }
      expect(nonRunner.kept < nonRunner.average && nonRunner.average < nonRunner.neglected, key).toBe(true)
    }
  })

  it('is an engine nobody has heard only on a bike that does not run, with a reserve that is a starting value', () => {
    expect(fault.get('engine-inside')).toMatchObject({ source: { kind: 'starting value' } })
    expect(fault.get('engine-inside')?.hidden).toBeUndefined()
    const opened = job.get('engine-opened')!
    expect(opened.source.kind).toBe('starting value')
    expect(mean(opened.hours)).toBeGreaterThan(5)
  })

  it('hides the more often the less the bike was cared for', () => {
    const hiding = faults.flatMap(({ key, hidden }) => (hidden ? [{ key, ...hidden }] : []))
    expect(hiding.length).toBeGreaterThan(20)
    for (const { key, kept, average, neglected } of hiding) {
      expect(0 < kept && kept <= average && average <= neglected && neglected < 1, key).toBe(true)
    }
  })
})

describe('jobs and operations of the catalogue', () => {
  it('need each other in no circle', () => {
    const visit = (key: string, path: readonly string[]): string[] =>
      path.includes(key)
        ? [[...path, key].join(' > ')]
        : needsOf(key).flatMap((to) => visit(to, [...path, key]))
    expect(operations.flatMap(({ key }) => visit(key, []))).toEqual([])
  })

  it('take hours and money in order: low, likely, high, none below nothing', () => {
    const amounts = [
      ...operations.map(({ key, hours }) => [key, hours] as const),
      ...jobs.flatMap(({ key, hours, parts, outsideWork = 0 }) =>
        [hours, outsideWork, ...parts.map(({ unitCost }) => unitCost)].map(
          (amount) => [key, amount] as const,
        ),
      ),
    ]
    for (const [key, amount] of amounts) {
      const { low, likely, high } = typeof amount === 'number' ? certain(amount) : amount
      expect(0 <= low && low <= likely && likely <= high, key).toBe(true)
    }
  })

  it('buy parts in whole pieces and whole minor units', () => {
    for (const { key, parts } of jobs) {
      for (const { qty, unitCost } of parts) {
        expect(Number.isInteger(qty) && qty > 0, key).toBe(true)
        expect(
          Object.values(typeof unitCost === 'number' ? [unitCost] : unitCost).every(Number.isInteger),
          key,
        ).toBe(true)
      }
    }
  })

  it('take a tank off once for boots, carburettors, sealing and valves, carburettors off once for two of them', () => {
    const story = ['intake-boots', 'carburettor-clean', 'tank-reseal', 'valve-clearances']
    const needing = (step: string) => story.filter((key) => closure(job.get(key)!.operations).has(step))
    expect(needing('tank-off')).toEqual(story)
    expect(needing('carbs-off')).toEqual(['intake-boots', 'carburettor-clean'])
  })

  it.each([
    ['charging-connector', 0.7, 1500, 0],
    ['regulator', 0.6, 9500, 0],
    ['stator', 3, 21000, 0],
    ['seat-cover', 1.5, 2500, 0],
    ['tank-repaint', null, 0, 21000],
  ])('start %s from %s h, %i of parts and %i outside', (key, hours, parts, outside) => {
    const of = job.get(key)!
    if (hours !== null) {
      expect(mean(of.hours)).toBeCloseTo(hours, 9)
      expect(of.operations).toEqual([])
    }
    expect(of.parts.reduce((sum, { qty, unitCost }) => sum + qty * mean(unitCost), 0)).toBeCloseTo(parts, 6)
    expect(mean(of.outsideWork ?? 0)).toBe(outside)
  })

  it('warn where brakes, petrol or coatings are worked on', () => {
    const warned = (key: string, of: string) => job.get(key)?.cautions?.includes(of)
    for (const { key } of jobs.filter((of) => /brake|pads|disc|caliper|shoes|master/.test(of.key))) {
      expect(warned(key, 'brake-work') && warned(key, 'law'), key).toBe(true)
    }
    for (const key of [
      'fuel-lines',
      'fuel-tap',
      'float-valves',
      'tank-reseal',
      'carburettor-clean',
      'tank-repaint',
    ]) {
      expect(warned(key, 'fuel'), key).toBe(true)
    }
    for (const key of ['tank-reseal', 'tank-repaint']) expect(warned(key, 'coatings'), key).toBe(true)
  })

  const opened: Record<OpenStateKind, string> = {
    'oil-drained': 'old-oil',
    'brake-open': 'brake-work',
    'axle-loose': 'lifting',
    'fuel-off': 'fuel',
    'coolant-out': 'coolant',
  }
  const lifted = ['engine-out', 'swing-arm-out', 'fork-legs-out', 'headstock-stripped', 'rear-shock-out']

  it('warn of what each of their steps opens or lifts', () => {
    const unwarned = jobs.flatMap(({ key, operations: of, cautions: shown = [] }) => {
      const steps = [...closure(of)]
      const wanted = [
        ...steps.flatMap((step) => (openedBy[step] ? [opened[openedBy[step]]] : [])),
        ...(steps.some((step) => lifted.includes(step)) ? ['lifting'] : []),
        ...(steps.some((step) => /bled$/.test(step)) ? ['brake-fluid'] : []),
      ]
      return [...new Set(wanted)].filter((one) => !shown.includes(one)).map((one) => `${key}: ${one}`)
    })
    expect(unwarned).toEqual([])
  })

  it.each([
    ['tank-heat', ['tank-reseal', 'tank-repaint', 'frame-repair', 'fuel-leak-trace']],
    ['old-linings', ['head-gasket', 'exhaust-joints', 'front-drum-shoes', 'rear-pads']],
    ['lithium', ['battery', 'battery-charge']],
    ['waste', ['oil-and-filter', 'coolant-change', 'front-brake-fluid', 'battery', 'rear-tyre']],
    ['coatings', ['tank-reseal', 'panels-repaired', 'carburettor-clean']],
    ['springs', ['fork-seals', 'rear-shock', 'stand-repair']],
    ['acid', ['battery', 'starter-relay']],
  ])('warn of %s where it belongs: %j', (of, keys) => {
    expect(keys.filter((key) => !job.get(key)?.cautions?.includes(of))).toEqual([])
  })

  it.each([
    ['fuel', /petrol/i],
    ['exhaust-gas', /outdoors|outside/],
    ['hot-parts', /burn/],
    ['moving-parts', /chain/],
    ['lifting', /lift/],
    ['springs', /gas damper/],
    ['old-linings', /gaskets.*asbestos/],
    ['acid', /acid/i],
    ['brake-fluid', /eyes/],
    ['coolant', /scalding/],
    ['coatings', /tank sealer.*isocyanates/],
    ['lithium', /charger/],
    ['tank-heat', /welding/],
    ['waste', /local rules/],
    ['law', /licensed/],
  ])('have words for %s that say what hurts', (key, says) => {
    expect(caution.get(key)?.says.replace(/\s+/g, ' ')).toMatch(says)
  })
})

describe('every kind of bike', () => {
  const kinds = everyKind()

  it('can be given each check: no check is out of reach', () => {
    const reachable = new Set(kinds.flatMap((kind) => checksFor(kind).map(({ key }) => key)))
    expect(checks.filter(({ key }) => !reachable.has(key)).map(({ key }) => key)).toEqual([])
  })

  it('has a sensible number of checks and a short round of about twenty', () => {
    for (const kind of kinds) {
      const here = checksFor(kind)
      const short = here.filter((of) => of.short)
      expect(here.length, name(kind)).toBeGreaterThanOrEqual(95)
      expect(here.length, name(kind)).toBeLessThan(checks.length)
      expect(short.length, name(kind)).toBeGreaterThanOrEqual(19)
      expect(short.length, name(kind)).toBeLessThanOrEqual(27)
      expect(minutesOf(short), name(kind)).toBeGreaterThanOrEqual(10)
      expect(minutesOf(short), name(kind)).toBeLessThanOrEqual(15)
    }
  })

  it('usually has 20 to 27 checks in its short round, in 12 to 15 minutes, at every place one walks to', () => {
    const short = checksFor(anyBike).filter((of) => of.short)
    expect(short.length).toBeGreaterThanOrEqual(20)
    // Three of them are tell-tales of care that take seconds; the minutes are what the seller waits.
    expect(short.length).toBeLessThanOrEqual(27)
    expect(minutesOf(short)).toBeGreaterThanOrEqual(12)
    expect(minutesOf(short)).toBeLessThanOrEqual(15)
    expect(shortPlaces.filter((place) => !short.some((of) => of.short === place))).toEqual([])
    const papers = short.filter((of) => of.short === 'papers').map(({ key }) => key)
    expect(papers.sort()).toEqual(['distance-shown', 'frame-number-same', 'keys-counted'])
  })

  it('needs no stand and no more than a torch, a tread gauge and a meter for the short round', () => {
    const wanted = checks.filter(
      ({ short, needs }) => short && needs.some((of) => /^(stand|rear stand|lift)/.test(of)),
    )
    expect(wanted.map(({ key }) => key)).toEqual([])
    const tools = checks.flatMap((of) => (of.short && of.sort === 'measured' ? of.instruments : []))
    expect([...new Set(tools.map(({ key }) => key))].sort()).toEqual(['multimeter', 'tread-gauge'])
  })

  it('finds for each fault that it can have a job that fits and a recheck that it has', () => {
    const wrong = new Set<string>()
    for (const kind of kinds) {
      const here = checksFor(kind)
      const keys = new Set(here.map(({ key }) => key))
      const possible = new Set(here.flatMap(({ raises }) => raises.map(faultOf)))
      for (const of of faults.filter(
        ({ key, appliesTo }) => possible.has(key) && fitsKind(kind, appliesTo),
      )) {
        const curable = jobsOf(of).some((key) => fitsKind(kind, job.get(key)?.appliesTo))
        if (!curable && of.noJobBecause === undefined) wrong.add(`${of.key}: no job`)
        if (!of.rechecks.some((key) => keys.has(key))) wrong.add(`${of.key}: no recheck`)
      }
    }
    expect([...wrong]).toEqual([])
  })

  it('hears of something wrong at every bad answer', () => {
    const deaf = new Set<string>()
    for (const kind of kinds) {
      for (const of of checksFor(kind)) {
        if (of.sort !== 'look' || aboutThePlace(of)) continue
        for (const { key } of of.answers.filter(({ tone }) => tone === 'bad')) {
          const heard = of.raises.some(
            (raise) =>
              raise.when.on === 'answer' &&
              raise.when.answer === key &&
              fitsKind(kind, fault.get(faultOf(raise))?.appliesTo),
          )
          if (!heard) deaf.add(`${of.key}: ${key}`)
        }
      }
    }
    expect([...deaf]).toEqual([])
  })

  it('has no chain checks on a shaft, no carburettor checks with injection, no coolant on air', () => {
    const odd: BikeKind = { ...anyBike, finalDrive: 'shaft', fuelling: 'injection', cooling: 'air' }
    const keys = checksFor(odd).map(({ key }) => key)
    expect(
      keys.filter((key) => /chain|sprocket|carburettor|intake|fuel-tap|coolant|radiator|choke|fan/.test(key)),
    ).toEqual([])
    expect(keys).toContain('shaft-drive')
  })

  it.each([
    ['cam-belt-age', { camDrive: 'belt' }, { camDrive: 'gear' }],
    ['master-key', { immobiliser: 'yes' }, { immobiliser: 'no' }],
    ['immobiliser-lamp', { immobiliser: 'yes' }, { immobiliser: 'no' }],
    ['abs-lamp', { abs: 'yes' }, { abs: 'no' }],
    ['abs-works', { abs: 'yes' }, { abs: 'no' }],
    ['injection-lamp', { fuelling: 'injection' }, { fuelling: 'carburettors' }],
    ['starter-turns', { starter: 'electric' }, { starter: 'kick' }],
    ['kick-starter', { starter: 'kick' }, { starter: 'electric' }],
    ['rim-front-steel', { rims: 'steel' }, { rims: 'alloy' }],
    ['chain-length-light', { class: 'moped' }, { class: 'motorcycle' }],
    ['cooling-fins', { cooling: 'air' }, { cooling: 'liquid' }],
    ['two-stroke-oil', { strokes: 'two' }, { strokes: 'four' }],
    ['shaft-lash', { finalDrive: 'shaft' }, { finalDrive: 'belt' }],
  ] as const)('has %s with %o and not with %o', (key, having, lacking) => {
    const has = (of: Partial<BikeKind>) => checksFor({ ...anyBike, ...of }).some((here) => here.key === key)
    expect([has(having), has(lacking)]).toEqual([true, false])
  })

  function checksFor(kind: BikeKind): Check[] {
    return checks.filter(({ appliesTo }) => fitsKind(kind, appliesTo))
  }

  function name(kind: BikeKind): string {
    return Object.values(kind).join(' ')
  }

  function minutesOf(of: readonly Check[]): number {
    return of.reduce((sum, { minutes }) => sum + minutes, 0)
  }

  /**
   * All combinations of the parts that most checks hang on, and of every two of the rest; all of them together
   * would be a hundred thousand kinds.
   */
  function everyKind(): BikeKind[] {
    const rest = ['class', 'rims', 'camDrive', 'starter', 'immobiliser'] as const
    const parts = Object.entries(bikeKindValues).filter(
      ([part]) => !(rest as readonly string[]).includes(part),
    )
    const ofMost = combinations(Object.fromEntries(parts)).map(
      (kind) => ({ ...anyBike, ...kind }) as BikeKind,
    )
    const ofRest = combinations(Object.fromEntries(rest.map((part) => [part, bikeKindValues[part]])))
    const turned = ofMost.map(
      (kind, place) => ({ ...kind, ...ofRest[(place * 5) % ofRest.length] }) as BikeKind,
    )
    const pairs = rest.flatMap((part) =>
      parts.flatMap(([other, values]) =>
        combinations({ [part]: bikeKindValues[part], [other]: values }).map(
          (kind) => ({ ...anyBike, ...kind }) as BikeKind,
        ),
      ),
    )
    return [...ofMost, ...turned, ...pairs]
  }

  function combinations(parts: Record<string, readonly string[]>): Record<string, string>[] {
    return Object.entries(parts).reduce<Record<string, string>[]>(
      (all, [part, values]) => all.flatMap((kind) => values.map((value) => ({ ...kind, [part]: value }))),
      [{}],
    )
  }
})

/** The place and the stance before a start: it keeps a round shut and is no fault of the bike. */
function aboutThePlace({ key }: Check): boolean {
  return ['neutral-and-stand', 'gas-led-away', 'extinguisher'].includes(key)
}

function byKey<T extends { key: string }>(table: readonly T[]): Map<string, T> {
  return new Map(table.map((entry) => [entry.key, entry]))
}

function repeated(keys: readonly string[]): string[] {
  return keys.filter((key, place) => keys.indexOf(key) !== place)
}

function faultOf(raise: Raise): string {
  if ('fault' in raise) return raise.fault
  return 'settles' in raise ? raise.settles.fault : raise.rulesOut.fault
}

function jobsOf({ jobs: of, causes = [] }: Fault): string[] {
  return [...of, ...causes.map((cause) => cause.job)]
}

function bounds(of: Extract<Check, { sort: 'measured' }>): [string, Source][] {
  return [of.limit, of.saleLine, ...(of.law ?? [])].flatMap((line): [string, Source][] =>
    line ? [[of.key, line.source]] : [],
  )
}

function needsOf(key: string): readonly string[] {
  return operation.get(key)?.needs ?? []
}

function closure(keys: readonly string[]): Set<string> {
  return new Set(keys.flatMap((key) => [key, ...closure(needsOf(key))]))
}

function certain(amount: number) {
  return { low: amount, likely: amount, high: amount }
}

/** Beta-PERT: (low + 4 likely + high) / 6. */
function mean(amount: Job['hours']): number {
  return typeof amount === 'number' ? amount : (amount.low + 4 * amount.likely + amount.high) / 6
}
