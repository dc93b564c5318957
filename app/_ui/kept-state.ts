/*
 * What the worker that keeps pages tells the pages, and what they ask of it. Both sides know this and nothing else
 * of one another.
 */

export type KeptShown = { address: string; title: string; keptAt: number }

export type KeptState = {
  /** Whose pages are kept; null where none are. */
  person: string | null
  build: string | null
  /** When a round of keeping that came to its end began: whatever the server had by then is on the pages. */
  keptAt: number | null
  /** When the server was last heard. */
  heardAt: number | null
  pages: readonly KeptShown[]
}

export type AskedOfKeeper =
  /** Somebody is signed in here: pages of anybody else are dropped. */
  | { ask: 'here'; person: string }
  /** Keep the pages anew. */
  | { ask: 'keep' }
  /** Nobody is signed in any more: every page is dropped. */
  | { ask: 'forget' }
  | { ask: 'state' }
