import { type CareChance, mapChance } from './chance'

/** One of the possible cures of a fault, and the share of such faults that it turns out to be. */
export type Cause = { job: string; share: number }

/**
 * Narrows the causes of a fault, of which exactly one is true where the fault is there.
 * - Named causes keep their shares among themselves and the others go; one alone is then certain.
 * - Ruled out with detection d, a cause of share s keeps s(1 − d)/(1 − s·d) and every other s_k/(1 − s·d); the
 *   fault's own chance c becomes c(1 − s·d)/(1 − c·s·d). Both by Bayes' theorem; the order does not matter.
 * Where all causes are ruled out and the fault is there all the same, one of the looks was wrong: the shares
 * are then those one started from.
 */
export function narrowCauses(asked: {
  causes: readonly Cause[]
  chance: CareChance
  named: readonly string[]
  ruledOut: readonly { job: string; detects: number }[]
}): { causes: Cause[]; chance: CareChance } {
  const { causes } = asked
  const named = causes.filter(({ job }) => asked.named.includes(job))
  if (named.length > 0) return { causes: inProportion(named), chance: asked.chance }
  let chance = asked.chance
  let left = [...causes]
  for (const { job, detects } of asked.ruledOut) {
    const gone = (left.find((cause) => cause.job === job)?.share ?? 0) * detects
    if (gone === 0) continue
    chance = mapChance([chance], (c = 0) => (c * gone >= 1 ? c : (c * (1 - gone)) / (1 - c * gone)))
    left = left.map((cause) => (cause.job === job ? { job, share: cause.share * (1 - detects) } : cause))
    if (left.every(({ share }) => share === 0)) return { causes: [...causes], chance }
    left = inProportion(left)
  }
  return { causes: left.filter(({ share }) => share > 0), chance }
}

function inProportion(causes: readonly Cause[]): Cause[] {
  const total = causes.reduce((sum, { share }) => sum + share, 0)
  return causes.map(({ job, share }) => ({ job, share: share / total }))
}
