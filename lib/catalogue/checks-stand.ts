import type { Check, LookCheck, MeasuredCheck } from '../core/checks/catalogue'
import { wearGate } from './gates'
import { calliper, compressionGauge, dialGauge, micrometer, steelRule } from './instruments'
import {
  chainStandard,
  commonPractice,
  rimManual,
  setByModel,
  stampedOnDisc,
  startingValue,
  wheelManual,
} from './sources'

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
    short: 'saddle',
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
    gate: wearGate,
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
    gate: wearGate,
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
    key: 'fork-tubes',
    sort: 'look',
    round: 'stand',
    title: 'Fork tubes',
    how: [
      'Wipe the sliding part of both tubes and draw a fingernail over it all round.',
      'A pit that catches the nail cuts the seal; rust above the travel harms nothing.',
      'Look for ripples under the lower yoke: there a fork bends first.',
    ],
    needs: ['cloth', 'torch'],
    minutes: 0.5,
    safety: true,
    answers: [
      { key: 'smooth', label: 'Smooth and straight', tone: 'good' },
      { key: 'pitted', label: 'Pitted in the travel', tone: 'bad' },
      { key: 'bent', label: 'Rippled or bent', tone: 'bad' },
    ],
    raises: [
      { when: { on: 'answer', answer: 'pitted' }, fault: 'fork-tubes-pitted' },
      { when: { on: 'answer', answer: 'bent' }, fault: 'fork-bent' },
    ],
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
    short: 'left',
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
    gate: wearGate,
    source: commonPractice,
  },
  {
    key: 'rear-shock',
    sort: 'look',
    round: 'stand',
    title: 'Rear spring and damper',
    how: [
      'Wipe the damper rod and look for oil, then at the rubber bushes and the spring.',
      'Off the stand, push the seat down hard and let go: it should come up once and stop.',
    ],
    needs: ['torch', 'cloth'],
    minutes: 0.5,
    safety: true,
    detects: 0.85,
    answers: [
      { key: 'damps', label: 'Dry, comes up once', tone: 'good' },
      { key: 'bounces', label: 'Oily, or it bounces', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'bounces' }, fault: 'rear-shock-worn' }],
    source: wheelManual,
  },
  {
    key: 'linkage-play',
    sort: 'look',
    round: 'stand',
    title: 'Linkage of the rear suspension',
    how: [
      'Rear wheel off the floor, weight carried by the frame: lift the wheel gently and feel for a dead step.',
      'Hold a finger across each joint of the linkage to find the one that moves.',
    ],
    needs: ['stand that lifts the wheel'],
    minutes: 1,
    cautions: ['lifting'],
    detects: 0.85,
    answers: [
      { key: 'none', label: 'No step', tone: 'good' },
      { key: 'no-linkage', label: 'This bike has none', tone: 'good' },
      { key: 'play', label: 'Step felt', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'play' }, fault: 'linkage-worn' }],
    source: wheelManual,
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
    gate: wearGate,
    source: wheelManual,
  },
  castRim('front'),
  castRim('rear'),
  spokedRim('front'),
  spokedRim('rear'),
  steelRim('front'),
  steelRim('rear'),
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
  discRunOut('front', { frontBrake: ['twin-disc', 'single-disc'] }),
  discRunOut('rear', { rearBrake: ['disc'] }),
  discCracks('front', { frontBrake: ['twin-disc', 'single-disc'] }),
  discCracks('rear', { rearBrake: ['disc'] }),
  caliperFree('front', { frontBrake: ['twin-disc', 'single-disc'] }),
  caliperFree('rear', { rearBrake: ['disc'] }),
  caliperFasteners('front', { frontBrake: ['twin-disc', 'single-disc'] }),
  caliperFasteners('rear', { rearBrake: ['disc'] }),
  {
    key: 'abs-sensors',
    sort: 'look',
    round: 'stand',
    title: 'Sensor rings of the ABS',
    how: [
      'Turn each wheel by hand and look at the ring of teeth or slots and at the sensor beside it.',
      'The ring must be whole and clean, the gap even all round, the cable clipped away from wheel and disc.',
    ],
    needs: ['stand that lifts the wheel', 'torch'],
    minutes: 1,
    appliesTo: { abs: ['yes'] },
    safety: true,
    cautions: ['moving-parts', 'lifting'],
    detects: 0.8,
    answers: [
      { key: 'whole', label: 'Whole, clean, gap even', tone: 'good' },
      { key: 'damaged', label: 'Bent, dirty or cable chafed', tone: 'bad' },
    ],
    raises: [
      { when: { on: 'answer', answer: 'damaged' }, fault: 'abs-sensor-damaged' },
      { when: { on: 'answer', answer: 'whole' }, rulesOut: { fault: 'abs-fails', cause: 'abs-sensor' } },
    ],
    source: commonPractice,
  },
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
    gate: wearGate,
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
    gate: wearGate,
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
    minutes: 0.4,
    appliesTo: { finalDrive: ['chain'] },
    short: 'left',
    cautions: ['moving-parts'],
    answers: [
      { key: 'sits', label: 'Sits on the teeth', tone: 'good' },
      { key: 'quarter', label: 'Lifts, less than half a tooth', tone: 'note' },
      { key: 'half', label: 'Lifts more than half a tooth', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'half' }, fault: 'chain-worn' }],
    gate: wearGate,
    source: commonPractice,
  },
  chainLength({
    key: 'chain-length',
    title: 'Chain length over 20 pitches',
    appliesTo: { finalDrive: ['chain'], class: ['motorcycle'] },
    pitch: '15.875 mm',
    other: 'one of 12.7 mm the limit is 261.6 mm',
    asNew: 317.5,
    max: 327,
  }),
  chainLength({
    key: 'chain-length-light',
    title: 'Light chain, length over 20 pitches',
    appliesTo: { finalDrive: ['chain'], class: ['light', 'moped'] },
    pitch: '12.7 mm',
    other: 'one of 15.875 mm the limit is 327.0 mm',
    asNew: 254,
    max: 261.6,
  }),
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
    gate: wearGate,
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
    gate: wearGate,
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
    gate: wearGate,
    source: commonPractice,
  },
  {
    key: 'shaft-lash',
    sort: 'measured',
    round: 'stand',
    title: 'Play of the shaft at the rim',
    how: [
      'Put it in gear, engine off, and hold a rule beside a mark on the tyre at the rim.',
      'Turn the wheel to and fro by hand without turning the engine, and note the whole swing of the mark.',
      "Bound and place to measure are in the model's sheet.",
    ],
    needs: ['stand that lifts the wheel', 'steel rule'],
    minutes: 2,
    appliesTo: { finalDrive: ['shaft'] },
    unit: 'mm',
    units: ['mm', 'in'],
    positions: [{ key: 'rim', label: 'At the rim' }],
    judgedOn: 'each',
    conditions: ['off'],
    plausible: { min: 0, max: 200 },
    instruments: [steelRule],
    limit: null,
    cautions: ['moving-parts', 'lifting'],
    raises: [{ when: { on: 'above-limit' }, fault: 'shaft-drive-worn' }],
    source: setByModel,
  },
  {
    key: 'kick-starter',
    sort: 'look',
    round: 'stand',
    title: 'Kick starter',
    how: [
      'Ignition off, neutral: push the lever down slowly by foot through its whole way.',
      'It should take hold at once, turn the engine without slipping and come back by itself.',
      'Keep knee and ankle loose: a kick back breaks bones.',
    ],
    needs: [],
    minutes: 0.5,
    appliesTo: { starter: ['kick'] },
    detects: 0.9,
    answers: [
      { key: 'holds', label: 'Takes hold and comes back', tone: 'good' },
      { key: 'slips', label: 'Slips or stays down', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'slips' }, fault: 'kick-starter-slips' }],
    source: commonPractice,
  },
  {
    key: 'spark-plugs',
    sort: 'look',
    round: 'stand',
    title: 'Spark plugs',
    how: [
      'Engine cold, blow or brush the dirt out of the wells, then screw out every plug and lay them in order.',
      'Light brown is good; dry black is too much fuel, wet black is oil, white is too lean or too hot.',
      'Screw them back in by hand first, so that no thread is crossed.',
    ],
    needs: ['plug spanner', 'torch'],
    minutes: 5,
    detects: 0.8,
    answers: [
      { key: 'brown', label: 'Light brown, all alike', tone: 'good' },
      { key: 'worn', label: 'Worn, or black and dry', tone: 'bad' },
      { key: 'oily', label: 'Wet with oil', tone: 'bad' },
      { key: 'thread', label: 'A thread gone', tone: 'bad' },
    ],
    raises: [
      { when: { on: 'answer', answer: 'worn' }, fault: 'plugs-worn' },
      { when: { on: 'answer', answer: 'oily' }, fault: 'burns-oil' },
      { when: { on: 'answer', answer: 'oily' }, fault: 'two-stroke-plug-wet' },
      { when: { on: 'answer', answer: 'thread' }, fault: 'thread-stripped' },
    ],
    source: commonPractice,
  },
  {
    key: 'compression',
    sort: 'measured',
    round: 'stand',
    title: 'Compression, lowest cylinder',
    how: [
      'Engine warmed up and stopped, every plug out, petrol shut off, coils unplugged or earthed as the maker says.',
      'Hold the throttle fully open and turn the engine over until the gauge stops rising.',
      'Take every cylinder, write them all in the note, and enter the lowest.',
      'How far the cylinders lie apart is asked for by a look of its own, since one bound cannot judge it.',
    ],
    needs: ['compression gauge', 'plug spanner', 'second person'],
    minutes: 5,
    unit: 'kPa',
    units: ['kPa', 'psi', 'bar'],
    positions: [{ key: 'lowest', label: 'The lowest of all cylinders' }],
    judgedOn: 'each',
    conditions: ['hot'],
    plausible: { min: 0, max: 2500 },
    instruments: [compressionGauge],
    limit: null,
    cautions: ['hot-parts', 'fuel', 'moving-parts'],
    detects: 0.9,
    raises: [{ when: { on: 'below-limit' }, fault: 'compression-low' }],
    source: setByModel,
  },
  {
    key: 'compression-spread',
    sort: 'look',
    round: 'stand',
    title: 'Compression, cylinders alike',
    how: [
      'Hold the figures of all cylinders beside each other.',
      'As a start, more than a tenth between the highest and the lowest is a question.',
      'Put a spoon of oil in the low one and take it again: if it rises it is the rings, if not a valve or the gasket.',
    ],
    needs: ['compression gauge'],
    minutes: 2,
    conditions: ['hot'],
    cautions: ['hot-parts', 'fuel'],
    detects: 0.9,
    answers: [
      { key: 'alike', label: 'Alike within a tenth', tone: 'good' },
      { key: 'single', label: 'Only one cylinder', tone: 'note' },
      { key: 'apart', label: 'One lower than that', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'apart' }, fault: 'compression-low' }],
    source: {
      kind: 'starting value',
      says: "starting value, common practice: a tenth between cylinders; the model's sheet goes first",
    },
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
    gate: wearGate,
    source: wheelManual,
  }
}

function castRim(end: End): MeasuredCheck {
  return {
    ...rimRunOut,
    key: `rim-${end}-cast`,
    title: `${name[end]} rim, side to side`,
    appliesTo: { wheels: ['cast'], rims: ['alloy'] },
    how: [
      'Fix the gauge to the fork or swing arm with its tip on the side of the rim.',
      'Turn the wheel once by hand and note the full swing from least to most.',
      'A rim dented upwards by a kerb may run true to the side: look at its edge as well.',
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
    appliesTo: { wheels: ['spoked'], rims: ['alloy'] },
    how: [
      'Fix the gauge to the fork or swing arm with its tip on the side of the rim.',
      'Turn the wheel once by hand and note the full swing from least to most.',
      'Try the rim with a magnet: where it sticks the rim is steel, and the kind of the bike is put right first.',
    ],
    limit: { max: 2, unit: 'mm', source: rimManual },
    raises: [{ when: { on: 'outside' }, fault: `${end}-rim-bent` }],
  }
}

function steelRim(end: End): MeasuredCheck {
  return {
    ...rimRunOut,
    key: `rim-${end}-steel`,
    title: `${name[end]} steel rim, side to side`,
    appliesTo: { rims: ['steel'] },
    how: [
      'Fix the gauge to the fork or swing arm with its tip on the side of the rim.',
      'Turn the wheel once by hand and note the full swing from least to most.',
      'Try the rim with a magnet: where it does not stick the rim is alloy, and the kind of the bike is put right first.',
    ],
    limit: { max: 4, unit: 'mm', source: rimManual },
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
    gate: wearGate,
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
    gate: wearGate,
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
    gate: wearGate,
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

function discRunOut(end: End, appliesTo: MeasuredCheck['appliesTo']): MeasuredCheck {
  return {
    key: `disc-run-out-${end}`,
    sort: 'measured',
    round: 'stand',
    title: `${name[end]} disc, run-out`,
    how: [
      'Fix the gauge to the fork leg or swing arm with its tip near the outer edge of the swept ring.',
      'Turn the wheel once by hand and note the full swing; a floating disc is held still against its carrier.',
      'Measure clear of the worn lip and, on twin discs, enter the worse one.',
    ],
    needs: ['stand that lifts the wheel', 'dial gauge'],
    minutes: 2,
    appliesTo,
    unit: 'mm',
    units: ['mm', 'in'],
    positions: [{ key: 'ring', label: 'Swept ring, whole turn' }],
    judgedOn: 'highest',
    plausible: { min: 0, max: 5 },
    instruments: [dialGauge],
    limit: null,
    safety: true,
    cautions: ['lifting', 'moving-parts'],
    raises: [{ when: { on: 'above-limit' }, fault: `${end}-disc-warped` }],
    source: setByModel,
  }
}

function caliperFasteners(end: End, appliesTo: LookCheck['appliesTo']): LookCheck {
  return {
    key: `caliper-bolts-${end}`,
    sort: 'look',
    round: 'stand',
    title: `${name[end]} caliper and hose fasteners`,
    how: [
      'Try each caliper bolt with a spanner, in the direction that tightens: it should not move.',
      'Look for the pins, clips and lock plates that the model has, and for hose clips that hold.',
      "After work they are torqued to the maker's figure, never by feel.",
    ],
    needs: ['spanners', 'torch'],
    minutes: 0.5,
    appliesTo,
    safety: true,
    cautions: ['brake-work'],
    answers: [
      { key: 'tight', label: 'Tight, pins and clips there', tone: 'good' },
      { key: 'loose', label: 'Loose, or something missing', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'loose' }, fault: `${end}-caliper-loose` }],
    source: commonPractice,
  }
}

type ChainLength = Pick<MeasuredCheck, 'key' | 'title' | 'appliesTo'> & {
  pitch: string
  /** What holds for the other common pitch, told in the how-to. */
  other: string
  /** Of 20 pitches, in mm. */
  asNew: number
  max: number
}

/** 20 pitches, 3 % as the end; the line at which the shop sells is half of that. */
function chainLength({ pitch, other, asNew, max, ...check }: ChainLength): MeasuredCheck {
  return {
    ...check,
    sort: 'measured',
    round: 'stand',
    how: [
      'Pull the lower run tight by turning the wheel backwards by hand, and hold it so.',
      'Measure from the middle of one pin to the middle of the pin twenty pitches on: count the gaps, not the pins.',
      'Take three stretches of the chain, since it wears unevenly.',
      `The figures are for a pitch of ${pitch}, so measure one pitch first; for ${other}, to be entered for this bike.`,
    ],
    needs: ['steel rule', 'second person'],
    minutes: 2,
    unit: 'mm',
    units: ['mm', 'in'],
    positions: [
      { key: 'a', label: 'First stretch' },
      { key: 'b', label: 'A third on' },
      { key: 'c', label: 'Two thirds on' },
    ],
    judgedOn: 'highest',
    plausible: { min: 200, max: 400 },
    instruments: [steelRule],
    limit: { max, asNew, unit: 'mm', source: chainStandard },
    saleLine: { max: (asNew + max) / 2, unit: 'mm', source: startingValue },
    cautions: ['moving-parts'],
    raises: [
      { when: { on: 'above-limit' }, fault: 'chain-worn' },
      { when: { on: 'below-sale-line' }, fault: 'chain-half-worn' },
    ],
    source: chainStandard,
  }
}
