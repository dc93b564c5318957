import { type BikeResult, workOut } from '../core/board/bike-result'
import type { FigureKey } from '../core/board/figures.input'
import type { LeftWithGain } from '../core/board/left'
import type { SharedOperation } from '../core/board/savings'
import { restingOnStartingValues } from '../core/board/starting-figures'
import { fitsKind } from '../core/checks/bike-kind'
import type { Call, Catalogue, Check, Part, Source } from '../core/checks/catalogue'
import { meanChance } from '../core/checks/chance'
import type { Decision } from '../core/checks/decision.input'
import type { Evidence } from '../core/checks/evidence'
import type { FaultState } from '../core/checks/faults'
import type { ThreePoint } from '../core/quantity/three-point'
import type { JobLine } from '../core/work/propose-jobs'
import type { Context } from './deed'
import { asDecision, type BikeWithFacts, bikeLimits, readBike, readShopFacts, toWorkOut } from './facts'

/** One reading a fault rests on, as it was taken. */
export type ReadingShown = { id: string; says: string; who: string; takenAt: string; note: string | null }

/** Why something is said: a check with its readings and limits, or a person's word. */
export type Because =
  | { from: 'check'; check: string; title: string; says: string; readings: ReadingShown[]; sources: Source[] }
  | { from: 'decision'; says: string; who: string; at: string }

export type FaultShown = {
  key: string
  title: string
  means: string
  call: Call
  derivedCall: Call
  state: FaultState['state']
  /** That it is there, over all ways a bike can have been cared for. */
  chance: number
  because: Because[]
  /** Titles of checks that could settle it and have no verdict. */
  openChecks: { key: string; title: string }[]
  /** What cures it: alternatives, or the causes of which one is true. */
  cures: { job: string; title: string; share: number | null; chosen: boolean }[]
  rechecks: string[]
  saleOffMinor: number
  source: Source | null
}

export type JobShown = {
  key: string
  title: string
  call: Call
  state: JobLine['state']
  chance: number
  /** What it adds to the estimate on average, shared labour counted once. Null where it is not in. */
  adds: { hoursMean: number; costMean: number } | null
  hours: ThreePoint | number
  parts: readonly Part[]
  outsideWork: ThreePoint | number
  operations: string[]
  cautions: { title: string; says: string }[]
  faults: { key: string; title: string; state: string; share: number | null }[]
  /** Where exactly one of several jobs is the cure: the title of their fault. */
  oneOf: string | null
  /** True where hours and prices are still those the catalogue began with. */
  startingValue: boolean
  changedBecause: string | null
  addedBecause: string | null
  droppedBecause: string | null
}

export type DecisionShown = {
  id: string
  version: number
  kind: Decision['kind']
  /** Title of the fault or job it is about. */
  about: string
  detail: string | null
  reason: string
  who: string
  at: string
}

type Ends = { mean: number; low: number; middle: number; high: number }

export type WorkShown = {
  id: string
  viewingNo: number
  stockNo: number | null
  stage: string
  make: string
  model: string
  year: number | null
  registration: string | null
  currency: string
  zone: string
  labourCostMinor: number
  /** There, severest first. */
  faults: FaultShown[]
  /** Not settled by any check, likeliest first. */
  open: FaultShown[]
  dropped: FaultShown[]
  jobs: { in: JobShown[]; left: JobShown[]; dropped: JobShown[] }
  left: LeftWithGain[]
  shared: readonly SharedOperation[]
  estimate: {
    hours: Ends
    cost: Ends
    costShape: BikeResult['costShape']
    savedMean: number
    method: 'exact' | 'simulation'
  }
  decisions: DecisionShown[]
  resting: readonly FigureKey[]
  /** What may be chosen from the catalogue on this kind of bike. */
  choices: { faults: Choice[]; jobs: Choice[] }
}

type Choice = { key: string; title: string }

/** The work on one bike with all that each line rests on, worked out afresh. */
export async function readWork({ store, now }: Context, viewingNo: string): Promise<WorkShown> {
  const { db } = store
  const bike = await readBike(db, viewingNo)
  const shop = await readShopFacts(db, now)
  const [ownLimits, people] = await Promise.all([
    bikeLimits(db, bike.id),
    db.person.findMany({ select: { id: true, name: true } }),
  ])
  const input = toWorkOut(bike, { shop, ownLimits, now })
  const result = workOut(input)
  const given: Given = {
    bike,
    result,
    catalogue: shop.catalogue,
    care: shop.figures.care,
    names: new Map(people.map(({ id, name }) => [id, name])),
  }
  const faults = result.faults.map((fault) => faultShown(fault, given))
  const jobs = result.jobs.map((job) => jobShown(job, given))
  const inState = (state: JobLine['state']) => jobs.filter((job) => job.state === state)
  const { id, stockNo, stage, make, model, year, registration } = bike
  return {
    ...{ id, viewingNo: bike.viewingNo, stockNo, stage, make, model, year, registration },
    currency: shop.currency,
    zone: shop.zone,
    labourCostMinor: shop.figures.labourCostMinor,
    faults: faults.filter(isThere).sort(bySeverity),
    open: faults
      .filter(({ state, chance }) => state === 'open' && chance > 0)
      .sort((a, b) => b.chance - a.chance),
    dropped: faults.filter(({ state }) => state === 'dropped'),
    jobs: { in: inState('in'), left: inState('left'), dropped: inState('dropped') },
    left: [...result.left],
    shared: result.savings.filter(({ hoursSavedMean }) => hoursSavedMean > 0.005),
    estimate: {
      hours: endsOf(result.estimate.hours),
      cost: endsOf(result.estimate.cost),
      costShape: result.costShape,
      savedMean: result.estimate.hoursSavedBySharing.mean,
      method: result.estimate.method,
    },
    decisions: bike.decisions.map((row) => decisionShown(row, { ...given, faults, jobs })),
    resting: restingOnStartingValues(shop.figures),
    choices: {
      faults: shop.catalogue.faults.filter((fault) => fitsKind(input.kind, fault.appliesTo)).map(choice),
      jobs: shop.catalogue.jobs.filter((job) => fitsKind(input.kind, job.appliesTo)).map(choice),
    },
  }
}

type Given = {
  bike: BikeWithFacts
  result: BikeResult
  catalogue: Catalogue
  care: Parameters<typeof meanChance>[1]
  names: ReadonlyMap<string, string>
}

const calls: readonly Call[] = ['stop', 'must', 'pays', 'leave']

function isThere({ state }: FaultShown): boolean {
  return state === 'found' || state === 'added'
}

function bySeverity(a: FaultShown, b: FaultShown): number {
  return calls.indexOf(a.call) - calls.indexOf(b.call)
}

function choice({ key, title }: Choice): Choice {
  return { key, title }
}

function endsOf({ mean, quantiles }: { mean: number; quantiles: Readonly<Record<string, number>> }): Ends {
  const [low, middle, high] = ['0.1', '0.5', '0.9'].map((level) => quantiles[level])
  if (low === undefined || middle === undefined || high === undefined)
    throw new Error('the estimate answers the levels 0.1, 0.5 and 0.9')
  return { mean, low, middle, high }
}

function titleIn(of: readonly Choice[], key: string): string | null {
  return of.find((one) => one.key === key)?.title ?? null
}

function faultShown(fault: FaultState, given: Given): FaultShown {
  const { catalogue, care, result } = given
  const titleOfJob = (job: string) =>
    titleIn(catalogue.jobs, job) ?? result.jobs.find(({ key }) => key === job)?.title ?? job
  const cures =
    fault.causes.length > 0 ? fault.causes : fault.jobs.map((job) => ({ job, share: null as number | null }))
  return {
    key: fault.fault,
    title: fault.title,
    means: fault.means,
    call: fault.call,
    derivedCall: fault.derivedCall,
    state: fault.state,
    chance: meanChance(fault.chance, care),
    because: fault.because.map((evidence) => becauseShown(evidence, given)),
    openChecks: fault.openChecks.map((key) => ({ key, title: titleIn(catalogue.checks, key) ?? key })),
    cures: cures.map(({ job, share }) => ({
      job,
      title: titleOfJob(job),
      share,
      chosen: fault.chosenJob?.job === job,
    })),
    rechecks: fault.rechecks.map((key) => titleIn(catalogue.checks, key) ?? key),
    saleOffMinor: fault.saleOffMinor,
    source: fault.source,
  }
}

function becauseShown(evidence: Evidence, given: Given): Because {
  const { bike, catalogue } = given
  if (evidence.from === 'decision') {
    const row = bike.decisions.find(({ id }) => id === evidence.decision)
    return {
      from: 'decision',
      says: evidence.says,
      who: whoOf(given, row?.personId),
      at: row?.at.toISOString() ?? '',
    }
  }
  const check = catalogue.checks.find(({ key }) => key === evidence.check)
  return {
    from: 'check',
    check: evidence.check,
    title: evidence.title,
    says: evidence.says,
    readings: evidence.readings.flatMap((id) => {
      const row = bike.readings.find((reading) => reading.id === id)
      if (!row) return []
      const { note, takenAt } = row
      return [
        {
          id,
          says: readingSays(row, check),
          who: whoOf(given, row.personId),
          takenAt: takenAt.toISOString(),
          note,
        },
      ]
    }),
    sources: [...evidence.limitSources],
  }
}

type ReadingRow = BikeWithFacts['readings'][number]

/** A reading as people say it, with its place on the part. */
function readingSays({ kind, value, unit, position }: ReadingRow, check: Check | undefined): string {
  if (kind === 'answer' && check?.sort === 'look')
    return check.answers.find(({ key }) => key === value)?.label ?? value
  const place =
    check?.sort === 'measured' ? check.positions.find(({ key }) => key === position)?.label : undefined
  const unitWord = check?.sort === 'number' ? check.unitWord : (unit ?? '')
  return [place && `${place}:`, value, unitWord].filter(Boolean).join(' ')
}

function whoOf({ names }: Given, personId: string | undefined): string {
  return names.get(personId ?? '') ?? 'somebody'
}

function jobShown(job: JobLine, { catalogue, care, result }: Given): JobShown {
  const line = result.estimate.lines.find(({ key }) => key === job.key)
  const known = catalogue.jobs.find(({ key }) => key === job.key)
  return {
    key: job.key,
    title: job.title,
    call: job.call,
    state: job.state,
    chance: line?.chance ?? meanChance(job.chance, care),
    adds: line && job.state === 'in' ? { hoursMean: line.hoursMean, costMean: line.costMean } : null,
    hours: job.hours,
    parts: job.parts,
    outsideWork: job.outsideWork,
    operations: job.operations.map((key) => titleIn(catalogue.operations, key) ?? key),
    cautions: catalogue.cautions
      .filter(({ key }) => job.cautions.includes(key))
      .map(({ title, says }) => ({ title, says })),
    faults: job.faults.map(({ fault, title, state, share }) => ({ key: fault, title, state, share })),
    oneOf:
      job.oneOf === null
        ? null
        : (result.faults.find(({ fault }) => fault === job.oneOf)?.title ?? job.oneOf),
    startingValue: known?.source.kind === 'starting value' && job.changed === null && !job.own,
    changedBecause: job.changed?.reason ?? null,
    addedBecause: job.addedBy?.reason ?? null,
    droppedBecause: job.droppedBy?.reason ?? null,
  }
}

function decisionShown(
  row: BikeWithFacts['decisions'][number],
  given: Given & { faults: readonly FaultShown[]; jobs: readonly JobShown[] },
): DecisionShown {
  const decision = asDecision(row)
  const { id, version, at, personId, reason } = row
  const about =
    [...given.faults, ...given.jobs].find(({ key }) => key === decision.key)?.title ??
    titleIn(given.catalogue.jobs, decision.key) ??
    titleIn(given.catalogue.faults, decision.key) ??
    decision.key
  return {
    id,
    version,
    kind: decision.kind,
    about,
    detail: detailOf(decision, given.catalogue),
    reason,
    who: whoOf(given, personId),
    at: at.toISOString(),
  }
}

/** What was set, where the kind alone does not say it. */
function detailOf(decision: Decision, { jobs }: Catalogue): string | null {
  if (decision.kind === 'change-call') return decision.call
  return decision.kind === 'choose-job' ? (titleIn(jobs, decision.job) ?? decision.job) : null
}
