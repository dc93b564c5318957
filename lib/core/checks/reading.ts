import type { Unit } from '../quantity/units'
import type { Condition } from './catalogue'

export const readingKinds = ['measured', 'answer', 'code', 'number', 'skipped'] as const
export type ReadingKind = (typeof readingKinds)[number]

/** What a value was read with. Resolution and standard uncertainty are in `unit`. */
export type ReadingInstrument = {
  name: string
  resolution: number
  unit: Unit
  standardUncertainty: number
}

/** One value as taken. Never changed: a correction is a further reading that names the one it supersedes. */
export type Reading = {
  id: string
  /** Key of the check. */
  check: string
  /** Key of the position on the part, null where the check has none. */
  position: string | null
  kind: ReadingKind
  /** As typed: a number, the key of an answer, a code; for `skipped` why it was not checked. */
  value: string
  /** Of a measured value; null: the check's own unit. */
  unit: Unit | null
  conditions: readonly Condition[]
  instrument: ReadingInstrument | null
  note?: string | null
  /** Instant, ISO 8601 in UTC. */
  takenAt: string
  supersedes: string | null
}
