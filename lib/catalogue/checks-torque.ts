import type { Check, MeasuredCheck } from '../core/checks/catalogue'
import { torqueWrench } from './instruments'
import { setByModel } from './sources'

/** The how-to of every fastener ends alike: figure first, wrench second, never again by feel. */
const withTheWrench = [
  "Find the figure in the model's sheet, and whether it holds for dry or oiled threads.",
  'Pull the wrench slowly and squarely until it clicks once, then stop; a second click is too much.',
] as const

type Torque = Pick<MeasuredCheck, 'key' | 'title' | 'standAt' | 'appliesTo' | 'fastener' | 'positions'> & {
  /** What to see to before the wrench goes on, in one sentence. */
  first: string
  /** What to see to afterwards, in one sentence. */
  last: string
  /** The fault that an outside torque raises. */
  fault: string
  cautions: readonly string[]
  max: number
}

/**
 * The fasteners that hold brakes, wheels and steering: what the wrench was set to when it clicked. Nothing is
 * judged until the model's figure is entered, and a bike is not ready before each is noted.
 */
export const torqueChecks = [
  torque({
    key: 'torque-front-axle',
    title: 'Torque: front axle',
    standAt: 'front',
    fastener: 'wheel',
    positions: [{ key: 'axle', label: 'Axle or its nut' }],
    first:
      'Wheel on the ground, fork pressed down a few times so that both legs sit square, pinch bolts slack.',
    last: 'Then the pinch bolts at their own figure, and a new split pin where there is one.',
    fault: 'axle-loose',
    cautions: ['lifting', 'law'],
    max: 250,
  }),
  torque({
    key: 'torque-rear-axle',
    title: 'Torque: rear axle',
    standAt: 'rear',
    fastener: 'wheel',
    positions: [{ key: 'axle', label: 'Axle nut' }],
    first: 'See that the wheel is in line and chain or belt are set, since the nut fixes both.',
    last: 'Fit a new split pin or lock plate where there is one.',
    fault: 'axle-loose',
    cautions: ['lifting', 'law'],
    max: 250,
  }),
  torque({
    key: 'torque-calipers-front-twin',
    title: 'Torque: front caliper bolts, both sides',
    standAt: 'front',
    appliesTo: { frontBrake: ['twin-disc'] },
    fastener: 'brake',
    positions: [
      { key: 'left-upper', label: 'Left, upper bolt' },
      { key: 'left-lower', label: 'Left, lower bolt' },
      { key: 'right-upper', label: 'Right, upper bolt' },
      { key: 'right-lower', label: 'Right, lower bolt' },
    ],
    first: 'Threads clean and dry, bolts renewed where the sheet says so.',
    last: 'Pump the lever until it is firm before the bike is moved.',
    fault: 'front-caliper-loose',
    cautions: ['brake-work', 'law'],
    max: 100,
  }),
  torque({
    key: 'torque-caliper-front-single',
    title: 'Torque: front caliper bolts',
    standAt: 'front',
    appliesTo: { frontBrake: ['single-disc'] },
    fastener: 'brake',
    positions: [
      { key: 'upper', label: 'Upper bolt' },
      { key: 'lower', label: 'Lower bolt' },
    ],
    first: 'Threads clean and dry, bolts renewed where the sheet says so.',
    last: 'Pump the lever until it is firm before the bike is moved.',
    fault: 'front-caliper-loose',
    cautions: ['brake-work', 'law'],
    max: 100,
  }),
  torque({
    key: 'torque-caliper-rear',
    title: 'Torque: rear caliper bolts',
    standAt: 'rear',
    appliesTo: { rearBrake: ['disc'] },
    fastener: 'brake',
    positions: [
      { key: 'front', label: 'Bolt towards the front' },
      { key: 'back', label: 'Bolt towards the back' },
    ],
    first: 'Threads clean and dry, bolts renewed where the sheet says so.',
    last: 'Pump the pedal until it is firm before the bike is moved.',
    fault: 'rear-caliper-loose',
    cautions: ['brake-work', 'law'],
    max: 100,
  }),
  torque({
    key: 'torque-brake-arm',
    title: 'Torque: arm of the rear drum',
    standAt: 'rear',
    appliesTo: { rearBrake: ['drum'] },
    fastener: 'brake',
    positions: [
      { key: 'plate', label: 'At the brake plate' },
      { key: 'frame', label: 'At the swing arm or frame' },
    ],
    first: 'Where a peg holds the plate and there is no arm, note the rear axle here and say so beside it.',
    last: 'Both ends get their split pin or locking nut.',
    fault: 'torque-arm-loose',
    cautions: ['brake-work', 'law'],
    max: 100,
  }),
  torque({
    key: 'torque-steering-stem',
    title: 'Torque: steering stem nut',
    standAt: 'front',
    fastener: 'steering',
    positions: [{ key: 'stem', label: 'Top nut of the stem' }],
    first: 'Front wheel off the floor, bearings set first so that the bars fall to each side by themselves.',
    last: 'Feel again for play and for a notch, since the top nut changes both.',
    fault: 'steering-loose',
    cautions: ['lifting', 'law'],
    max: 200,
  }),
] satisfies readonly Check[]

function torque({ first, last, fault, max, ...check }: Torque): MeasuredCheck {
  return {
    ...check,
    sort: 'measured',
    round: 'stand',
    how: [first, ...withTheWrench, last],
    needs: ['torque wrench'],
    minutes: 1,
    unit: 'N·m',
    units: ['N·m', 'lbf·ft'],
    judgedOn: 'each',
    plausible: { min: 1, max },
    instruments: [torqueWrench],
    limit: null,
    safety: true,
    raises: [{ when: { on: 'outside' }, fault }],
    source: setByModel,
  }
}
