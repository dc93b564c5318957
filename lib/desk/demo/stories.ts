import { type BikeKind, usualKind } from '../../core/checks/bike-kind'
import type { Happening, Story } from './story'

/*
 * Invented bikes of makes that do not exist, seen, bought and worked on at days counted back from the one the
 * demo is made. Each shows one thing.
 */

const four: BikeKind = {
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

/** The figures stamped on the discs and printed in the maker's sheet, so that a whole bike can be judged. */
function limitsOf(daysAgo: number, discs: readonly string[]): Happening[] {
  return [
    {
      daysAgo,
      who: 'technician',
      did: 'limit',
      checks: discs,
      limit: { min: '4.5', asNew: '5', unit: 'mm', note: 'MIN TH 4.5' },
    },
    {
      daysAgo,
      who: 'technician',
      did: 'limit',
      checks: ['chain-slack'],
      limit: { min: '30', max: '40', unit: 'mm', note: 'sticker on the swing arm' },
    },
    {
      daysAgo,
      who: 'technician',
      did: 'limit',
      checks: ['charging-idle-volts'],
      limit: { min: '13', max: '14.8', unit: 'V', note: "maker's sheet" },
    },
  ]
}

const twinDiscs = ['disc-front-left', 'disc-front-right', 'disc-rear']

/** Rust in the tank and cracked boots: four jobs that want the tank off, once. */
const rustyTank: Story = {
  bike: {
    make: 'Calder',
    model: '600 four',
    year: 1997,
    kind: four,
    registration: 'TERN 01',
    frameNumber: 'CLD6-0041873',
    distance: '31240',
    sellerName: 'Private seller, first caller',
    sellerContact: 'by telephone, in the evening',
    asking: '1150',
    sale: ['2650', '2950', '3250'],
    notes: 'Stood in a barn for two winters. Starts on choke, will not idle clean.',
  },
  seenDaysAgo: 2,
  happenings: [
    {
      daysAgo: 2,
      who: 'dealer',
      did: 'check',
      rounds: ['cold'],
      found: [
        {
          check: 'tank-inside',
          value: 'flakes',
          note: 'Rust flakes at the cap, more when the tank is rocked.',
        },
        { check: 'intake-boots', value: 'cracked', note: 'All four, deepest at the back.' },
        { check: 'carburettor-bottoms', value: 'damp' },
        { check: 'valve-clearance-proof', value: 'unknown' },
        { check: 'keys-counted', value: '1' },
      ],
    },
    {
      daysAgo: 2,
      who: 'dealer',
      did: 'record',
      taken: [
        { check: 'cold-start', value: 'hard', note: 'Seen, the seller did it.' },
        { check: 'headlamp', value: 'works', note: 'Seen, the seller did it.' },
        { check: 'brake-lamp', value: 'works', note: 'Seen, the seller did it.' },
      ],
    },
    {
      daysAgo: 1,
      who: 'dealer',
      did: 'decide',
      decision: {
        kind: 'add-job',
        key: 'valve-clearances',
        reason: 'No proof that they were ever done, and the tank comes off anyway.',
      },
    },
  ],
}

/** Discs against the figure stamped on them: too close to call, then within; and one that looks fine at a single place. */
const wornDisc: Story = {
  bike: {
    make: 'Ostrel',
    model: '750',
    year: 1996,
    kind: { ...four, cooling: 'oil' },
    registration: 'TERN 02',
    frameNumber: 'OSTR75-11206',
    distance: '44810',
    sellerName: 'Private seller, second caller',
    sellerContact: '',
    asking: '1400',
    sale: ['2550', '2850', '3150'],
    notes: '',
  },
  seenDaysAgo: 9,
  happenings: [
    { daysAgo: 9, who: 'dealer', did: 'check', rounds: ['cold'], short: true },
    { daysAgo: 8, who: 'dealer', did: 'buy', price: '1250' },
    {
      daysAgo: 3,
      who: 'technician',
      did: 'limit',
      checks: ['disc-front-left', 'disc-front-right'],
      limit: { min: '4.5', asNew: '5', saleMin: '4.6', unit: 'mm', note: 'MIN TH 4.5' },
    },
    {
      daysAgo: 3,
      who: 'technician',
      did: 'check',
      rounds: ['stand'],
      found: [
        { check: 'disc-front-left', value: '4.52', instrument: 'calliper' },
        {
          check: 'disc-front-right',
          value: { a: '4.61', b: '4.49', c: '4.46', d: '4.50' },
          instrument: 'micrometer',
        },
      ],
    },
    {
      daysAgo: 2,
      who: 'technician',
      did: 'record',
      taken: [
        {
          check: 'disc-front-left',
          value: '4.52',
          instrument: 'micrometer',
          corrects: true,
          note: 'Too close for the calliper, taken again with the micrometer.',
        },
      ],
    },
    { daysAgo: 1, who: 'manager', did: 'bench' },
  ],
}

/** Deep tread on a tyre that is nineteen years old, said to be four. */
const oldTyre: Story = {
  bike: {
    make: 'Mirefield',
    model: '500 twin',
    year: 2002,
    kind: { ...four, frontBrake: 'single-disc' },
    registration: 'TERN 03',
    frameNumber: '',
    distance: '18960',
    sellerName: 'Private seller, third caller',
    sellerContact: '',
    asking: '1600',
    sale: ['2750', '3000', '3250'],
    notes: 'Seller says both tyres were new in 2022.',
  },
  seenDaysAgo: 1,
  happenings: [
    {
      daysAgo: 1,
      who: 'dealer',
      did: 'check',
      rounds: ['cold'],
      short: true,
      found: [
        { check: 'tread-rear', value: '5.1' },
        { check: 'tyre-date-rear', value: '2207', note: 'Seller reads it as the year 2022.' },
      ],
    },
    {
      daysAgo: 1,
      who: 'dealer',
      did: 'record',
      taken: [
        { check: 'cold-start', value: 'good', note: 'Seen, the seller did it.' },
        { check: 'charging-speed-volts', value: '14.2' },
      ],
    },
    { daysAgo: 0, who: 'dealer', did: 'offer', price: '1050', validDays: 7 },
  ],
}

/** The battery does not charge: connector, regulator or stator, exactly one of them. */
const noCharge: Story = {
  bike: {
    make: 'Vantry',
    model: '650',
    year: 1999,
    kind: { ...four, frontBrake: 'single-disc', wheels: 'spoked' },
    registration: 'TERN 04',
    frameNumber: 'VT650-030918',
    distance: '26770',
    sellerName: 'Private seller, fourth caller',
    sellerContact: '',
    asking: '1300',
    sale: ['2150', '2450', '2700'],
    notes: 'Battery was flat on arrival and charged overnight before the readings.',
  },
  seenDaysAgo: 12,
  happenings: [
    {
      daysAgo: 12,
      who: 'dealer',
      did: 'check',
      rounds: ['cold'],
      found: [{ check: 'battery-rest-volts', value: '12.4' }],
    },
    { daysAgo: 11, who: 'dealer', did: 'buy', price: '1120' },
    ...limitsOf(4, ['disc-front', 'disc-rear']),
    {
      daysAgo: 4,
      who: 'technician',
      did: 'check',
      rounds: ['stand', 'running'],
      except: ['charging-connector', 'charging-idle-volts'],
      found: [{ check: 'charging-speed-volts', value: '12.7', note: 'At 5,000 rpm, lamps on.' }],
    },
  ],
}

/** Dearly bought and almost done: last by its margin, and yet two hours from being money again. */
const nearlyDone: Story = {
  bike: {
    make: 'Calder',
    model: '900',
    year: 2001,
    kind: { ...four, fuelling: 'injection' },
    registration: 'TERN 10',
    frameNumber: 'CLD9-0007714',
    distance: '22980',
    sellerName: 'Private seller, tenth caller',
    sellerContact: '',
    asking: '1950',
    sale: ['2200', '2350', '2500'],
    notes: 'Most of the work is done. What was spent so far is not in these figures.',
  },
  seenDaysAgo: 48,
  happenings: [
    { daysAgo: 48, who: 'dealer', did: 'buy', price: '1900' },
    ...limitsOf(6, twinDiscs),
    { daysAgo: 6, who: 'technician', did: 'check', rounds: ['cold', 'stand', 'running', 'road'] },
    {
      daysAgo: 5,
      who: 'manager',
      did: 'decide',
      decision: {
        kind: 'add-job',
        key: 'own-last-jobs',
        reason: 'Left from the work list: side panel, mirrors, set up the levers.',
        own: { title: 'Finish and set up', hours: 2, parts: [{ name: 'mirrors', qty: 1, unitCost: 4000 }] },
      },
    },
    { daysAgo: 5, who: 'manager', did: 'bench' },
  ],
}

/** Two jobs that nobody needs: does a repaint pay, does a seat cover? */
const repaint: Story = {
  bike: {
    make: 'Kestwick',
    model: '750',
    year: 2003,
    kind: { ...four, fuelling: 'injection' },
    registration: 'TERN 11',
    frameNumber: 'KW750-55102',
    distance: '19350',
    sellerName: 'Private seller, eleventh caller',
    sellerContact: '',
    asking: '1900',
    sale: ['2700', '3000', '3250'],
    notes: '',
  },
  seenDaysAgo: 15,
  happenings: [
    { daysAgo: 14, who: 'dealer', did: 'buy', price: '1750' },
    ...limitsOf(7, twinDiscs),
    {
      daysAgo: 7,
      who: 'technician',
      did: 'check',
      rounds: ['cold', 'stand', 'running', 'road'],
      found: [
        { check: 'tank-paint', value: 'poor', note: 'Lacquer gone on top.' },
        { check: 'seat', value: 'torn', note: 'Seam open at the back, foam dry.' },
      ],
    },
  ],
}

export const stories: readonly Story[] = [nearlyDone, repaint, noCharge, wornDisc, rustyTank, oldTyre]
