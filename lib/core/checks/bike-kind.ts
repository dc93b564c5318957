/** What sort of motorcycle it is: this alone decides which checks exist for it. */
export const bikeKindValues = {
  finalDrive: ['chain', 'shaft', 'belt'],
  cooling: ['air', 'oil', 'liquid'],
  fuelling: ['carburettors', 'injection'],
  frontBrake: ['twin-disc', 'single-disc', 'drum'],
  rearBrake: ['disc', 'drum'],
  abs: ['no', 'yes'],
  wheels: ['cast', 'spoked'],
  strokes: ['four', 'two'],
  centreStand: ['yes', 'no'],
  /** What the law of tread asks by. */
  class: ['motorcycle', 'light', 'moped'],
  rims: ['alloy', 'steel'],
  camDrive: ['chain', 'belt', 'gear'],
  starter: ['electric', 'kick'],
  immobiliser: ['no', 'yes'],
} as const

export type BikeKind = { [K in keyof typeof bikeKindValues]: (typeof bikeKindValues)[K][number] }

/** What is taken of a bike where nobody was asked: the kind of most bikes. */
export const usualKind = {
  class: 'motorcycle',
  rims: 'alloy',
  camDrive: 'chain',
  starter: 'electric',
  immobiliser: 'no',
} as const satisfies Partial<BikeKind>

/** A condition on the kind: every key named must have one of the values listed. */
export type KindCondition = { [K in keyof BikeKind]?: readonly BikeKind[K][] }

/** True where every part of the condition holds; no condition holds for every bike. */
export function fitsKind(kind: BikeKind, condition: KindCondition | undefined): boolean {
  if (!condition) return true
  return Object.entries(condition).every(([key, allowed]) =>
    (allowed as readonly string[]).includes(kind[key as keyof BikeKind]),
  )
}
