import type { Check } from '../checks/catalogue'
import { meanChance } from '../checks/chance'
import type { FaultState } from '../checks/faults'
import type { Judgement } from '../checks/judge'
import type { RoundLock } from '../checks/locks'
import type { DealInput } from '../deal/deal.input'
import { type RankedCheck, rankChecks } from '../deal/next-check'
import type { NextCheckInput } from '../deal/next-check.input'
import { estimateMeans } from '../work/estimate'
import type { EstimateInput } from '../work/estimate.input'
import type { JobLine } from '../work/propose-jobs'
import type { BikeToWorkOut } from './bike-result'

/** An open check of one bike, with what its answer is worth. Minor units, not rounded. */
export type NextCheck = {
  check: string
  title: string
  round: Check['round']
  minutes: number
  safety: boolean
  value: number
  valuePerMinute: number
  /**
   * Of the faults it may find, the one that weighs most, with the chance that it is there; where it tells which of
   * several causes is true, also the title of the job that cures that one, and the chance is its.
   */
  looksFor: { fault: string; title: string; cause: string | null; chance: number }
  chanceFound: number
  /** The most that may be paid under each answer on that fault; worked out when called. */
  ifClean: (() => number | null) | null
  ifFound: (() => number | null) | null
  /** What `calc next-check` was asked about it, the question that weighs most first. */
  asked: NextCheckInput['open']
}

/** Of so many candidates, by what they cost if found, the decision is worked out. */
const weighed = 16

/**
 * Which open check next on a bike, of those whose round is not shut: what its answer is worth a minute. A check that
 * may find several faults is worth the sum of what it says of each, as if each were told by itself; its prices are
 * those of the fault that weighs most. Of a symptom that is there a check may tell which cause it is. Only faults that
 * bring a job into the estimate move the price. Without a price to decide on, or a sale price, null; of one that is
 * paid already there is nothing to decide and nothing to talk off.
 */
export function nextChecksOf(
  bike: Pick<BikeToWorkOut, 'catalogue' | 'figures' | 'price'>,
  worked: {
    judgements: readonly Judgement[]
    faults: readonly FaultState[]
    locks: readonly RoundLock[]
    jobs: readonly JobLine[]
    dealInput: DealInput | null
  },
): NextCheck[] | null {
  const { dealInput } = worked
  if (!dealInput || dealInput.asking === undefined || bike.price?.basis === 'paid') return null
  const asked = questionsOf(bike, worked, dealInput.estimate)
  const { talkedOffShare } = bike.figures.bargaining
  const heaviest = [...asked].sort((a, b) => b.weight / b.minutes - a.weight / a.minutes).slice(0, weighed)
  const open = heaviest.map(asAsked)
  const ranked = rankChecks({ deal: dealInput, priceShare: talkedOffShare, open })
  return byCheck(heaviest, ranked)
}

/** One check asked about one fault, or about one cause of it. */
type Question = {
  key: string
  check: Check
  looksFor: NextCheck['looksFor']
  jobs: string[]
  detects: number
  minutes: number
  /** What it takes off on average where it is found, times the chance: to choose whom to weigh in full. */
  weight: number
}

function asAsked({ key, jobs, detects, minutes }: Question): NextCheckInput['open'][number] {
  return { key, jobs, detects, minutes, safety: false }
}

function questionsOf(
  { catalogue, figures }: Pick<BikeToWorkOut, 'catalogue' | 'figures'>,
  worked: {
    judgements: readonly Judgement[]
    faults: readonly FaultState[]
    locks: readonly RoundLock[]
    jobs: readonly JobLine[]
  },
  estimate: EstimateInput,
): Question[] {
  const openChecks = new Set(
    worked.judgements.filter(({ verdict }) => verdict === 'not-checked').map(({ check }) => check),
  )
  const shut = new Set(worked.locks.filter(({ open }) => !open).map(({ round }) => round))
  const faults = new Map(worked.faults.map((fault) => [fault.fault, fault]))
  const lines = new Map(worked.jobs.filter(({ state }) => state === 'in').map((line) => [line.key, line]))
  const now = estimateMeans(estimate).cost.mean
  const weightOf = (changed: EstimateInput) => now - estimateMeans(changed).cost.mean
  const aboutFault = (check: Check, key: string): Question[] => {
    const fault = faults.get(key)
    if (fault?.state !== 'open') return []
    const asked = spokenOf(fault, { lines, estimate })
    if (!asked) return []
    const chance = meanChance(fault.chance, figures.care)
    const ofJob = meanChance(asked.chance, figures.care)
    if (chance <= 0 || ofJob <= 0) return []
    // A job may be needed for other faults too: of those the check says nothing.
    const detects = (check.detects ?? 1) * Math.min(1, chance / ofJob)
    return [
      {
        key: `${check.key} ${key}`,
        check,
        looksFor: { fault: key, title: fault.title, cause: null, chance },
        jobs: asked.jobs,
        detects,
        minutes: minutesOf(check),
        weight: weightOf(withoutJobs(estimate, asked.jobs)) * detects,
      },
    ]
  }
  const aboutCause = (check: Check, { fault: key, cause }: { fault: string; cause: string }): Question[] => {
    const fault = faults.get(key)
    const group = estimate.oneOf.find(({ name }) => name === key)
    const share = group?.jobs[cause] ?? 0
    // What is one cause already needs no look, and of none there is nothing to be told.
    if (!fault || !group || share <= 0 || share >= 1) return []
    const chance = share * meanChance(group.chance as JobLine['chance'], figures.care)
    const detects = check.detects ?? 1
    const told = { title: fault.title, cause: lines.get(cause)?.title ?? cause }
    return [
      {
        key: `${check.key} ${key} ${cause}`,
        check,
        looksFor: { fault: key, ...told, chance },
        jobs: [cause],
        detects,
        minutes: minutesOf(check),
        // The cause alone may cost more or less than the three together: either way it moves the price.
        weight: Math.abs(weightOf(withCause(estimate, { name: key, cause }))) * detects * chance,
      },
    ]
  }
  return catalogue.checks.flatMap((check) => {
    if (!openChecks.has(check.key) || shut.has(check.round)) return []
    return [
      ...[...faultsRaised(check)].flatMap((key) => aboutFault(check, key)),
      ...causesTold(check).flatMap((told) => aboutCause(check, told)),
    ]
  })
}

function minutesOf({ minutes }: Check): number {
  return Math.max(0.5, minutes)
}

function faultsRaised({ raises }: Check): Set<string> {
  return new Set(raises.flatMap((raise) => ('fault' in raise ? [raise.fault] : [])))
}

/** Each cause once that an answer names or rules out. */
function causesTold({ raises }: Check): { fault: string; cause: string }[] {
  const told = new Map<string, { fault: string; cause: string }>()
  for (const raise of raises) {
    const cause = 'settles' in raise ? raise.settles : 'rulesOut' in raise ? raise.rulesOut : null
    if (cause) told.set(`${cause.fault} ${cause.cause}`, cause)
  }
  return [...told.values()]
}

/** The job that the fault brings in, or the group of its causes, as the estimate knows them. */
function spokenOf(
  fault: FaultState,
  { lines, estimate }: { lines: ReadonlyMap<string, JobLine>; estimate: EstimateInput },
): { jobs: string[]; chance: JobLine['chance'] } | null {
  const group = estimate.oneOf.find(({ name }) => name === fault.fault)
  if (group) return { jobs: Object.keys(group.jobs), chance: group.chance as JobLine['chance'] }
  const line = fault.jobs.map((job) => lines.get(job)).find((one) => one !== undefined)
  if (!line || line.oneOf !== null) return null
  return { jobs: [line.key], chance: line.chance }
}

/** The work as it is where these jobs are not needed. */
function withoutJobs(estimate: EstimateInput, jobs: readonly string[]): EstimateInput {
  return {
    ...estimate,
    jobs: estimate.jobs.map((job) =>
      jobs.includes(job.key) && job.chance !== undefined ? { ...job, chance: 0 } : job,
    ),
    oneOf: estimate.oneOf.map((group) =>
      Object.keys(group.jobs).some((job) => jobs.includes(job)) ? { ...group, chance: 0 } : group,
    ),
  }
}

/** The work as it is where this is the one cause that is true. */
function withCause(estimate: EstimateInput, told: { name: string; cause: string }): EstimateInput {
  return {
    ...estimate,
    oneOf: estimate.oneOf.map((group) =>
      group.name === told.name
        ? {
            ...group,
            jobs: Object.fromEntries(Object.keys(group.jobs).map((job) => [job, job === told.cause ? 1 : 0])),
          }
        : group,
    ),
  }
}

function byCheck(questions: readonly Question[], ranked: readonly RankedCheck[]): NextCheck[] {
  const worth = new Map(ranked.map((one) => [one.key, one]))
  const checks = new Map<string, { question: Question; worth: RankedCheck }[]>()
  for (const question of questions) {
    const told = checks.get(question.check.key) ?? []
    told.push({ question, worth: worth.get(question.key)! })
    checks.set(question.check.key, told)
  }
  return [...checks.values()]
    .map((told): NextCheck => {
      const byWeight = [...told].sort((a, b) => b.worth.value - a.worth.value)
      const { question, worth: heaviest } = byWeight[0]!
      const { check, looksFor } = question
      const value = told.reduce((sum, one) => sum + one.worth.value, 0)
      return {
        check: check.key,
        title: check.title,
        round: check.round,
        minutes: check.minutes,
        safety: check.safety ?? false,
        value,
        valuePerMinute: value / question.minutes,
        looksFor,
        chanceFound: 1 - told.reduce((none, one) => none * (1 - one.worth.chanceFound), 1),
        ifClean: heaviest.ifClean,
        ifFound: heaviest.ifFound,
        asked: byWeight.map((one) => asAsked(one.question)),
      }
    })
    .sort((a, b) => b.valuePerMinute - a.valuePerMinute || (a.check < b.check ? -1 : 1))
}
