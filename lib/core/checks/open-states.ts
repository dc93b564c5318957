import type { LockKind } from './catalogue'

/**
 * What work leaves unsafe until it is put back, and what that keeps shut: an engine without oil or coolant must
 * not turn, fuel that is open must not meet a spark, a brake or an axle that is open must not roll.
 * Common practice, no published source.
 */
export const openStateKinds = {
  'oil-drained': {
    title: 'Oil drained',
    locks: ['engine', 'road'],
    tag: 'No oil in the engine. Do not start it.',
    putBack: 'Drain plug in and torqued, filter on, oil filled to the mark.',
  },
  'brake-open': {
    title: 'Brake open',
    locks: ['road'],
    tag: 'Brake open. Do not roll or ride it.',
    putBack: 'Brake closed, bled, lever and pedal firm.',
  },
  'axle-loose': {
    title: 'Axle loose',
    locks: ['road'],
    tag: 'Axle loose. Do not take it off the stand.',
    putBack: 'Axle, pinch bolts and split pin in and torqued.',
  },
  'fuel-off': {
    title: 'Fuel system open',
    locks: ['ignition', 'engine', 'road'],
    tag: 'Fuel open. No ignition, no flame, no spark.',
    putBack: 'Tank and lines on, clips tight, dry after ten minutes with the tap open.',
  },
  'coolant-out': {
    title: 'Coolant out',
    locks: ['engine', 'road'],
    tag: 'No coolant. Do not start it.',
    putBack: 'Hoses on, filled and bled of air, cap on.',
  },
} as const satisfies Record<
  string,
  { title: string; locks: readonly LockKind[]; tag: string; putBack: string }
>

export type OpenStateKind = keyof typeof openStateKinds

/** One open state on a bike that nobody has put back yet. */
export type OpenState = { id: string; kind: OpenStateKind }
