import type { Verb } from '../shop/who-may'

const mark = Symbol.for('stand-ledger.door')

/** Marks a function as made by a door for a verb, so that a test can tell it from one that is not. */
export function markDoor<F extends object>(made: F, verb: Verb): F {
  Object.defineProperty(made, mark, { value: verb })
  return made
}

/** The verb of the door that made a function; null for anything else. */
export function doorOf(made: unknown): Verb | null {
  return typeof made === 'function' ? ((made as { [mark]?: Verb })[mark] ?? null) : null
}
