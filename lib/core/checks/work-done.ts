import type { Catalogue, Fault } from './catalogue'

/** A job that was finished on the bike, or is being done now, with the instant (ISO 8601, UTC) that counts. */
export type WorkDone = { job: string; at: string }

/**
 * For each check the instant of the last work on what it looks at: on a job that cures a fault which the check
 * raises or proves cured, or with a step that disturbs it. What was read before it says nothing of the part as it
 * is now: a wheel that was out for its tyre is torqued again, a brake that was open for its pads is felt again.
 */
export function lastWorkOn(
  catalogue: Pick<Catalogue, 'checks' | 'faults' | 'jobs' | 'operations'>,
  work: readonly WorkDone[],
): Map<string, string> {
  const last = new Map<string, string>()
  if (work.length === 0) return last
  const curedBy = new Map<string, Fault[]>()
  for (const fault of catalogue.faults) {
    for (const job of curesOf(fault)) curedBy.set(job, [...(curedBy.get(job) ?? []), fault])
  }
  for (const { job, at } of work) {
    const cured = new Set((curedBy.get(job) ?? []).map(({ key }) => key))
    const checks = [
      ...(curedBy.get(job) ?? []).flatMap(({ rechecks }) => rechecks),
      ...catalogue.checks
        .filter(({ raises }) => raises.some((raise) => 'fault' in raise && cured.has(raise.fault)))
        .map(({ key }) => key),
      ...disturbedBy(catalogue, job),
    ]
    for (const check of checks) {
      const before = last.get(check)
      if (before === undefined || Date.parse(before) < Date.parse(at)) last.set(check, at)
    }
  }
  return last
}

/** Checks that the steps of a job disturb, with the steps those need. */
function disturbedBy({ jobs, operations }: Pick<Catalogue, 'jobs' | 'operations'>, job: string): string[] {
  const steps = new Set(jobs.find(({ key }) => key === job)?.operations)
  // A set grows while it is walked, so each step is met once.
  for (const step of steps) {
    for (const needed of operations.find(({ key }) => key === step)?.needs ?? []) steps.add(needed)
  }
  return operations.flatMap(({ key, disturbs = [] }) => (steps.has(key) ? disturbs : []))
}

/** Every job that can cure a fault, whether as an alternative or as one of its causes. */
export function curesOf({ jobs, causes = [] }: Pick<Fault, 'jobs' | 'causes'>): string[] {
  return [...jobs, ...causes.map(({ job }) => job)]
}
