import type { EstimateInput } from './estimate.input'

/**
 * The work that is known to be needed: what rests on a chance is left out, groups of causes whose symptom is
 * not certain among it. Null where nothing rests on a chance.
 */
export function seenOnly(input: EstimateInput): EstimateInput | null {
  const oneOf = input.oneOf.filter((group) => isCertainly(group.chance))
  const inGroups = new Set(input.oneOf.flatMap((group) => Object.keys(group.jobs)))
  const kept = new Set(oneOf.flatMap((group) => Object.keys(group.jobs)))
  const jobs = input.jobs.filter(({ key, chance }) =>
    inGroups.has(key) ? kept.has(key) : isCertainly(chance ?? 1),
  )
  return jobs.length === input.jobs.length ? null : { ...input, jobs, oneOf }
}

function isCertainly(chance: number | Readonly<Record<string, number>>): boolean {
  return typeof chance === 'number' ? chance === 1 : Object.values(chance).every((one) => one === 1)
}
