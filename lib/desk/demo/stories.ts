import { type BikeKind, usualKind } from '../../core/checks/bike-kind'
import { pricesOf, tradePays } from './noted'
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
    sale: null,
    notes: 'Stood in a barn for two winters. Starts on choke, will not idle clean.',
  },
  seenDaysAgo: 2,
  happenings: [
    ...pricesOf.rustyTank,
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
    tradePays(8, '1150', '1250', '1350'),
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
    // The pads came for another caliper, and the discs are late.
    {
      ...{ daysAgo: 1.9, who: 'dealer', did: 'ask for part', of: 'Harle Spares', job: 'front-pads' },
      ...{ part: 'Pad set', qty: '2', source: 'pattern', number: 'HS-2207', price: '17.35', leadDays: '1' },
    },
    {
      ...{ daysAgo: 1.89, who: 'dealer', did: 'ask for part', of: 'Oxtarn Parts', job: 'front-discs' },
      ...{ part: 'Disc', qty: '2', source: 'pattern', number: 'OX-75F', price: '61.25', leadDays: '1' },
    },
    { daysAgo: 1.88, who: 'manager', did: 'order parts', of: 'Harle Spares', carriage: '5.90' },
    {
      ...{ daysAgo: 1.87, who: 'manager', did: 'order parts', of: 'Oxtarn Parts', carriage: '7.40' },
      reference: 'Under our telephone number',
    },
    {
      ...{ daysAgo: 1.8, who: 'dealer', did: 'ask for part', of: 'Oxtarn Parts', job: 'front-discs' },
      ...{ part: 'Disc bolts', qty: '1', source: 'pattern', number: 'OX-75B', price: '11.85', leadDays: '3' },
    },
    { daysAgo: 1, who: 'manager', did: 'bench' },
    { daysAgo: 1, who: 'manager', did: 'promise', inDays: 9, note: 'A caller who rides to work' },
    {
      ...{ daysAgo: 0.3, who: 'technician', did: 'part wrong', part: 'Pad set' },
      note: 'Ears are 4 mm too wide: for the later caliper.',
    },
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
    sale: null,
    notes: 'Seller says both tyres were new in 2022.',
  },
  seenDaysAgo: 1,
  happenings: [
    ...pricesOf.oldTyre,
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
    { daysAgo: 0, who: 'dealer', did: 'offer', price: '1320', validDays: 7 },
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
    tradePays(4, '1100', '1200', '1300'),
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
    notes:
      'Most of the work was done before its hours were written down; what was paid for it stands in what was spent.',
  },
  seenDaysAgo: 48,
  happenings: [
    { daysAgo: 48, who: 'dealer', did: 'buy', price: '1900' },
    tradePays(5.5, '950', '1050', '1150'),
    // 350 in all.
    {
      daysAgo: 31,
      who: 'dealer',
      did: 'spend',
      kind: 'part',
      what: 'front and rear tyre',
      amount: '186',
    },
    {
      daysAgo: 30.9,
      who: 'dealer',
      did: 'spend',
      kind: 'outside',
      what: 'tyres fitted and balanced',
      amount: '40',
    },
    {
      daysAgo: 20,
      who: 'dealer',
      did: 'spend',
      kind: 'part',
      what: 'pads for three calipers',
      qty: '3',
      amount: '72',
    },
    {
      daysAgo: 19,
      who: 'dealer',
      did: 'spend',
      kind: 'part',
      what: 'oil, filter, brake fluid and coolant',
      amount: '52',
    },
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
    {
      ...{ daysAgo: 2, who: 'technician', did: 'shelve', own: false, what: 'Mirrors', condition: 'used' },
      ...{ fitsMake: 'Calder', fitsModel: '900', place: 'Box 7' },
      story: 'A pair off a 900 with a bent frame that we broke in spring; left glass has a scratch.',
    },
    {
      ...{ daysAgo: 2, who: 'technician', did: 'shelve', own: false, what: 'Tank', condition: 'used' },
      ...{ fitsMake: 'Calder', fitsModel: '600 four', place: 'Top board' },
      story: 'Off one that was hit from behind; clean inside, dent on the right.',
    },
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
    tradePays(7, '1550', '1650', '1750'),
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
    {
      daysAgo: 6,
      who: 'manager',
      did: 'decide',
      decision: {
        kind: 'choose-job',
        key: 'tank-paint-poor',
        job: 'tank-repaint',
        reason: 'No other tank of this model is to be had, and this one is sound.',
      },
    },
    {
      ...{ daysAgo: 3, who: 'manager', did: 'send out', what: 'Side panel, for a sample of the colour' },
      ...{ whoHas: 'Pell Paintwork', dueIn: 5, note: 'Left one, without its badge.' },
    },
  ],
}

/** Warm on arrival: how it starts cold stays unseen, and what that may hide stays in the price. */
const warmOnArrival: Story = {
  bike: {
    make: 'Brannock',
    model: '900',
    year: 1998,
    kind: four,
    registration: 'TERN 05',
    frameNumber: 'BRK9-0020417',
    distance: '34120',
    sellerName: 'Private seller, fifth caller',
    sellerContact: '',
    asking: '1700',
    sale: ['2600', '2900', '3200'],
    notes: 'Seller had it running before we came and would not wait until it was cold.',
  },
  seenDaysAgo: 3,
  happenings: [
    ...pricesOf.warmOnArrival,
    {
      daysAgo: 3,
      who: 'dealer',
      did: 'check',
      rounds: ['cold'],
      short: true,
      found: [{ check: 'cylinders-cold', value: 'warm', note: 'Silencer too hot to hold.' }],
    },
    {
      daysAgo: 2.95,
      who: 'dealer',
      did: 'record',
      taken: [
        { check: 'cold-start', value: 'Warm on arrival, seller refused to wait', leftOut: true },
        {
          check: 'oil-smoke',
          value: 'Only shows after a cold start, and the seller refused to wait',
          leftOut: true,
        },
        {
          check: 'clutch-noise',
          value: 'rattles',
          note: 'At idle, quiet with the lever in. Seen, the seller did it.',
        },
        { check: 'charging-speed-volts', value: '14.1', note: 'Seen, the seller did it.' },
      ],
    },
  ],
}

/** A tap left on filled the engine with petrol: it is locked until it is drained, mended and looked at again. */
const floodedEngine: Story = {
  bike: {
    make: 'Skerne',
    model: '650',
    year: 1995,
    kind: { ...four, cooling: 'air' },
    registration: 'TERN 06',
    frameNumber: 'SKN65-004410',
    distance: '28410',
    nonRunner: true,
    sellerName: 'Private seller, sixth caller',
    sellerContact: '',
    asking: '600',
    sale: ['2150', '2400', '2650'],
    notes: 'Came on a trailer. Stood for a year with the tap left on.',
  },
  seenDaysAgo: 6,
  happenings: [
    {
      daysAgo: 6,
      who: 'dealer',
      did: 'check',
      rounds: ['cold'],
      short: true,
      found: [
        { check: 'oil-level', value: 'over', note: 'Window full to the top.' },
        { check: 'oil-smell', value: 'petrol', note: 'Runs off the finger like water.' },
        { check: 'fuel-tap', value: 'stiff', note: 'Left on; passes when it is shut.' },
        { check: 'fuel-age', value: '12' },
      ],
    },
    { daysAgo: 5, who: 'dealer', did: 'buy', price: '480' },
    tradePays(4, '400', '480', '560'),
    { daysAgo: 4, who: 'manager', did: 'bench' },
    {
      daysAgo: 3.2,
      who: 'technician',
      did: 'start',
      job: 'petrol-out-of-oil',
      opens: ['oil-drained', 'fuel-off'],
      budgetHours: '2',
      stopOn: 'metal in the oil, or an engine that does not turn by hand',
    },
    {
      daysAgo: 3.1,
      who: 'technician',
      did: 'finish',
      job: 'petrol-out-of-oil',
      minutes: '85',
      note: 'Tap shut, drained, plugs out, turned by hand through two full turns: free. Fresh oil and filter.',
    },
    { daysAgo: 3.09, who: 'technician', did: 'put back', kind: 'oil-drained' },
    {
      ...{ daysAgo: 2.9, who: 'dealer', did: 'ask for part', of: 'Harle Spares', job: 'float-valves' },
      ...{
        part: 'Float valve',
        qty: '4',
        source: 'pattern',
        number: 'HS-0915',
        price: '9.85',
        leadDays: '5',
      },
    },
    {
      ...{ daysAgo: 2.89, who: 'dealer', did: 'ask for part', of: 'Harle Spares', job: 'float-valves' },
      ...{ part: 'Bowl seal', qty: '4', source: 'pattern', number: 'HS-0916', price: '2.15', leadDays: '2' },
    },
    {
      ...{ daysAgo: 2.88, who: 'manager', did: 'order parts', of: 'Harle Spares', carriage: '5.90' },
    },
    {
      ...{ daysAgo: 2.5, who: 'dealer', did: 'ask for part', of: 'Oxtarn Parts', job: 'fuel-tap' },
      ...{ part: 'Tap repair kit', qty: '1', source: 'maker', price: '33.60', leadDays: '12' },
      neverShare: '25',
    },
    {
      daysAgo: 1.2,
      who: 'technician',
      did: 'start',
      job: 'float-valves',
      budgetHours: '3',
    },
    { daysAgo: 1.1, who: 'technician', did: 'pause', job: 'float-valves' },
    { daysAgo: 0.4, who: 'technician', did: 'part came', part: 'Bowl seal' },
  ],
}

/** Opened, and worse than anybody thought: the work stops, and the question goes to the manager. */
const scoredCams: Story = {
  bike: {
    make: 'Suthers',
    model: '600',
    year: 1999,
    kind: { ...four, frontBrake: 'single-disc' },
    registration: 'TERN 07',
    frameNumber: 'STH600-17725',
    distance: '38260',
    sellerName: 'Private seller, seventh caller',
    sellerContact: '',
    asking: '1060',
    sale: ['1900', '2100', '2300'],
    notes: 'Ticks at the top when warm. A chain and two sprockets are in it already.',
  },
  seenDaysAgo: 24,
  happenings: [
    { daysAgo: 23, who: 'dealer', did: 'buy', price: '900' },
    ...limitsOf(12, ['disc-front', 'disc-rear']),
    {
      daysAgo: 12,
      who: 'technician',
      did: 'check',
      rounds: ['cold', 'stand', 'running'],
      found: [
        { check: 'valve-clearance-proof', value: 'unknown' },
        { check: 'valve-noise', value: 'tick', note: 'From the exhaust side.' },
        { check: 'chain-wear', value: 'half' },
        { check: 'chain-length', value: '328' },
      ],
    },
    { daysAgo: 10, who: 'manager', did: 'bench' },
    { daysAgo: 8.3, who: 'technician', did: 'start', job: 'chain-and-sprockets', opens: ['axle-loose'] },
    {
      daysAgo: 8.2,
      who: 'technician',
      did: 'finish',
      job: 'chain-and-sprockets',
      minutes: '130',
      note: 'Chain and both sprockets new.',
    },
    {
      daysAgo: 8.195,
      who: 'technician',
      did: 'part',
      job: 'chain-and-sprockets',
      what: 'rear axle split pin',
      number: '3.2 × 40',
    },
    { daysAgo: 8.19, who: 'technician', did: 'put back', kind: 'axle-loose' },
    {
      daysAgo: 8.18,
      who: 'technician',
      did: 'record',
      taken: [
        { check: 'chain-wear', value: 'sits' },
        { check: 'chain-length', value: '317.5' },
        { check: 'chain-slack', value: '34' },
        { check: 'torque-rear-axle', value: '98' },
      ],
    },
    // 260 in all, with the gaskets below.
    {
      daysAgo: 8.1,
      who: 'manager',
      did: 'spend',
      kind: 'part',
      job: 'chain-and-sprockets',
      what: 'chain with two sprockets',
      amount: '148',
    },
    {
      daysAgo: 8.1,
      who: 'manager',
      did: 'spend',
      kind: 'outside',
      job: 'chain-and-sprockets',
      what: 'seized sprocket nut cut off by the machine shop',
      amount: '65',
    },
    {
      daysAgo: 4.3,
      who: 'technician',
      did: 'start',
      job: 'valve-clearances',
      opens: ['fuel-off'],
      budgetHours: '2.5',
      stopOn: 'marks on a cam or a rocker',
    },
    {
      daysAgo: 4.29,
      who: 'manager',
      did: 'spend',
      kind: 'part',
      job: 'valve-clearances',
      what: 'cover gasket and seal washers',
      amount: '47',
    },
    {
      daysAgo: 4.22,
      who: 'technician',
      did: 'ask',
      job: 'valve-clearances',
      asks: 'Both exhaust cams are scored and two rockers pitted. New cams, or stop here?',
      moreHours: '7',
      undone: 'Tank, air box and valve cover are off; cams still in.',
      keptWhere: 'Box 7 under the lift, bolts in the marked tray',
    },
    // What going on would mean, and what the bike would bring without: 500 from the trade, 692 in parts.
    {
      daysAgo: 4.1,
      who: 'manager',
      did: 'decide',
      decision: {
        kind: 'add-job',
        key: 'own-exhaust-cams',
        reason: 'What it would take, by telephone to two dealers in used parts.',
        own: {
          title: 'Exhaust cams and two rockers',
          hours: { low: 5.5, likely: 7, high: 8.5 },
          parts: [
            { name: 'exhaust cam, used, measured', qty: 2, unitCost: 23900 },
            { name: 'rocker', qty: 2, unitCost: 5800 },
          ],
        },
      },
    },
    {
      daysAgo: 4.09,
      who: 'manager',
      did: 'decide',
      decision: {
        kind: 'add-fault',
        key: 'own-cams-scored',
        reason: 'Seen with the cover off.',
        own: { title: 'Exhaust cams scored', call: 'must', job: 'own-exhaust-cams' },
      },
    },
    {
      daysAgo: 4,
      who: 'manager',
      did: 'ways',
      trade: ['450', '500', '550'],
      parts: { value: ['950', '1100', '1250'], stripHours: '6', costs: '63' },
    },
  ],
}

/** Cheap for a reason: money is owed on it and it was written off. The gate says no, and it is passed up. */
const owedOn: Story = {
  bike: {
    make: 'Lindale',
    model: '650',
    year: 2004,
    kind: { ...four, fuelling: 'injection' },
    registration: 'TERN 08',
    frameNumber: 'LDL65-311807',
    distance: '17890',
    sellerName: 'Private seller, eighth caller',
    sellerContact: '',
    asking: '1500',
    sale: null,
    notes: 'Says it has to go this week.',
  },
  seenDaysAgo: 7,
  happenings: [
    ...pricesOf.owedOn,
    { daysAgo: 7, who: 'dealer', did: 'check', rounds: ['cold'], short: true },
    { daysAgo: 6.9, who: 'dealer', did: 'register', register: 'stolen', answer: 'clear' },
    {
      daysAgo: 6.9,
      who: 'dealer',
      did: 'register',
      register: 'finance',
      answer: 'recorded',
      amount: '2140',
      note: 'Agreement from last year, lender named.',
    },
    {
      daysAgo: 6.9,
      who: 'dealer',
      did: 'register',
      register: 'write-off',
      answer: 'recorded',
      note: 'Structural damage, two years ago.',
    },
    { daysAgo: 6.9, who: 'dealer', did: 'register', register: 'recall', answer: 'clear' },
    { daysAgo: 6.88, who: 'dealer', did: 'identity', point: 'seller-identity', answer: 'seen' },
    { daysAgo: 6.88, who: 'dealer', did: 'identity', point: 'frame-number', answer: 'same' },
    { daysAgo: 6.88, who: 'dealer', did: 'identity', point: 'keys', answer: 'counted' },
    { daysAgo: 6.88, who: 'dealer', did: 'identity', point: 'finance', answer: 'outstanding' },
    {
      daysAgo: 6.8,
      who: 'dealer',
      did: 'pass up',
      reason: 'More is owed on it than it is worth to us, and it was written off.',
    },
  ],
}

const usualPressures = ['tyre-pressure-front', 'tyre-pressure-rear']

/** Imported: the clock counts kilometres and its seller reads them as miles. A shaft has no chain to look at. */
const importedShaft: Story = {
  bike: {
    make: 'Orrest',
    model: '1100',
    year: 1998,
    kind: { ...four, finalDrive: 'shaft', cooling: 'oil' },
    registration: 'TERN 09',
    frameNumber: 'ORR11-902266',
    distance: '41200',
    distanceUnit: 'km',
    sellerName: 'A trader, ninth caller',
    sellerContact: '',
    asking: '1950',
    sale: ['3000', '3300', '3600'],
    notes: 'Imported. Seller says 41,200 miles; the face of the clock is marked in kilometres.',
  },
  seenDaysAgo: 11,
  happenings: [
    {
      daysAgo: 11,
      who: 'dealer',
      did: 'check',
      rounds: ['cold'],
      short: true,
      found: [{ check: 'distance-shown', value: '41200', note: 'Face marked in kilometres.' }],
    },
    {
      daysAgo: 10.9,
      who: 'dealer',
      did: 'distance',
      before: 0,
      distance: '41200',
      unit: 'mi',
      source: 'other paper',
      note: "The seller's advert.",
      withdrawn: 'Kilometres read as miles: the face of the clock is marked in kilometres.',
    },
    {
      daysAgo: 10.9,
      who: 'dealer',
      did: 'distance',
      before: 700,
      distance: '36900',
      unit: 'km',
      source: 'inspection',
      note: 'Paper from abroad, in kilometres.',
    },
    {
      daysAgo: 10.9,
      who: 'dealer',
      did: 'distance',
      before: 320,
      distance: '24570',
      unit: 'mi',
      source: 'service',
      note: 'First bill after it was brought in, turned into miles.',
    },
    { daysAgo: 10, who: 'dealer', did: 'buy', price: '1800' },
    tradePays(9, '2100', '2200', '2300'),
    { daysAgo: 9, who: 'manager', did: 'bench' },
    {
      daysAgo: 2.1,
      who: 'technician',
      did: 'limit',
      checks: twinDiscs,
      limit: { min: '4.5', asNew: '5', unit: 'mm', note: 'MIN TH 4.5' },
    },
    {
      daysAgo: 2.1,
      who: 'technician',
      did: 'limit',
      checks: usualPressures,
      limit: { min: '230', max: '290', unit: 'kPa', note: 'sticker on the tail' },
    },
    {
      daysAgo: 2,
      who: 'technician',
      did: 'check',
      rounds: ['cold', 'stand', 'running'],
    },
    {
      daysAgo: 1.7,
      who: 'technician',
      did: 'ride',
      purpose: 'test',
      papers: {
        rider: 'Wyn',
        licence: 'full licence for any motorcycle, seen today',
        cover: 'trade policy, named rider',
        plates: 'trade plates',
      },
      out: '41203',
      back: '41221',
      hours: 0.6,
      note: 'Pulls well, tracks straight.',
    },
    { daysAgo: 1.65, who: 'technician', did: 'check', rounds: ['road'] },
  ],
}

/** Bought for 2,500 and priced at 3,900: the tax falls on the whole difference, whatever the buyer brings along. */
const pricedToSell: Story = {
  bike: {
    make: 'Ostrel',
    model: '900',
    year: 2005,
    kind: { ...four, fuelling: 'injection' },
    registration: 'TERN 12',
    frameNumber: 'OSTR90-40877',
    distance: '14260',
    sellerName: 'Private seller, twelfth caller',
    sellerContact: '',
    asking: '2700',
    sale: ['3900', '3900', '3900'],
    notes: 'Priced at 3,900, as it stands in the window.',
  },
  seenDaysAgo: 22,
  happenings: [
    { daysAgo: 21, who: 'dealer', did: 'buy', price: '2500' },
    ...limitsOf(9, twinDiscs),
    { daysAgo: 9, who: 'technician', did: 'check', rounds: ['cold', 'stand', 'running', 'road'] },
    tradePays(9, '3100', '3200', '3300'),
  ],
}

/** Brought along by who wants the one above: 1,200 are asked for what the trade would take at 1,100. */
const broughtAlong: Story = {
  bike: {
    make: 'Vantry',
    model: '500',
    year: 2000,
    kind: { ...four, frontBrake: 'single-disc' },
    registration: 'TERN 13',
    frameNumber: 'VT500-118204',
    distance: '29930',
    sellerName: 'Wants the Ostrel 900',
    sellerContact: 'calls again on Saturday',
    asking: '1200',
    sale: ['1480', '1650', '1820'],
    notes: 'Would give it in part exchange. Worth 900 to us.',
  },
  seenDaysAgo: 1,
  happenings: [
    { daysAgo: 1, who: 'dealer', did: 'check', rounds: ['cold'], short: true },
    tradePays(1, '1000', '1100', '1200'),
  ],
}

export const stories: readonly Story[] = [
  nearlyDone,
  repaint,
  noCharge,
  wornDisc,
  rustyTank,
  oldTyre,
  warmOnArrival,
  floodedEngine,
  scoredCams,
  owedOn,
  importedShaft,
  pricedToSell,
  broughtAlong,
]
