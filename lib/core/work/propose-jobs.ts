import type { BikeKind } from '../checks/bike-kind'
import { type Call, type Catalogue, calls, type Part } from '../checks/catalogue'
import { anyOf, type CareChance, type CareChances, impossible, mapChance, meanChance } from '../checks/chance'
import type { Decision, DecisionOf } from '../checks/decision.input'
import { decisionOn, madeBefore } from '../checks/decisions'
import type { Evidence } from '../checks/evidence'
import { type FaultState, severest } from '../checks/faults'
import type { WorkDone } from '../checks/work-done'
import type { ThreePoint } from '../quantity/three-point'
import {
  type Claim,
  claimsOn,
  isDropped,
  type KnownJob,
  knownJobs,
  type Live,
  liveFaults,
} from './propose-claims'

/** A fault that asks for the job. */
export type JobFault = {
  fault: string
  title: string
  state: 'found' | 'added' | 'open'
  call: Call
  chance: CareChance
  /** What the job does about it: a diagnosis finds which of the causes it is. */
  does: 'cures' | 'finds-cause'
  /** Where the fault has several causes: the share of this job among them. */
  share: number | null
  because: readonly Evidence[]
}

/** One job on one bike, with why it is there and where a person changed it. */
export type JobLine = {
  key: string
  title: string
  /** The severest call of its faults; `pays` for a job that was added without a fault. */
  call: Call
  /**
   * `in`: counted in the estimate; `left`: possible and not counted; `done`: finished, nothing more to spend;
   * `dropped`: a person took it out.
   */
  state: 'in' | 'left' | 'done' | 'dropped'
  /** The chance that it is needed. */
  chance: CareChance
  faults: readonly JobFault[]
  operations: readonly string[]
  hours: ThreePoint | number
  parts: readonly Part[]
  outsideWork: ThreePoint | number
  /** False where stuck fasteners do not slow it. */
  fasteners: boolean
  cautions: readonly string[]
  /** Key of the fault among whose causes it stands, null otherwise. */
  oneOf: string | null
  /** Not in the catalogue: a person described it. */
  own: boolean
  addedBy: DecisionOf<'add-job'> | null
  changed: DecisionOf<'change-job'> | null
  droppedBy: DecisionOf<'drop-job'> | null
}

/** A symptom of which exactly one job is the cure. Shares sum to 1. */
export type JobGroup = {
  name: string
  chance: CareChance
  jobs: Readonly<Record<string, number>>
}

/** A fault that no job in the estimate cures, and what it is expected to take off the sale price. */
export type LeftFault = {
  fault: string
  title: string
  call: Call
  state: 'found' | 'added' | 'open'
  chance: CareChance
  /** Chance (mean over how the bike was cared for) times what it takes off. Not rounded. */
  expectedSaleOffMinor: number
  /** Chance times the days it stands longer for sale. Not rounded. */
  expectedSlowerDays: number
  /** The job that would cure it, or null. */
  job: string | null
  because: readonly Evidence[]
}

export type Proposal = {
  jobs: readonly JobLine[]
  groups: readonly JobGroup[]
  left: readonly LeftFault[]
}

/**
 * The jobs that the faults of a bike ask for.
 * - A fault that stops or must be put right brings its first job in, with the chance that the fault is there.
 *   One that pays or may be left stays out until a person adds its job.
 * - Where another of a fault's alternatives is certain to be done, that one cures it and nothing is added.
 * - A job that several faults ask for is done once, with the chance that any of them is there:
 *   1 − Π(1 − chance), in each care state.
 * - The causes of a fault are a group of which one job happens. A job of a group that something else asks for
 *   too leaves the group, which keeps the rest of the chance: every chance stays right, only that the two
 *   exclude each other is lost.
 * - What no job cures is left, and is expected to take its part off the sale price.
 * Lines: what is in, then what could be done, then what was dropped; severest call first, then as the catalogue.
 */
export function proposeJobs(asked: {
  catalogue: Pick<Catalogue, 'jobs'>
  kind: BikeKind
  faults: readonly FaultState[]
  decisions: readonly Decision[]
  /** Chances of the care states; sum 1. */
  care: CareChances
  /** Work that was finished on the bike: what it cost is spent and not counted again. */
  finished?: readonly WorkDone[]
}): Proposal {
  const { finished = [] } = asked
  const known = knownJobs(asked)
  const live = liveFaults(asked.faults)
  const decisions = asked.decisions.filter((one) => !isCarriedOut(one, finished))
  const claims = claimsOn({ known, live, decisions })
  const groups = groupsOf(live, claims, decisions)
  const done = new Set(finished.map(({ job }) => job))
  const jobs = linesOf({ known, live, claims, groups, done, decisions })
  return { jobs, groups, left: leftOf({ known, live, claims, jobs, care: asked.care }) }
}

/** A job that a person took in or out was done since: it is spent, and only a fault asks for it again. */
function isCarriedOut(decision: Decision, finished: readonly WorkDone[]): boolean {
  const { kind, key } = decision
  if (kind !== 'add-job' && kind !== 'drop-job') return false
  return finished.some(({ job, at }) => job === key && madeBefore(decision, at))
}

/** Causes that nothing else asks for; a single one that remains needs no group. */
function groupsOf(
  live: readonly Live[],
  claims: ReadonlyMap<string, readonly Claim[]>,
  decisions: readonly Decision[],
): JobGroup[] {
  return live.flatMap((fault) => {
    const alone = fault.causes.filter(({ job }) => {
      const on = claims.get(job) ?? []
      const isAdded = decisionOn(decisions, 'add-job', job) !== null
      return on.length === 1 && on[0]!.fault === fault && !isAdded && !isDropped(decisions, job)
    })
    if (alone.length < 2) return []
    const total = alone.reduce((sum, { share }) => sum + share, 0)
    const jobs = Object.fromEntries(alone.map(({ job, share }) => [job, share / total]))
    return [{ name: fault.fault, chance: mapChance([fault.chance], (c = 0) => c * total), jobs }]
  })
}

type Drafts = {
  known: ReadonlyMap<string, KnownJob>
  live: readonly Live[]
  claims: ReadonlyMap<string, readonly Claim[]>
  groups: readonly JobGroup[]
  /** Jobs that were finished. */
  done: ReadonlySet<string>
  decisions: readonly Decision[]
}

function linesOf(drafts: Drafts): JobLine[] {
  const { known, claims, decisions, done } = drafts
  const offers = offersOf(drafts)
  const order = [...known.keys()]
  return order
    .flatMap((key) => {
      const asking = claims.get(key) ?? []
      const added = decisionOn(decisions, 'add-job', key)
      const wanted = asking.length > 0 || added
      if (!wanted && !offers.has(key) && !done.has(key)) return []
      return [lineOf(drafts, known.get(key)!, wanted ? asking : (offers.get(key) ?? []))]
    })
    .sort(
      (a, b) =>
        states.indexOf(a.state) - states.indexOf(b.state) ||
        calls.indexOf(a.call) - calls.indexOf(b.call) ||
        order.indexOf(a.key) - order.indexOf(b.key),
    )
}

const states: readonly JobLine['state'][] = ['in', 'left', 'done', 'dropped']

/** What would cure the faults that are there and ask for nothing: the first job of each. */
function offersOf({ known, live, claims }: Drafts): Map<string, Claim[]> {
  const asking = new Set([...claims.values()].flat().map(({ fault }) => fault))
  const offers = new Map<string, Claim[]>()
  for (const fault of live) {
    if (fault.state === 'open' || asking.has(fault) || fault.awaitsRecheck) continue
    const job = firstCure(known, fault)
    if (job)
      offers.set(job, [
        ...(offers.get(job) ?? []),
        { fault, does: 'cures', share: null, chance: fault.chance },
      ])
  }
  return offers
}

function lineOf({ claims, groups, done, decisions }: Drafts, job: KnownJob, of: readonly Claim[]): JobLine {
  const { key } = job
  const added = decisionOn(decisions, 'add-job', key)
  const changed = decisionOn(decisions, 'change-job', key)
  const dropped = isDropped(decisions, key)
  const asked = added !== null || (claims.get(key) ?? []).length > 0
  const isDone = done.has(key) && !asked
  return {
    key,
    title: job.title,
    call: of.length > 0 ? severest(of.map(({ fault }) => fault.call)) : 'pays',
    state: isDone ? 'done' : dropped ? 'dropped' : asked ? 'in' : 'left',
    chance: added ? 1 : anyOf(of.map(({ chance }) => chance)),
    faults: of.map(asJobFault),
    operations: job.operations,
    hours: changed?.hours ?? job.hours,
    parts: changed?.parts ?? job.parts,
    outsideWork: changed?.outsideWork ?? job.outsideWork ?? 0,
    fasteners: job.fasteners ?? true,
    cautions: job.cautions ?? [],
    oneOf: groups.find((group) => Object.hasOwn(group.jobs, key))?.name ?? null,
    own: job.own,
    addedBy: added,
    changed,
    droppedBy: dropped ? decisionOn(decisions, 'drop-job', key) : null,
  }
}

function asJobFault({ fault: of, does, share }: Claim): JobFault {
  const { fault, title, state, call, chance, because } = of
  return { fault, title, state, call, chance, does, share, because }
}

function leftOf(asked: {
  known: ReadonlyMap<string, KnownJob>
  live: readonly Live[]
  claims: ReadonlyMap<string, readonly Claim[]>
  jobs: readonly JobLine[]
  care: CareChances
}): LeftFault[] {
  const done = new Map(asked.jobs.filter(({ state }) => state === 'in').map((line) => [line.key, line]))
  return asked.live.flatMap((fault) => {
    if (fault.awaitsRecheck) return []
    const chance = chanceUncured(fault, asked.claims, done)
    if (impossible(chance)) return []
    const { fault: key, title, call, state, saleOffMinor, slowerDays, because } = fault
    const mean = meanChance(chance, asked.care)
    const expectedSaleOffMinor = mean * saleOffMinor
    const expectedSlowerDays = mean * slowerDays
    const job = firstCure(asked.known, fault)
    return [
      { fault: key, title, call, state, chance, expectedSaleOffMinor, expectedSlowerDays, job, because },
    ]
  })
}

/** That the fault is there and no job that is in cures it. */
function chanceUncured(
  fault: Live,
  claims: ReadonlyMap<string, readonly Claim[]>,
  done: ReadonlyMap<string, JobLine>,
): CareChance {
  if (fault.causes.length > 0) {
    const cured = fault.causes
      .filter(({ job }) => done.has(job) && (claims.get(job) ?? []).some((claim) => claim.fault === fault))
      .reduce((sum, { share }) => sum + share, 0)
    // Shares sum to 1 within rounding: a rest below that is none.
    return cured > 1 - 1e-9 ? 0 : mapChance([fault.chance], (c = 0) => c * (1 - cured))
  }
  const asks = fault.jobs.some(
    (job) => done.has(job) && (claims.get(job) ?? []).some((claim) => claim.fault === fault),
  )
  if (asks) return 0
  const inPassing = fault.jobs.flatMap((job) => done.get(job)?.chance ?? [])
  return mapChance([fault.chance, anyOf(inPassing)], (there = 0, cured = 0) => there * (1 - cured))
}

function firstCure(known: ReadonlyMap<string, KnownJob>, fault: Live): string | null {
  const [likeliest] = [...fault.causes].sort((a, b) => b.share - a.share)
  return likeliest?.job ?? fault.jobs.find((job) => known.has(job)) ?? null
}
