import type { StoryKind } from '../../../../../lib/shop/story-words'

/** How the sorts of entries are called on screen. */
export const kindWords = {
  readings: 'Readings and limits',
  work: 'Work and rides',
  decisions: 'Decisions',
  money: 'Money',
  papers: 'Papers and facts',
  photos: 'Photos',
} as const satisfies Record<StoryKind, string>
