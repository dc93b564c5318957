import { workOut } from '../core/board/bike-result'
import type { Doing } from '../core/board/left'
import { fitsKind } from '../core/checks/bike-kind'
import {
  type Call,
  type Catalogue,
  type Caution,
  type Check,
  calls,
  type Job,
  type Round,
  rounds,
  type Source,
} from '../core/checks/catalogue'
import { meanChance } from '../core/checks/chance'
import type { DecisionKind } from '../core/checks/decision.input'
import type { Evidence } from '../core/checks/evidence'
import type { FaultState } from '../core/checks/faults'
import { chanceSays } from '../core/checks/hidden'
import type { VerdictWord } from '../core/checks/judge'
import type { EnteredLimit } from '../core/checks/limits'
import { type Shape, shapeOf } from '../core/quantity/shape'
import { type Amount, workSpreads } from '../core/work/estimate'
import type { JobLine } from '../core/work/propose-jobs'
import { type AskedShown, askedFor } from './asked-outside'
import { type BikeHead, headOf } from './bike-head'
import type { Context } from './deed'
import { type BikeWithFacts, readBike, readShopAndLimits } from './facts'
import { limitsShown } from './limit-words'
import { readNoted } from './noted-prices'
import { progressOf } from './round-progress'
import { type SavingShown, savingsShown } from './savings-shown'
import { type Spent, spentShown } from './spent'
import { asDecision, limitsFor, toWorkOut } from './to-work-out'

export type ReadingShown = {
  id: string
  /** As typed, or the words of the answer. */
  value: string
  unit: string | null
  position: string | null
  who: string
  takenAt: string
  instrument: string | null
  note: string | null
}

export type DecisionShown = {
  id: string
  version: number
  kind: DecisionKind
  key: string
  /** Title of the fault or job it is about. */
  about: string
  /** What was chosen, where the kind does not say it: a call, or the title of a job. */
  chosen: string | null
  reason: string
  who: string
  at: string
}

/** Why a fault is said to be there, or not: a check opens to its readings and its limit. */
export type WhyShown = {
  check: string
  title: string
  round: Round
  verdict: VerdictWord
  says: string
  readings: readonly ReadingShown[]
  limits: readonly { at: readonly string[]; words: string | null; saleWords: string | null }[]
  sources: readonly Source[]
}

type Choice = { key: string; title: string; share: number | null }

export type FaultShown = {
  key: string
  title: string
  means: string
  call: Call
  derivedCall: Call
  /** A person described it, or added it from the list. */
  added: boolean
  own: boolean
  why: readonly WhyShown[]
  decisions: readonly DecisionShown[]
  /** Jobs to choose from, the one in force first; for causes with their shares. */
  alternatives: readonly Choice[]
  /** The alternatives are causes of which one is true. */
  oneOf: boolean
  /** Titles of the checks that prove the cure. */
  rechecks: readonly string[]
}

/** A fault that no check has settled: its chance, and what it is expected to cost. Minor units, not rounded. */
export type UnseenFault = {
  key: string
  title: string
  call: Call
  chance: number
  /** How the chance came about, in a line. */
  chanceSays: string
  expectedMinor: number
}

export type WorkJob = Pick<JobLine, 'key' | 'title' | 'call' | 'hours' | 'parts' | 'outsideWork' | 'own'> & {
  chance: number
  certain: boolean
  faults: readonly { title: string; chance: number; does: 'cures' | 'finds-cause'; share: number | null }[]
  /** Titles of the steps it shares with other jobs. */
  operations: readonly string[]
  /** What it adds to the estimate on average; minor units, not rounded. */
  adds: { hoursMean: number; costMean: number } | null
  added: boolean
  changed: boolean
  /** Its figures on every other bike: what is changed here is told by what differs. */
  usual: Pick<WorkJob, 'hours' | 'parts' | 'outsideWork'>
  /** Prices that suppliers and others outside gave: in the estimate they take the place of those above. */
  asked: readonly AskedShown[]
  /** Its hours or prices are still those the tool began with. */
  resting: boolean
  cautions: readonly Pick<Caution, 'title' | 'says'>[]
  decisions: readonly DecisionShown[]
}

export type LeftShown = {
  key: string
  title: string
  call: Call
  /** Minor units, not rounded. */
  saleOffMinor: number
  doing: Doing | null
}

export type AmountShown = {
  low: number
  middle: number
  high: number
  mean: number
  shape: Shape['points'] | null
}

/** The work of one bike, for those who may see money. */
export type Work = BikeHead & {
  currency: string
  zone: string
  cost: AmountShown
  hours: AmountShown
  /** Severest first. */
  faults: readonly FaultShown[]
  /** Dearest first. */
  unseen: readonly UnseenFault[]
  dropped: readonly FaultShown[]
  jobs: readonly WorkJob[]
  droppedJobs: readonly WorkJob[]
  /** Finished, nothing more to spend. One that waits is proven by nobody yet. */
  doneJobs: readonly { key: string; title: string; waitsForRecheck: boolean }[]
  spent: Spent
  left: readonly LeftShown[]
  savings: readonly SavingShown[]
  /** Decisions about what is not on this page now. */
  idle: readonly DecisionShown[]
  /** The cold round, while checks in it wait to be done. */
  coldRound: { started: boolean } | null
  /** What may be added by hand. */
  addable: { faults: readonly Choice[]; jobs: readonly Choice[]; allJobs: readonly Choice[] }
}

/** Faults, jobs and estimate of one bike, each line with what it rests on; refused where there is no such bike. */
export async function readWork({ store, now }: Context, viewingNo: string): Promise<Work> {
  const { db } = store
  const bike = await readBike(db, viewingNo)
  const { shop, ownLimits } = await readShopAndLimits(db, { bikeId: bike.id, now })
  const people = await db.person.findMany({ select: { id: true, name: true } })
  const noted = await readNoted(db, bike)
  const suppliers = await db.supplier.findMany({ select: { id: true, name: true } })
  const input = toWorkOut(bike, { shop, ownLimits, noted, now })
  const result = workOut(input)
  const { catalogue } = shop
  const care = result.care.after
  const { kind } = input
  const names = new Map(people.map(({ id, name }) => [id, name]))
  const told: Told = {
    bike,
    catalogue,
    limits: limitsFor(bike, { shop, ownLimits, kind }),
    who: (id) => names.get(id) ?? 'somebody',
    titles: titlesOf(result, catalogue),
  }
  const decisions = bike.decisions.map((row) => decisionShown(row, told))
  const fault = (state: FaultState) => faultShown(state, { told, decisions, kind })
  const there = result.faults.filter(({ state }) => state === 'found' || state === 'added')
  const faults = [...there].sort(bySeverity).map(fault)
  const dropped = result.faults.filter(({ state }) => state === 'dropped').map(fault)
  const lines = new Map(result.estimate.lines.map((line) => [line.key, line]))
  const job = (line: JobLine): WorkJob => {
    const counted = line.state === 'in' ? lines.get(line.key) : undefined
    const chance = counted?.chance ?? meanChance(line.chance, care)
    const supplier = (id: string) => suppliers.find((one) => one.id === id)?.name ?? 'a supplier'
    const asked = askedFor(bike, { job: line.key, supplier })
    return jobShown(line, { catalogue, chance, adds: counted ?? null, decisions, care, asked })
  }
  const jobs = result.jobs.filter(({ state }) => state === 'in').map(job)
  const droppedJobs = result.jobs.filter(({ state }) => state === 'dropped').map(job)
  const shown = [...faults, ...dropped, ...jobs, ...droppedJobs].flatMap((one) => one.decisions)
  return {
    ...headOf(bike),
    currency: shop.currency,
    zone: shop.zone,
    cost: amountShown(result.estimate.cost, result.costShape),
    hours: amountShown(result.estimate.hours, hoursShape(result.estimateInput)),
    faults,
    unseen: unseenOf(result, care),
    dropped,
    jobs,
    droppedJobs,
    doneJobs: result.jobs
      .filter(({ state }) => state === 'done')
      .map(({ key, title }) => ({
        key,
        title,
        waitsForRecheck: there.some(({ awaitsRecheck }) => awaitsRecheck?.job === key),
      })),
    spent: spentShown(bike, { now, name: told.who }),
    left: result.left
      .filter(({ state }) => state !== 'open')
      .map(({ fault: key, title, call, expectedSaleOffMinor, doing }) => ({
        key,
        title,
        call,
        saleOffMinor: expectedSaleOffMinor,
        doing,
      })),
    savings: savingsShown(result),
    idle: decisions.filter((decision) => !shown.includes(decision)),
    coldRound: coldRound(result.judgements, catalogue),
    addable: {
      faults: result.faults
        .filter(({ state }) => state === 'open' || state === 'clear')
        .map(({ fault: key, title }) => ({ key, title, share: null }))
        .sort(byTitle),
      jobs: fittingJobs(catalogue, kind).filter(
        ({ key }) =>
          !jobs.some((one) => one.key === key && one.certain) && !droppedJobs.some((one) => one.key === key),
      ),
      allJobs: fittingJobs(catalogue, kind),
    },
  }
}

type Result = ReturnType<typeof workOut>
type Care = Parameters<typeof meanChance>[1]

/** What turns keys and rows into words. */
type Told = {
  bike: BikeWithFacts
  catalogue: Catalogue
  limits: readonly EnteredLimit[]
  who: (personId: string) => string
  titles: ReadonlyMap<string, string>
}

function titlesOf({ faults, jobs }: Result, catalogue: Catalogue): Map<string, string> {
  return new Map([
    ...[...catalogue.faults, ...catalogue.jobs, ...jobs].map(({ key, title }) => [key, title] as const),
    ...faults.map(({ fault, title }) => [fault, title] as const),
  ])
}

function bySeverity(a: FaultState, b: FaultState): number {
  return calls.indexOf(a.call) - calls.indexOf(b.call)
}

function byTitle(a: Choice, b: Choice): number {
  return a.title < b.title ? -1 : 1
}

function decisionShown(row: BikeWithFacts['decisions'][number], { who, titles }: Told): DecisionShown {
  const decision = asDecision(row)
  const { id, kind, key, reason } = decision
  const described = 'own' in decision ? decision.own?.title : undefined
  return {
    id,
    version: row.version,
    kind,
    key,
    about: described ?? titles.get(key) ?? key,
    chosen: chosenIn(decision, titles),
    reason,
    who: who(row.personId),
    at: row.at.toISOString(),
  }
}

function chosenIn(decision: ReturnType<typeof asDecision>, titles: Told['titles']): string | null {
  if (decision.kind === 'change-call') return decision.call
  return decision.kind === 'choose-job' ? (titles.get(decision.job) ?? decision.job) : null
}

const kindsOnFaults: readonly DecisionKind[] = ['add-fault', 'drop-fault', 'change-call', 'choose-job']

function faultShown(
  state: FaultState,
  given: { told: Told; decisions: readonly DecisionShown[]; kind: Parameters<typeof fitsKind>[0] },
): FaultShown {
  const { told, decisions, kind } = given
  const { fault: key, title, means, call, derivedCall, because } = state
  const known = told.catalogue.faults.find((one) => one.key === key)
  const mine = decisions.filter((one) => one.key === key && kindsOnFaults.includes(one.kind))
  return {
    key,
    title,
    means,
    call,
    derivedCall,
    added: mine.some((one) => one.kind === 'add-fault'),
    own: known === undefined,
    why: because.flatMap((evidence) => whyShown(evidence, told)),
    decisions: mine,
    alternatives: alternativesOf(state, { told, kind }),
    oneOf: (known?.causes?.length ?? 0) > 0,
    rechecks: told.catalogue.checks
      .filter((check) => state.rechecks.includes(check.key) && fitsKind(kind, check.appliesTo))
      .map((check) => check.title),
  }
}

/** Every job that may cure it, also those that a choice or a check has set aside; the one in force first. */
function alternativesOf(
  { fault, jobs, causes }: FaultState,
  { told, kind }: { told: Told; kind: Parameters<typeof fitsKind>[0] },
): Choice[] {
  const { catalogue } = told
  const known = catalogue.faults.find((one) => one.key === fault)
  const fitting = fittingJobs(catalogue, kind)
  const shares = new Map(causes.map(({ job, share }) => [job, share]))
  const first = causes.length === 1 ? causes.map(({ job }) => job) : jobs.slice(0, 1)
  const listed = known
    ? [...(known.causes?.map(({ job }) => job) ?? []), ...known.jobs]
    : fitting.map(({ key }) => key)
  const keys = [...new Set([...first, ...listed])]
  return keys.flatMap((key) => {
    const choice = fitting.find((one) => one.key === key)
    return choice ? [{ ...choice, share: shares.get(key) ?? null }] : []
  })
}

function fittingJobs(catalogue: Catalogue, kind: Parameters<typeof fitsKind>[0]): Choice[] {
  return catalogue.jobs
    .filter(({ appliesTo }) => fitsKind(kind, appliesTo))
    .map(({ key, title }) => ({ key, title, share: null }))
    .sort(byTitle)
}

function whyShown(evidence: Evidence, told: Told): WhyShown[] {
  if (evidence.from === 'decision') return []
  const { check: key, title, verdict, says } = evidence
  const check = told.catalogue.checks.find((one) => one.key === key)
  if (!check) return []
  const limits = check.sort === 'measured' ? limitsShown(check, told.limits) : []
  return [
    {
      check: key,
      title,
      round: check.round,
      verdict,
      says,
      readings: told.bike.readings
        .filter(({ id }) => evidence.readings.includes(id))
        .map((row) => readingShown(row, { check, who: told.who })),
      limits: limits.map(({ at, words, saleWords }) => ({ at, words, saleWords })),
      sources: sourcesOf({ check, evidence, limits }),
    },
  ]
}

/** Of the figures it was held against; where a check has no figures, of the rule itself. */
function sourcesOf(asked: {
  check: Check
  evidence: Extract<Evidence, { from: 'check' }>
  limits: ReturnType<typeof limitsShown>
}): Source[] {
  const { check, evidence, limits } = asked
  const figures = [...limits.flatMap(({ sources }) => sources), ...evidence.limitSources]
  const all = figures.length > 0 ? figures : [check.source]
  return all.filter((source, place) => all.findIndex(({ says }) => says === source.says) === place)
}

function readingShown(
  row: BikeWithFacts['readings'][number],
  { check, who }: { check: Check; who: Told['who'] },
): ReadingShown {
  const instrument = row.instrument ? (JSON.parse(row.instrument) as { name: string }).name : null
  const positions = check.sort === 'measured' ? check.positions : []
  return {
    id: row.id,
    ...valueShown(row, check),
    position: positions.find(({ key }) => key === row.position)?.label ?? row.position,
    who: who(row.personId),
    takenAt: row.takenAt.toISOString(),
    instrument,
    note: row.note,
  }
}

function valueShown(
  { value, unit }: { value: string; unit: string | null },
  check: Check,
): Pick<ReadingShown, 'value' | 'unit'> {
  switch (check.sort) {
    case 'look':
      return { value: check.answers.find(({ key }) => key === value)?.label ?? value, unit: null }
    case 'number':
      return { value, unit: check.unitWord }
    case 'measured':
      return { value, unit: unit ?? check.unit }
    case 'code':
      return { value, unit: null }
  }
}

const kindsOnJobs: readonly DecisionKind[] = ['add-job', 'drop-job', 'change-job']

function jobShown(
  line: JobLine,
  given: {
    catalogue: Catalogue
    chance: number
    adds: WorkJob['adds']
    decisions: readonly DecisionShown[]
    care: Care
    asked: WorkJob['asked']
  },
): WorkJob {
  const { catalogue, chance, adds, decisions, care, asked } = given
  const known = catalogue.jobs.find(({ key }) => key === line.key)
  const { key, title, call, hours, parts, outsideWork, own } = line
  return {
    key,
    title,
    call,
    hours,
    parts,
    outsideWork,
    own,
    chance,
    certain: chance >= 1 - 1e-9,
    faults: line.faults.map((fault) => ({
      title: fault.title,
      chance: meanChance(fault.chance, care),
      does: fault.does,
      share: fault.share,
    })),
    operations: line.operations.map(
      (operation) => catalogue.operations.find((one) => one.key === operation)?.title ?? operation,
    ),
    adds: adds && { hoursMean: adds.hoursMean, costMean: adds.costMean },
    added: line.addedBy !== null,
    changed: line.changed !== null,
    usual: usualOf(line, known),
    asked,
    cautions: catalogue.cautions
      .filter((caution) => line.cautions.includes(caution.key))
      .map((caution) => ({ title: caution.title, says: caution.says })),
    resting: known?.source.kind === 'starting value' && !isAllChanged(line),
    decisions: decisions.filter((one) => one.key === key && kindsOnJobs.includes(one.kind)),
  }
}

function usualOf(line: JobLine, known: Job | undefined): WorkJob['usual'] {
  const of = known ?? line.addedBy?.own
  return { hours: of?.hours ?? 0, parts: of?.parts ?? [], outsideWork: of?.outsideWork ?? 0 }
}

function isAllChanged({ changed }: JobLine): boolean {
  return changed?.hours !== undefined && changed.parts !== undefined
}

/**
 * What each fault that nobody has seen adds on average: its part of the jobs that only such faults ask for, by
 * their chances, and what it takes off the sale price where no job is in for it. A job that a fault already
 * there brings in is not made dearer by a further one.
 */
function unseenOf({ faults, jobs, estimate, left }: Result, care: Care): UnseenFault[] {
  const lines = new Map(estimate.lines.map((line) => [line.key, line]))
  const costs = new Map<string, number>()
  const add = (fault: string, minor: number) => costs.set(fault, (costs.get(fault) ?? 0) + minor)
  for (const job of jobs.filter(({ state }) => state === 'in')) {
    if (job.addedBy || job.faults.some(({ state }) => state !== 'open')) continue
    const asking = job.faults.map(({ fault, chance, share }) => ({
      fault,
      weight: meanChance(chance, care) * (share ?? 1),
    }))
    const total = asking.reduce((sum, { weight }) => sum + weight, 0)
    for (const { fault, weight } of asking) {
      add(fault, ((lines.get(job.key)?.costMean ?? 0) * weight) / total)
    }
  }
  for (const { fault, state, expectedSaleOffMinor } of left) {
    if (state === 'open') add(fault, expectedSaleOffMinor)
  }
  return faults
    .filter((fault) => fault.state === 'open' && meanChance(fault.chance, care) > 0)
    .map((fault) => ({
      key: fault.fault,
      title: fault.title,
      call: fault.call,
      chance: meanChance(fault.chance, care),
      chanceSays: chanceSays(fault.chanceBecause),
      expectedMinor: costs.get(fault.fault) ?? 0,
    }))
    .sort((a, b) => b.expectedMinor - a.expectedMinor)
}

function amountShown({ mean, quantiles }: Amount, shape: Shape['points'] | null): AmountShown {
  const at = (level: string) => quantiles[level] ?? mean
  return { low: at('0.1'), middle: at('0.5'), high: at('0.9'), mean, shape }
}

function hoursShape(input: Result['estimateInput']): Shape['points'] | null {
  const { points } = shapeOf(workSpreads(input).hours())
  return points.length > 0 ? points : null
}

function coldRound(judgements: Result['judgements'], { checks }: Catalogue): Work['coldRound'] {
  const cold = new Set(checks.filter(({ round }) => round === rounds[0]).map(({ key }) => key))
  const { open, applicable } = progressOf(judgements.filter(({ check }) => cold.has(check)))
  return open > 0 ? { started: open < applicable } : null
}
