/**
 * Parts that are not fitted second-hand: what has worn them cannot be seen from outside. Common practice, no source;
 * some countries forbid some of them by law, which is asked for on the spot.
 */
const neverUsed = [
  {
    word: /\b(tyre|tire)s?\b/i,
    why: 'A used tyre hides its age, its heat and what it has hit: a new one.',
  },
  {
    word: /\b(pad|shoe)s?\b/i,
    why: 'Used pads and shoes have bedded in on another disc or drum and may have drunk oil or fluid: new ones.',
  },
  {
    word: /\bhoses?\b/i,
    why: 'A used hose has aged from the inside, where nobody sees it: a new one.',
  },
] as const

/** Why a part of that name is not fitted used; null where it may be. */
export function whyNotUsed(part: string): string | null {
  return neverUsed.find(({ word }) => word.test(part))?.why ?? null
}
