import type { Catalogue, Fault } from '../core/checks/catalogue'
import { faultNamed, namings } from '../core/checks/catalogue-problems'

/**
 * The catalogue without the names of what is no longer there. No edit can leave such a gap, but an upgrade of
 * the starting catalogue may take away what a shop's own entry names, and bikes must still be worked out then;
 * the page of the catalogue tells it until somebody puts it right.
 */
export function withoutGaps(catalogue: Catalogue): Catalogue {
  const { checks, faults, jobs, operations, cautions, careSigns } = catalogue
  const there = {
    check: keysOf(checks),
    fault: keysOf(faults),
    job: keysOf(jobs),
    operation: keysOf(operations),
    caution: keysOf(cautions),
  }
  if (namings(catalogue).every(({ names, to }) => there[names].has(to))) return catalogue
  const only = (names: keyof typeof there, keys: readonly string[] | undefined) =>
    keys?.filter((key) => there[names].has(key))
  return {
    checks: checks.map((check) => ({
      ...check,
      raises: check.raises.filter((raise) => there.fault.has(faultNamed(raise))),
      ...(check.cautions && { cautions: only('caution', check.cautions) }),
    })),
    faults: faults.map((fault) => withoutGoneJobs(fault, there)),
    jobs: jobs.map((job) => ({
      ...job,
      operations: only('operation', job.operations) ?? [],
      ...(job.cautions && { cautions: only('caution', job.cautions) }),
    })),
    operations: operations.map((operation) => ({
      ...operation,
      ...(operation.needs && { needs: only('operation', operation.needs) }),
      ...(operation.disturbs && { disturbs: only('check', operation.disturbs) }),
    })),
    cautions,
    // A sign whose check is gone is passed over where signs are read.
    careSigns,
  }
}

/** Of several causes the shares of those that are left grow in proportion; a single one is certain. */
function withoutGoneJobs(fault: Fault, there: { check: Set<string>; job: Set<string> }): Fault {
  const { causes: allCauses, diagnosis, ...rest } = fault
  const left = (allCauses ?? []).filter(({ job, share }) => there.job.has(job) && share > 0)
  const total = left.reduce((sum, { share }) => sum + share, 0)
  const sound = {
    ...rest,
    jobs: [...fault.jobs, ...(left.length === 1 ? left.map(({ job }) => job) : [])].filter((job) =>
      there.job.has(job),
    ),
    rechecks: fault.rechecks.filter((check) => there.check.has(check)),
  }
  if (left.length < 2) return sound
  return {
    ...sound,
    causes:
      left.length === allCauses?.length
        ? left
        : left.map(({ job, share }) => ({ job, share: share / total })),
    ...(diagnosis !== undefined && there.job.has(diagnosis) && { diagnosis }),
  }
}

function keysOf(entries: readonly { key: string }[]): Set<string> {
  return new Set(entries.map(({ key }) => key))
}
