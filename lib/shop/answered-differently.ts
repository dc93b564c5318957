import { byTime, type Reading, standing } from '../core/checks/reading'
import { clockToleranceMs } from './device-clock'

/** A reading with the device it was taken on and the instant it came in. */
export type BroughtReading = { reading: Reading; deviceId: string | null; receivedAt: Date }

/** Ids of two answers to one check that were given on two devices without knowledge of one another. */
export type Disputed = { counts: string; other: string }

/**
 * Whether the answer that counts was given beside another that says otherwise, neither knowing of the other: on
 * another device, and either taken before that other one had come in or kept on its device for longer than a
 * network takes. Null where nothing is in dispute: the same was said, one of the two was corrected or taken back,
 * or somebody has looked again since. A dispute is put before a person and decided by nothing else.
 */
export function answeredDifferently(ofCheck: readonly BroughtReading[]): Disputed | null {
  const brought = new Map(ofCheck.map((one) => [one.reading.id, one]))
  const answers = standing(ofCheck.map(({ reading }) => reading))
    .filter(({ kind }) => kind === 'answer' || kind === 'code' || kind === 'number')
    .sort(byTime)
  const counts = answers.at(-1)
  if (!counts) return null
  const mine = brought.get(counts.id)!
  const other = answers
    .slice(0, -1)
    .filter(({ value }) => value !== counts.value)
    .map(({ id }) => brought.get(id)!)
    .filter((theirs) => theirs.deviceId !== mine.deviceId)
    .findLast((theirs) => !knewOf(mine, theirs))
  return other ? { counts: counts.id, other: other.reading.id } : null
}

/** `earlier` was taken first, so whoever took it knew nothing of `later`. */
function knewOf(later: BroughtReading, earlier: BroughtReading): boolean {
  const taken = Date.parse(later.reading.takenAt)
  const lay = later.receivedAt.getTime() - taken > clockToleranceMs
  return earlier.receivedAt.getTime() < taken && !lay
}
