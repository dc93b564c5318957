import type { Decision, DecisionKind, DecisionOf } from './decision.input'

/** The decision of a kind that stands on a fault or job: the latest, ids sorting by time; null without one. */
export function decisionOn<K extends DecisionKind>(
  decisions: readonly Decision[],
  kind: K,
  key: string,
): DecisionOf<K> | null {
  return decisionsOf(decisions, kind).find((decision) => decision.key === key) ?? null
}

/** One decision of a kind for each key, the latest of each; in the order they were made. */
export function decisionsOf<K extends DecisionKind>(
  decisions: readonly Decision[],
  kind: K,
): DecisionOf<K>[] {
  const latest = new Map<string, DecisionOf<K>>()
  for (const decision of decisions) {
    if (!isOf(decision, kind)) continue
    const known = latest.get(decision.key)
    if (!known || decision.id > known.id) latest.set(decision.key, decision)
  }
  return [...latest.values()].sort((a, b) => (a.id < b.id ? -1 : 1))
}

/**
 * Whether a decision was made before an instant (ISO 8601, UTC). A UUIDv7 begins with its own in milliseconds (RFC
 * 9562, section 5.7); of any other id nothing is known, and it counts as made since.
 */
export function madeBefore({ id }: Pick<Decision, 'id'>, instant: string): boolean {
  const [, high, low] = /^([0-9a-f]{8})-([0-9a-f]{4})-7/.exec(id) ?? []
  return high !== undefined && low !== undefined && Number.parseInt(high + low, 16) < Date.parse(instant)
}

function isOf<K extends DecisionKind>(decision: Decision, kind: K): decision is DecisionOf<K> {
  return decision.kind === kind
}
