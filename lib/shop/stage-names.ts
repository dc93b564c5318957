export const stages = [
  'viewing',
  'offered',
  'bought',
  'on the bench',
  'waiting for a decision',
  'ready',
  'reserved',
  'sold',
  'passed up',
] as const
export type Stage = (typeof stages)[number]

/** Still to be put right, and nothing is asked of anybody first: what the bench plan is made of. */
export const benchStages = ['bought', 'on the bench'] as const satisfies readonly Stage[]

/** Stages of a bike that is the shop's own and not yet sold. */
export const ownedStages = ['bought', 'on the bench', 'waiting for a decision', 'ready', 'reserved'] as const
