import { type BikeKind, usualKind } from '../../lib/core/checks/bike-kind'
import type {
  Catalogue,
  Check,
  Fault,
  Instrument,
  Job,
  LookCheck,
  Source,
} from '../../lib/core/checks/catalogue'

/*
 * A handful of invented checks, faults and jobs, just enough that every rule on the way from a reading to a
 * board row has something to bite on. No figure here is one to work by.
 */

const invented: Source = { kind: 'starting value', says: 'invented for the tests' }

export const anyBike: BikeKind = {
  finalDrive: 'chain',
  cooling: 'liquid',
  fuelling: 'carburettors',
  frontBrake: 'twin-disc',
  rearBrake: 'disc',
  abs: 'no',
  wheels: 'cast',
  strokes: 'four',
  centreStand: 'yes',
  ...usualKind,
}

export const calliper: Instrument = {
  key: 'calliper',
  name: 'Calliper',
  resolution: 0.05,
  unit: 'mm',
  standardUncertainty: 0.02,
}
export const micrometer: Instrument = {
  key: 'micrometer',
  name: 'Micrometer',
  resolution: 0.01,
  unit: 'mm',
  standardUncertainty: 0.004,
}
const meter: Instrument = {
  key: 'meter',
  name: 'Meter',
  resolution: 0.01,
  unit: 'V',
  standardUncertainty: 0.01,
}

const common = { how: ['Look.'], needs: [], minutes: 1, source: invented } as const

function disc(side: 'left' | 'right'): Check {
  return {
    ...common,
    key: `disc-${side}`,
    sort: 'measured',
    round: 'stand',
    title: `Disc thickness, ${side}`,
    unit: 'mm',
    units: ['mm', 'in'],
    positions: ['a', 'b', 'c', 'd'].map((key) => ({ key, label: `Place ${key}` })),
    judgedOn: 'lowest',
    plausible: { min: 1, max: 15 },
    instruments: [micrometer, calliper],
    limit: null,
    safety: true,
    raises: [
      { when: { on: 'outside' }, fault: 'disc-thin' },
      { when: { on: 'below-sale-line' }, fault: 'disc-near-limit' },
    ],
  }
}

function look(
  key: string,
  answers: LookCheck['answers'],
  rest: Pick<LookCheck, 'raises'> & Partial<LookCheck>,
): LookCheck {
  return { ...common, key, sort: 'look', round: 'cold', title: key, answers, ...rest }
}

const good = { key: 'good', label: 'Good', tone: 'good' } as const
const bad = { key: 'bad', label: 'Bad', tone: 'bad' } as const

export const smallChecks: readonly Check[] = [
  look(
    'fuel',
    [
      { key: 'dry', label: 'Dry', tone: 'good' },
      { key: 'damp', label: 'Damp', tone: 'bad' },
      { key: 'wet', label: 'Wet or dripping', tone: 'bad' },
    ],
    {
      safety: true,
      raises: [
        { when: { on: 'answer', answer: 'damp' }, fault: 'fuel-damp' },
        { when: { on: 'answer', answer: 'wet' }, fault: 'fuel-leak' },
      ],
    },
  ),
  look('throttle', [good, bad], {
    safety: true,
    raises: [{ when: { on: 'answer', answer: 'bad' }, fault: 'throttle-slow' }],
  }),
  look('tank', [good, { key: 'film', label: 'Light film', tone: 'note' }, bad], {
    detects: 0.9,
    raises: [{ when: { on: 'answer', answer: 'bad' }, fault: 'tank-rust' }],
  }),
  look('boots', [good, bad], {
    raises: [{ when: { on: 'answer', answer: 'bad' }, fault: 'boots-cracked' }],
  }),
  look('paint', [good, bad], {
    raises: [{ when: { on: 'answer', answer: 'bad' }, fault: 'paint-poor' }],
  }),
  look('clutch', [good, bad], {
    raises: [{ when: { on: 'answer', answer: 'bad' }, fault: 'clutch-noise' }],
  }),
  look(
    'chain',
    [good, { key: 'dry', label: 'Dry', tone: 'bad' }, { key: 'worn', label: 'Worn', tone: 'bad' }],
    {
      appliesTo: { finalDrive: ['chain'] },
      raises: [
        { when: { on: 'answer', answer: 'dry' }, fault: 'chain-dry' },
        { when: { on: 'answer', answer: 'worn' }, fault: 'chain-worn' },
      ],
    },
  ),
  look('sprockets', [good, bad], {
    appliesTo: { finalDrive: ['chain'] },
    raises: [{ when: { on: 'answer', answer: 'bad' }, fault: 'chain-worn' }],
  }),
  {
    ...common,
    key: 'battery',
    sort: 'measured',
    round: 'cold',
    title: 'Battery at rest',
    unit: 'V',
    units: ['V'],
    positions: [],
    judgedOn: 'lowest',
    conditions: ['rested', 'off'],
    plausible: { min: 2, max: 16 },
    instruments: [meter],
    limit: { min: 12.4, unit: 'V', source: { kind: 'common practice', says: 'common practice' } },
    raises: [{ when: { on: 'outside' }, fault: 'battery-low' }],
  },
  disc('left'),
  disc('right'),
  {
    ...common,
    key: 'charging',
    sort: 'measured',
    round: 'running',
    title: 'Charging volts',
    unit: 'V',
    units: ['V'],
    positions: [],
    judgedOn: 'each',
    plausible: { min: 6, max: 20 },
    instruments: [meter],
    limit: { min: 13.5, max: 14.8, unit: 'V', source: { kind: 'starting value', says: 'starting value' } },
    raises: [{ when: { on: 'outside' }, fault: 'no-charge' }],
  },
  look(
    'plug',
    [
      { key: 'clean', label: 'Clean', tone: 'good' },
      { key: 'browned', label: 'Browned', tone: 'bad' },
    ],
    {
      detects: 0.9,
      raises: [
        { when: { on: 'answer', answer: 'browned' }, settles: { fault: 'no-charge', cause: 'connector' } },
        { when: { on: 'answer', answer: 'clean' }, rulesOut: { fault: 'no-charge', cause: 'connector' } },
      ],
    },
  ),
  {
    ...common,
    key: 'tyre-code',
    sort: 'code',
    code: 'tyre-date',
    round: 'cold',
    title: 'Date on the tyre',
    raises: [
      { when: { on: 'older-than', years: 'guidance' }, fault: 'tyre-old' },
      { when: { on: 'older-than', years: 'sale-line' }, fault: 'tyre-ageing' },
    ],
  },
  {
    ...common,
    key: 'keys',
    sort: 'number',
    round: 'cold',
    title: 'Keys',
    unitWord: 'keys',
    plausible: { min: 0, max: 9 },
    raises: [{ when: { on: 'under', than: 2 }, fault: 'key-missing' }],
  },
  {
    ...common,
    key: 'distance',
    sort: 'number',
    round: 'cold',
    title: 'Distance',
    unitWord: 'km',
    plausible: { min: 0, max: 500_000 },
    raises: [],
  },
]

function fault(key: string, rest: Omit<Fault, 'key' | 'title' | 'means' | 'rechecks' | 'source'>): Fault {
  return { key, title: key, means: `It is ${key}.`, rechecks: [], source: invented, ...rest }
}

export const smallFaults: readonly Fault[] = [
  fault('fuel-leak', {
    call: 'stop',
    locks: ['ignition', 'engine', 'road'],
    clearedBy: 'job',
    jobs: ['fuel-lines'],
  }),
  fault('fuel-damp', { call: 'must', jobs: ['fuel-lines'] }),
  fault('throttle-slow', { call: 'stop', locks: ['engine', 'road'], clearedBy: 'reason', jobs: ['cable'] }),
  fault('disc-thin', {
    call: 'stop',
    locks: ['road'],
    clearedBy: 'job',
    jobs: ['discs'],
    hidden: { kept: 0.05, average: 0.1, neglected: 0.3 },
  }),
  fault('disc-near-limit', { call: 'leave', jobs: ['discs'], saleOffMinor: 6000 }),
  fault('tank-rust', {
    call: 'must',
    jobs: ['tank-reseal'],
    hidden: { kept: 0.03, average: 0.15, neglected: 0.5 },
  }),
  fault('boots-cracked', {
    call: 'must',
    jobs: ['boots'],
    hidden: { kept: 0.1, average: 0.2, neglected: 0.4 },
  }),
  fault('paint-poor', { call: 'pays', jobs: ['repaint'], saleOffMinor: 25_000 }),
  fault('clutch-noise', {
    call: 'leave',
    jobs: ['basket'],
    saleOffMinor: 8000,
    hidden: { kept: 0.1, average: 0.1, neglected: 0.1 },
  }),
  fault('chain-dry', { call: 'must', jobs: ['lube', 'chain-set'] }),
  fault('chain-worn', { call: 'must', jobs: ['chain-set'] }),
  fault('battery-low', { call: 'must', jobs: ['battery'] }),
  fault('no-charge', {
    call: 'must',
    jobs: [],
    causes: [
      { job: 'connector', share: 0.4 },
      { job: 'regulator', share: 0.4 },
      { job: 'stator', share: 0.2 },
    ],
    diagnosis: 'charging-traced',
    hidden: { kept: 0.05, average: 0.1, neglected: 0.2 },
  }),
  fault('tyre-old', { call: 'must', jobs: ['tyre'] }),
  fault('tyre-ageing', { call: 'leave', jobs: ['tyre'] }),
  fault('key-missing', { call: 'leave', jobs: [], saleOffMinor: 3000 }),
]

function job(key: string, rest: Partial<Job> & Pick<Job, 'hours'>): Job {
  return { key, title: `Job ${key}`, operations: [], parts: [], source: invented, ...rest }
}

export const smallJobs: readonly Job[] = [
  job('charging-traced', { hours: 0.5, fasteners: false }),
  job('fuel-lines', {
    hours: 0.5,
    operations: ['tank-off'],
    parts: [{ name: 'hose', qty: 2, unitCost: 600 }],
  }),
  job('cable', { hours: 0.6, operations: ['tank-off'], parts: [{ name: 'cable', qty: 1, unitCost: 1800 }] }),
  job('discs', {
    hours: { low: 1, likely: 1.5, high: 3 },
    parts: [{ name: 'disc', qty: 2, unitCost: { low: 5000, likely: 7000, high: 12_000 } }],
  }),
  job('tank-reseal', {
    hours: 2.5,
    operations: ['tank-off'],
    parts: [{ name: 'sealer', qty: 1, unitCost: 4800 }],
  }),
  job('boots', {
    hours: { low: 0.3, likely: 0.5, high: 1 },
    operations: ['carbs-off'],
    parts: [{ name: 'boot', qty: 4, unitCost: { low: 900, likely: 1400, high: 2600 } }],
  }),
  job('repaint', { hours: 0.4, operations: ['tank-off'], outsideWork: 9000 }),
  job('basket', { hours: 4, parts: [{ name: 'basket', qty: 1, unitCost: 18_000 }] }),
  job('lube', { hours: 0.3 }),
  job('chain-set', { hours: 1.5, parts: [{ name: 'chain and sprockets', qty: 1, unitCost: 11_000 }] }),
  job('battery', { hours: 0.3, parts: [{ name: 'battery', qty: 1, unitCost: 5500 }], fasteners: false }),
  job('connector', { hours: 0.7, parts: [{ name: 'connector', qty: 1, unitCost: 1500 }] }),
  job('regulator', { hours: 0.6, parts: [{ name: 'regulator', qty: 1, unitCost: 9500 }] }),
  job('stator', { hours: 3, parts: [{ name: 'stator', qty: 1, unitCost: 21_000 }] }),
  job('tyre', { hours: 0.8, parts: [{ name: 'tyre', qty: 1, unitCost: 9500 }] }),
]

export const smallCatalogue: Catalogue = {
  checks: smallChecks,
  faults: smallFaults,
  jobs: smallJobs,
  operations: [
    { key: 'tank-off', title: 'Tank off and on', hours: { low: 0.2, likely: 0.3, high: 0.6 } },
    {
      key: 'carbs-off',
      title: 'Carburettors off and on',
      hours: { low: 0.8, likely: 1.2, high: 2.5 },
      needs: ['tank-off'],
    },
  ],
  cautions: [],
}

export function checkOf(key: string): Check {
  const found = smallChecks.find((check) => check.key === key)
  if (!found) throw new Error(`There is no check ${key} in the small catalogue.`)
  return found
}
