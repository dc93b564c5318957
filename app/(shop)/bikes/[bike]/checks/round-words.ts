import type { Condition, Round, ShortPlace, StandPlace } from '../../../../../lib/core/checks/catalogue'
import { sellerRefused } from '../../../../../lib/core/checks/hidden'

export const roundWords: Record<Round, { name: string; when: string }> = {
  cold: { name: 'Cold', when: 'engine off, nothing switched on' },
  stand: { name: 'Stand', when: 'wheels free to turn' },
  running: { name: 'Running', when: 'engine on, standing still' },
  road: { name: 'Road', when: 'ridden' },
}

/** Where one stands in the short round, as one would say it to somebody who comes along. */
export const placeWords: Record<ShortPlace, string> = {
  papers: 'With the papers',
  cylinders: 'Hand on the cylinders',
  left: 'Kneel left',
  right: 'Kneel right',
  tank: 'Tank cap and oil filler',
  saddle: 'Sit on it',
  engine: 'The seller starts it',
  lamps: 'The lamps',
  meter: 'Meter on the battery',
}

/** Where one stands for a check of the full sheet. */
export const standWords: Record<StandPlace, string> = {
  first: 'Before anything else',
  battery: 'Battery and wiring',
  front: 'Front wheel and fork',
  left: 'Left side',
  rear: 'Rear wheel',
  right: 'Right side',
  saddle: 'Bars and saddle',
  tank: 'Tank',
  engine: 'Engine',
  'step-back': 'A step back',
  papers: 'Papers and dates',
}

/** What a person says to be so before taking a reading. */
export const conditionSaid: Record<Condition, string> = {
  cold: 'Engine cold',
  hot: 'Engine hot',
  upright: 'Bike upright',
  level: 'On level ground',
  rested: 'Rested for some hours',
  off: 'Everything switched off',
}

/** Of a pair that excludes each other, saying the one takes the other back. */
export const excludes: Partial<Record<Condition, Condition>> = { cold: 'hot', hot: 'cold' }

/** Why a reading no longer counts, ready to tap. */
export const takeBackReasons = ['A slip of the finger', 'Taken at the wrong place', 'Not this bike'] as const

export const sellerDidIt = 'Seen, the seller did it'

/** Why a check was not done, ready to tap. */
export const skipReasons = [
  'No tool for it here',
  'Part cannot be reached',
  'Engine was already warm',
  sellerRefused,
  'Not safe to do now',
  'No time this visit',
] as const
