import type { Check, LookCheck, MeasuredCheck } from '../core/checks/catalogue'
import { calliper, dialGauge, micrometer, steelRule } from './instruments'
import { commonPractice, rimManual, setByModel, stampedOnDisc, startingValue, wheelManual } from './sources'

type End = 'front' | 'rear'
const name = { front: 'Front', rear: 'Rear' } as const

const rimRunOut = {
  sort: 'measured',
  round: 'stand',
  needs: ['stand that lifts the wheel', 'dial gauge, or a fixed pointer and a rule'],
  minutes: 2,
  unit: 'mm',
  units: ['mm', 'in'],
  positions: [{ key: 'edge', label: 'Side of the rim, whole turn' }],
  judgedOn: 'highest',
  plausible: { min: 0, max: 30 },
  instruments: [dialGauge, steelRule],
  cautions: ['lifting', 'moving-parts'],
  source: rimManual,
} as const

/** On the stand, engine off, key out: what turns, what steers, what stops. */
export const standChecks = [
  {
    key: 'steering-play',
    sort: 'look',
    round: 'stand',
    title: 'Steering head',
    how: [
      'With the front wheel off the floor turn the bars slowly from stop to stop and feel for a notch near the middle.',
      'Hold the fork legs low down and rock them forwards and back: a knock is play.',
      'At a viewing without a stand, hold the front brake and rock the bike, a finger on the gap under the top yoke.',
    ],
    needs: ['front stand or second person'],
    minutes: 1,
    short: true,
    safety: true,
    cautions: ['lifting'],
    detects: 0.9,
    answers: [
      { key: 'smooth', label: 'Smooth, no play', tone: 'good' },
      { key: 'notch', label: 'Notch or rough', tone: 'bad' },
      { key: 'loose', label: 'Knocks', tone: 'bad' },
    ],
    raises: [
      { when: { on: 'answer', answer: 'notch' }, fault: 'steering-notchy' },
      { when: { on: 'answer', answer: 'loose' }, fault: 'steering-loose' },
    ],
    source: wheelManual,
  },
  wheelBearings('front'),
  wheelBearings('rear'),
  {
    key: 'axles',
    sort: 'look',
    round: 'stand',
    title: 'Axles and their fasteners',
    how: [
      'Put a spanner on both axle nuts and the pinch bolts: they should be tight.',
      'Look for the split pins or locking nuts that the model has, and for fresh tool marks.',
    ],
    needs: ['spanners', 'torch'],
    minutes: 1,
    safety: true,
    answers: [
      { key: 'tight', label: 'Tight, pins in place', tone: 'good' },
      { key: 'loose', label: 'Loose, or a pin missing', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'loose' }, fault: 'axle-loose' }],
    source: commonPractice,
  },
  {
    key: 'swing-arm-play',
    sort: 'look',
    round: 'stand',
    title: 'Swing arm play',
    how: [
      'Rear wheel off the floor: hold the swing arm near the axle and push it from side to side.',
      'Watch the pivot, not the wheel, so that a worn wheel bearing is not taken for it.',
    ],
    needs: ['rear stand or centre stand'],
    minutes: 1,
    safety: true,
    cautions: ['lifting'],
    detects: 0.85,
    answers: [
      { key: 'none', label: 'No play', tone: 'good' },
      { key: 'play', label: 'Play felt at the pivot', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'play' }, fault: 'swing-arm-worn' }],
    source: wheelManual,
  },
  {
    key: 'fork-seals',
    sort: 'look',
    round: 'stand',
    title: 'Fork seals',
    how: [
      'Wipe both fork tubes, press the fork down five times and look again.',
      'Lift the dust caps if you may and look for oil under them.',
      'Follow any oil down: on the disc, the pads or the lining it takes the brake away.',
    ],
    needs: ['cloth', 'torch'],
    minutes: 0.5,
    short: true,
    safety: true,
    detects: 0.85,
    answers: [
      { key: 'dry', label: 'Dry', tone: 'good' },
      { key: 'damp', label: 'Ring of oil, stays on the leg', tone: 'bad' },
      { key: 'on-brake', label: 'Oil reaches the brake', tone: 'bad' },
    ],
    raises: [
      { when: { on: 'answer', answer: 'damp' }, fault: 'fork-seals-leak' },
      { when: { on: 'answer', answer: 'on-brake' }, fault: 'fork-oil-on-brake' },
      { when: { on: 'answer', answer: 'on-brake' }, fault: 'front-pads-oiled' },
    ],
    source: commonPractice,
  },
  {
    key: 'spokes',
    sort: 'look',
    round: 'stand',
    title: 'Spokes',
    how: [
      'Turn each wheel by hand and tap every spoke with a small spanner.',
      'A tight spoke rings, a loose one clacks, a broken one hangs.',
      'Look for cracks in the rim round the nipples.',
    ],
    needs: ['small spanner'],
    minutes: 3,
    appliesTo: { wheels: ['spoked'] },
    safety: true,
    cautions: ['moving-parts'],
    answers: [
      { key: 'ring', label: 'All ring alike', tone: 'good' },
      { key: 'loose', label: 'One or more loose', tone: 'bad' },
      { key: 'broken', label: 'Broken, or rim cracked', tone: 'bad' },
    ],
    raises: [
      { when: { on: 'answer', answer: 'loose' }, fault: 'spokes-loose' },
      { when: { on: 'answer', answer: 'broken' }, fault: 'spokes-broken' },
    ],
    source: wheelManual,
  },
  castRim('front'),
  castRim('rear'),
  spokedRim('front'),
  spokedRim('rear'),
  padDepth({
    key: 'pads-front-twin',
    title: 'Front pads, both calipers',
    appliesTo: { frontBrake: ['twin-disc'] },
    positions: [
      { key: 'left-inner', label: 'Left caliper, inner pad' },
      { key: 'left-outer', label: 'Left caliper, outer pad' },
      { key: 'right-inner', label: 'Right caliper, inner pad' },
      { key: 'right-outer', label: 'Right caliper, outer pad' },
    ],
    end: 'front',
  }),
  padDepth({
    key: 'pads-front-single',
    title: 'Front pads',
    appliesTo: { frontBrake: ['single-disc'] },
    positions: [
      { key: 'inner', label: 'Inner pad' },
      { key: 'outer', label: 'Outer pad' },
    ],
    end: 'front',
  }),
  padDepth({
    key: 'pads-rear',
    title: 'Rear pads',
    appliesTo: { rearBrake: ['disc'] },
    positions: [
      { key: 'inner', label: 'Inner pad' },
      { key: 'outer', label: 'Outer pad' },
    ],
    end: 'rear',
  }),
  discThickness({
    key: 'disc-front-left',
    title: 'Front disc thickness, left',
    appliesTo: { frontBrake: ['twin-disc'] },
    faults: { thin: 'front-discs-thin', near: 'front-discs-near-limit', pads: 'front-pads-bedded' },
    detects: 0.7,
  }),
  discThickness({
    key: 'disc-front-right',
    title: 'Front disc thickness, right',
    appliesTo: { frontBrake: ['twin-disc'] },
    faults: { thin: 'front-discs-thin', near: 'front-discs-near-limit', pads: 'front-pads-bedded' },
    detects: 0.7,
  }),
  discThickness({
    key: 'disc-front',
    title: 'Front disc thickness',
    appliesTo: { frontBrake: ['single-disc'] },
    faults: { thin: 'front-discs-thin', near: 'front-discs-near-limit', pads: 'front-pads-bedded' },
  }),
  discThickness({
    key: 'disc-rear',
    title: 'Rear disc thickness',
    appliesTo: { rearBrake: ['disc'] },
    faults: { thin: 'rear-disc-thin', near: 'rear-disc-near-limit', pads: 'rear-pads-bedded' },
  }),
  discCracks('front', { frontBrake: ['twin-disc', 'single-disc'] }),
  discCracks('rear', { rearBrake: ['disc'] }),
  caliperFree('front', { frontBrake: ['twin-disc', 'single-disc'] }),
  caliperFree('rear', { rearBrake: ['disc'] }),
  {
    key: 'torque-arm',
    sort: 'look',
    round: 'stand',
    title: 'Torque arm of the rear brake',
    how: [
      'Find the arm that holds the rear caliper or drum plate against turning.',
      'Both its bolts must be tight and every split pin or locking nut in place.',
    ],
    needs: ['torch'],
    minutes: 0.5,
    safety: true,
    answers: [
      { key: 'pinned', label: 'Tight, all pins there', tone: 'good' },
      { key: 'no-arm', label: 'This bike has none', tone: 'good' },
      { key: 'missing', label: 'Pin missing or bolt loose', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'missing' }, fault: 'torque-arm-loose' }],
    source: commonPractice,
  },
  {
    key: 'chain-slack',
    sort: 'measured',
    round: 'stand',
    title: 'Chain slack',
    how: [
      'Turn the wheel by hand and find the tightest place of the chain.',
      'Midway along the lower run hold a rule upright and move the chain from its lowest to its highest.',
      "Measure on the stand that the model's sheet names, since the answer differs between stands.",
    ],
    needs: ['steel rule'],
    minutes: 2,
    appliesTo: { finalDrive: ['chain'] },
    unit: 'mm',
    units: ['mm', 'in'],
    positions: [{ key: 'tightest', label: 'At the tightest place' }],
    judgedOn: 'each',
    plausible: { min: 0, max: 150 },
    instruments: [steelRule],
    limit: null,
    cautions: ['moving-parts'],
    raises: [{ when: { on: 'outside' }, fault: 'chain-slack-wrong' }],
    source: setByModel,
  },
  {
    key: 'chain-wear',
    sort: 'look',
    round: 'stand',
    title: 'Chain wear',
    how: [
      'At the rearmost point of the rear sprocket pull the chain straight back.',
      'If it lifts by more than half a tooth the chain is worn.',
      'Try three places round the chain.',
    ],
    needs: [],
    minutes: 0.5,
    appliesTo: { finalDrive: ['chain'] },
    short: true,
    cautions: ['moving-parts'],
    answers: [
      { key: 'sits', label: 'Sits on the teeth', tone: 'good' },
      { key: 'quarter', label: 'Lifts, less than half a tooth', tone: 'note' },
      { key: 'half', label: 'Lifts more than half a tooth', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'half' }, fault: 'chain-worn' }],
    source: commonPractice,
  },
  {
    key: 'chain-links',
    sort: 'look',
    round: 'stand',
    title: 'Stiff and rusty links',
    how: [
      'Turn the wheel slowly backwards and watch the chain leave the lower side of the sprocket.',
      'A link that stays bent is stiff: the chain has run dry.',
      'Look for missing or torn sealing rings.',
    ],
    needs: ['torch'],
    minutes: 1,
    appliesTo: { finalDrive: ['chain'] },
    cautions: ['moving-parts'],
    detects: 0.9,
    answers: [
      { key: 'free', label: 'All move freely', tone: 'good' },
      { key: 'dirty', label: 'Dry or dirty, all free', tone: 'note' },
      { key: 'stiff', label: 'Stiff links or rings missing', tone: 'bad' },
    ],
    raises: [
      { when: { on: 'answer', answer: 'dirty' }, fault: 'chain-dry' },
      { when: { on: 'answer', answer: 'stiff' }, fault: 'chain-stiff' },
    ],
    source: commonPractice,
  },
  {
    key: 'chain-joint',
    sort: 'look',
    round: 'stand',
    title: 'Joining link',
    how: [
      'Turn the wheel until the joining link comes round.',
      'A spring clip must sit in both grooves with its closed end in the direction of travel.',
      'A riveted link must have both pin ends spread alike.',
    ],
    needs: ['torch'],
    minutes: 1,
    appliesTo: { finalDrive: ['chain'] },
    safety: true,
    cautions: ['moving-parts'],
    answers: [
      { key: 'sound', label: 'Sound, or no joining link', tone: 'good' },
      { key: 'unsafe', label: 'Clip missing, loose or backwards', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'unsafe' }, fault: 'chain-joint-unsafe' }],
    source: commonPractice,
  },
  {
    key: 'sprocket-teeth',
    sort: 'look',
    round: 'stand',
    title: 'Sprocket teeth',
    how: [
      'Look at the rear sprocket from the side with a torch behind it.',
      'Teeth should be alike on both flanks; hooked or pointed teeth are worn.',
      'The front one wears first: look past its cover where you can.',
    ],
    needs: ['torch'],
    minutes: 1,
    appliesTo: { finalDrive: ['chain'] },
    cautions: ['moving-parts'],
    detects: 0.9,
    answers: [
      { key: 'even', label: 'Even', tone: 'good' },
      { key: 'hooked', label: 'Hooked or pointed', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'hooked' }, fault: 'sprockets-worn' }],
    source: commonPractice,
  },
  {
    key: 'shaft-drive',
    sort: 'look',
    round: 'stand',
    title: 'Shaft and final drive',
    how: [
      'Turn the rear wheel to and fro and feel the play before the shaft takes up.',
      'Look for oil at the drive housing and on the rim.',
      'Take the filler plug out: oil should stand at its lower edge and be free of metal.',
    ],
    needs: ['torch', 'cloth'],
    minutes: 2,
    appliesTo: { finalDrive: ['shaft'] },
    cautions: ['moving-parts', 'old-oil'],
    answers: [
      { key: 'good', label: 'Dry, little play, oil clean', tone: 'good' },
      { key: 'oil', label: 'Oil low, old or weeping', tone: 'bad' },
      { key: 'play', label: 'Much play, or metal in the oil', tone: 'bad' },
    ],
    raises: [
      { when: { on: 'answer', answer: 'oil' }, fault: 'shaft-oil-due' },
      { when: { on: 'answer', answer: 'play' }, fault: 'shaft-drive-worn' },
    ],
    source: commonPractice,
  },
  {
    key: 'drive-belt',
    sort: 'look',
    round: 'stand',
    title: 'Drive belt',
    how: [
      'Turn the wheel slowly and look at both faces of the belt.',
      'Look for cracks between teeth, missing teeth, frayed edges and stones pressed in.',
    ],
    needs: ['torch'],
    minutes: 1,
    appliesTo: { finalDrive: ['belt'] },
    cautions: ['moving-parts'],
    answers: [
      { key: 'sound', label: 'Sound', tone: 'good' },
      { key: 'worn', label: 'Cracked, frayed or a tooth gone', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'worn' }, fault: 'belt-worn' }],
    source: commonPractice,
  },
  {
    key: 'charging-connector',
    sort: 'look',
    round: 'stand',
    title: 'Connector between stator and regulator',
    how: [
      'Ignition off: follow the thick wires from the generator to the finned regulator and open the plug between them.',
      'Look for browned plastic, green or burnt pins and melted insulation.',
      'If it cannot be reached without taking parts off, say so and go on.',
    ],
    needs: ['torch'],
    minutes: 3,
    detects: 0.9,
    answers: [
      { key: 'good', label: 'Clean and tight', tone: 'good' },
      { key: 'browned', label: 'Browned or burnt', tone: 'bad' },
      { key: 'not-reached', label: 'Not reached', tone: 'note' },
    ],
    raises: [
      {
        when: { on: 'answer', answer: 'browned' },
        settles: { fault: 'no-charge', cause: 'charging-connector' },
      },
      {
        when: { on: 'answer', answer: 'good' },
        rulesOut: { fault: 'no-charge', cause: 'charging-connector' },
      },
    ],
    source: commonPractice,
  },
] satisfies readonly Check[]

function wheelBearings(end: End): LookCheck {
  return {
    key: `wheel-bearings-${end}`,
    sort: 'look',
    round: 'stand',
    title: `${name[end]} wheel bearings`,
    how: [
      'Wheel off the floor: hold the tyre at top and bottom and rock it.',
      'Spin it by hand with a finger on the axle end and feel for roughness.',
      'Do it again left and right, so that steering or swing arm play is told apart.',
    ],
    needs: ['stand that lifts the wheel'],
    minutes: 1,
    safety: true,
    cautions: ['lifting', 'moving-parts'],
    detects: 0.9,
    answers: [
      { key: 'smooth', label: 'Smooth, no play', tone: 'good' },
      { key: 'rough', label: 'Rough or noisy', tone: 'bad' },
      { key: 'loose', label: 'Play', tone: 'bad' },
    ],
    raises: [
      { when: { on: 'answer', answer: 'rough' }, fault: `${end}-wheel-bearings-rough` },
      { when: { on: 'answer', answer: 'loose' }, fault: `${end}-wheel-loose` },
    ],
    source: wheelManual,
  }
}

function castRim(end: End): MeasuredCheck {
  return {
    ...rimRunOut,
    key: `rim-${end}-cast`,
    title: `${name[end]} rim, side to side`,
    appliesTo: { wheels: ['cast'] },
    how: [
      'Fix the gauge to the fork or swing arm with its tip on the side of the rim.',
      'Turn the wheel once by hand and note the full swing from least to most.',
      'A cast wheel is taken as alloy.',
    ],
    limit: { max: 2, unit: 'mm', source: rimManual },
    raises: [{ when: { on: 'outside' }, fault: `${end}-rim-bent` }],
  }
}

function spokedRim(end: End): MeasuredCheck {
  return {
    ...rimRunOut,
    key: `rim-${end}-spoked`,
    title: `${name[end]} rim, side to side`,
    appliesTo: { wheels: ['spoked'] },
    how: [
      'Fix the gauge to the fork or swing arm with its tip on the side of the rim.',
      'Turn the wheel once by hand and note the full swing from least to most.',
      'Try the rim with a magnet: enter the limit 4 mm for steel, 2 mm for alloy.',
    ],
    limit: null,
    raises: [{ when: { on: 'outside' }, fault: `${end}-rim-bent` }],
  }
}

type PadCheck = Pick<MeasuredCheck, 'key' | 'title' | 'appliesTo' | 'positions'> & { end: End }

function padDepth({ end, ...pad }: PadCheck): MeasuredCheck {
  return {
    ...pad,
    sort: 'measured',
    round: 'stand',
    how: [
      'Look into the caliper from behind or below with a torch and find the thinnest end of each pad.',
      'Measure the lining only, not its steel back.',
      "Look for the wear mark of the pad; the model's own limit goes before the one here.",
    ],
    needs: ['torch', 'steel rule or calliper'],
    minutes: 2,
    unit: 'mm',
    units: ['mm', 'in'],
    judgedOn: 'lowest',
    plausible: { min: 0, max: 15 },
    instruments: [calliper, steelRule],
    limit: {
      min: 1,
      unit: 'mm',
      source: {
        kind: 'starting value',
        says: "starting value, of no one model: 1.0 mm of lining counts as worn out; the model's sheet goes first",
      },
    },
    saleLine: { min: 2.5, unit: 'mm', source: startingValue },
    safety: true,
    cautions: ['old-linings'],
    raises: [
      { when: { on: 'outside' }, fault: `${end}-pads-worn` },
      { when: { on: 'below-sale-line' }, fault: `${end}-pads-low` },
    ],
    source: commonPractice,
  }
}

/** Twin discs wear together, but not quite: the left one alone does not clear the pair. */
type DiscCheck = Pick<MeasuredCheck, 'key' | 'title' | 'appliesTo' | 'detects'> & {
  faults: { thin: string; near: string; pads: string }
}

function discThickness({ faults, ...disc }: DiscCheck): MeasuredCheck {
  return {
    ...disc,
    sort: 'measured',
    round: 'stand',
    how: [
      'Read the least thickness stamped on the disc and enter it as the limit.',
      'Wipe the disc and measure in the middle of the swept ring at four places.',
      'A calliper laid across the lip at the edge reads too thick: use a micrometer, or points inside the lip.',
    ],
    needs: ['calliper or micrometer', 'cloth'],
    minutes: 3,
    unit: 'mm',
    units: ['mm', 'in'],
    positions: [
      { key: 'a', label: 'In line with the valve' },
      { key: 'b', label: 'A quarter turn on' },
      { key: 'c', label: 'Half a turn on' },
      { key: 'd', label: 'Three quarters on' },
    ],
    judgedOn: 'lowest',
    plausible: { min: 1, max: 15 },
    instruments: [calliper, micrometer],
    limit: null,
    safety: true,
    cautions: ['hot-parts', 'moving-parts'],
    raises: [
      { when: { on: 'outside' }, fault: faults.thin },
      { when: { on: 'outside' }, fault: faults.pads },
      { when: { on: 'below-sale-line' }, fault: faults.near },
    ],
    source: stampedOnDisc,
  }
}

function discCracks(end: End, appliesTo: LookCheck['appliesTo']): LookCheck {
  return {
    key: `disc-cracks-${end}`,
    sort: 'look',
    round: 'stand',
    title: `${name[end]} disc, cracks and carrier`,
    how: [
      'Wipe the disc and look at it from both sides in slanting light.',
      'Look for cracks between the holes, from a hole to the edge, and at the arms of the carrier.',
      'Try the rivets or bolts of the carrier by hand.',
    ],
    needs: ['torch', 'cloth'],
    minutes: 1,
    appliesTo,
    safety: true,
    cautions: ['hot-parts', 'moving-parts'],
    answers: [
      { key: 'sound', label: 'Sound', tone: 'good' },
      { key: 'cracked', label: 'Crack, or carrier loose', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'cracked' }, fault: `${end}-disc-cracked` }],
    source: commonPractice,
  }
}

function caliperFree(end: End, appliesTo: LookCheck['appliesTo']): LookCheck {
  return {
    key: `caliper-${end}`,
    sort: 'look',
    round: 'stand',
    title: `${name[end]} caliper frees`,
    how: [
      'Wheel off the floor: apply the brake, let go and turn the wheel by hand at once.',
      'It should turn with only a light rub.',
      'Look at the pistons past the pads for rust, and slide a floating caliper on its pins.',
    ],
    needs: ['stand that lifts the wheel', 'torch'],
    minutes: 1,
    appliesTo,
    safety: true,
    cautions: ['lifting', 'moving-parts', 'old-linings'],
    detects: 0.9,
    answers: [
      { key: 'frees', label: 'Frees at once', tone: 'good' },
      { key: 'drags', label: 'Drags, or pistons rusty', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'drags' }, fault: `${end}-caliper-seized` }],
    source: commonPractice,
  }
}
