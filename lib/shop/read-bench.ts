import { openedBy } from '../catalogue/opened-by'
import { fitsKind } from '../core/checks/bike-kind'
import type { Call, Catalogue, Caution, Job } from '../core/checks/catalogue'
import { meanChance } from '../core/checks/chance'
import type { FaultState } from '../core/checks/faults'
import { judgeBike } from '../core/checks/judge-bike'
import { type OpenStateKind, openStateKinds } from '../core/checks/open-states'
import { readSince } from '../core/checks/reading'
import { curesOf } from '../core/checks/work-done'
import { highOf, lowOf, type Uncertain } from '../core/quantity/three-point'
import { type JobLine, proposeJobs } from '../core/work/propose-jobs'
import type { Prisma } from '../data/generated/client'
import { type BikeHead, headOf } from './bike-head'
import type { Context, Who } from './deed'
import { noSuchBike, readShopAndLimits, viewingNumber } from './facts'
import { dayIn } from './instants'
import { bikeToJudge } from './read-judged'
import { type QuestionShown, questionShown, questionsShown } from './read-questions'
import { minutesOf, type RunState } from './spells'
import { toJudge } from './to-work-out'

/*
 * What is done on one bike, for everybody at the bench: there is no money in it, and none is read.
 */

export type OpenStateShown = {
  id: string
  version: number
  kind: OpenStateKind
  title: string
  tag: string
  putBack: string
  note: string
  /** Title of the job that left it open; null where it was said without one. */
  job: string | null
  who: string
  at: string
}

type RunBase = {
  id: string
  version: number
  job: string
  title: string
  /** By the clock or as corrected; what still runs counts until now. */
  minutes: number
  /** What the bench noted that went in. */
  used: readonly PartUsed[]
}

export type PartUsed = { id: string; version: number; what: string; number: string; qty: number; who: string }

export type StepShown = { title: string; sharedWith: readonly string[] }

/** What whoever does a job needs to know of it. */
export type WorkShown = {
  steps: readonly StepShown[]
  parts: readonly { name: string; qty: number }[]
  cautions: readonly Pick<Caution, 'title' | 'says'>[]
}

export type RunUnderWay = RunBase &
  WorkShown & {
    state: Extract<RunState, 'started' | 'paused'>
    budgetHours: number | null
    stopOn: string | null
    overBudget: boolean
    /** Whose clock runs. */
    atIt: readonly string[]
    mine: boolean
    /** Since when a clock runs that was started on an earlier day: most likely it was forgotten. */
    runsSince: string | null
    /** Kinds of what it left open and nobody has put back. */
    open: readonly OpenStateKind[]
  }

export type CheckToDo = { check: string; title: string }

export type RunEnded = RunBase & {
  who: string
  at: string
  note: string
  outcome:
    | { is: 'waits'; rechecks: readonly CheckToDo[] }
    /** A check since the work still finds the fault. */
    | { is: 'still-there'; faults: readonly string[] }
    | { is: 'proven' }
    /** It cures no fault that was found. */
    | { is: 'done' }
    | { is: 'given-up' }
    /** A manager's answer ended it. */
    | { is: 'stopped' }
  /** Kinds of what it left open and nobody has put back. */
  open: readonly OpenStateKind[]
}

export type JobToDo = WorkShown & {
  key: string
  title: string
  call: Call
  /** False where only a chance asks for it so far. */
  certain: boolean
  /** With its steps, each counted in full, as if it were done alone. Hours. */
  hours: { low: number; high: number }
  faults: readonly string[]
  /** Kinds of open states that its steps lead to. */
  opens: readonly OpenStateKind[]
  /** When a manager's answer ended it last time, where nobody has begun it again since. */
  stoppedAt: string | null
}

export type Bench = BikeHead & {
  zone: string
  today: string
  /** Why it came back from ready, where it did and is on the bench since. */
  back: { reason: string; who: string; at: string } | null
  openStates: readonly OpenStateShown[]
  underWay: readonly RunUnderWay[]
  toDo: readonly JobToDo[]
  mayBeNeeded: readonly JobToDo[]
  /** Latest first. */
  ended: readonly RunEnded[]
  /** Latest first; at most one waits for its answer. */
  questions: readonly QuestionShown[]
  photos: number
  /** The standing caution of all work, said once and not with every job. */
  law: Pick<Caution, 'title' | 'says'> | null
}

const bikeAtBench = {
  ...bikeToJudge,
  jobRuns: { orderBy: { startedAt: 'asc' }, include: { spells: true } },
  questions: questionsShown,
  // Without amounts, and only what was noted where nobody sees any.
  spends: {
    where: { withdrawnAt: null, atBench: true },
    orderBy: { at: 'asc' },
    omit: { amountMinor: true },
  },
  _count: { select: { photos: { where: { withdrawnAt: null } } } },
} satisfies Prisma.BikeSelect

type BikeAtBench = Prisma.BikeGetPayload<{ select: typeof bikeAtBench }>
type Run = BikeAtBench['jobRuns'][number]

type Told = {
  bike: BikeAtBench
  now: Date
  zone: string
  reader: string
  name: (personId: string | null) => string
}

/** What is done on a bike, by its viewing number; refused where there is no such bike. */
export async function readBench(
  { store, now, who }: Context & { who: Who },
  viewingNo: string,
): Promise<Bench> {
  const { db } = store
  const number = viewingNumber(viewingNo)
  const bike = number && (await db.bike.findUnique({ where: { viewingNo: number }, select: bikeAtBench }))
  if (!bike) return noSuchBike()
  const [{ shop, ownLimits }, people, lastPut] = await Promise.all([
    readShopAndLimits(db, { bikeId: bike.id, now }),
    db.person.findMany({ select: { id: true, name: true } }),
    db.event.findFirst({ where: { bikeId: bike.id, verb: 'bike:put-on-bench' }, orderBy: { seq: 'desc' } }),
  ])
  const names = new Map(people.map(({ id, name }) => [id, name]))
  const name = (id: string | null) => names.get(id ?? '') ?? 'somebody'
  const told: Told = { bike, now, zone: shop.zone, reader: who.personId, name }
  const input = toJudge(bike, { shop, ownLimits, now })
  const { catalogue, kind, decisions, work, readings } = input
  const { faults } = judgeBike(input)
  const { care } = shop.figures
  const { jobs } = proposeJobs({ catalogue, kind, faults, decisions, care, finished: work.finished })
  const underWay = bike.jobRuns.filter(isUnderWay)
  const wanted = jobs.filter(({ state }) => state === 'in')
  const isBegun = ({ key }: JobLine) => underWay.some(({ job }) => job === key)
  const isSure = ({ chance }: JobLine) => meanChance(chance, care) >= 1 - 1e-9
  // A step is shared with what is done anyway, not with everything that might be.
  const others = wanted.filter((line) => isSure(line) || isBegun(line))
  const toDo = wanted
    .filter((line) => !isBegun(line))
    .map((line) => {
      const last = bike.jobRuns.filter(({ job }) => job === line.key).at(-1)
      const stoppedAt = last?.state === 'stopped' ? (last.endedAt?.toISOString() ?? null) : null
      return jobToDo(line, { catalogue, others, certain: isSure(line), stoppedAt })
    })
  const lastRead = readSince(readings)
  return {
    ...headOf(bike),
    zone: shop.zone,
    today: shop.today,
    back: bike.stage === 'ready' ? null : cameBack(lastPut, name),
    openStates: bike.openStates.map((state) => openStateShown(state, told)),
    law: catalogue.cautions.filter(({ key }) => key === standing).map(cautionShown)[0] ?? null,
    underWay: underWay.map((run) => {
      // A job is begun at times whose fault nobody found.
      const work = [...jobs, ...catalogue.jobs].find(({ key }) => key === run.job)
      return runUnderWay(run, { told, work: workOf(work ?? nothingKnown(run), { catalogue, others }) })
    }),
    toDo: toDo.filter(({ certain }) => certain),
    mayBeNeeded: toDo.filter(({ certain }) => !certain),
    ended: bike.jobRuns
      .filter((run) => !isUnderWay(run))
      .map((run) => ({
        ...runBase(run, told),
        who: name(run.endedBy),
        at: (run.endedAt ?? run.startedAt).toISOString(),
        note: run.note,
        outcome:
          notDone(run) ??
          outcomeOf(run, {
            catalogue,
            faults,
            readAfter: (check) => isAfter(lastRead.get(check), run.endedAt),
            fits: (check) => fitsKind(kind, check.appliesTo),
          }),
        open: openOf(run, bike),
      }))
      .reverse(),
    questions: bike.questions.map((question) => questionShown(question, { name, runs: bike.jobRuns })),
    photos: bike._count.photos,
  }
}

/** The event that put it on the bench last has a reason where it came back from ready. */
function cameBack(put: Prisma.EventGetPayload<object> | null, name: Told['name']): Bench['back'] {
  const { reason } = put ? (JSON.parse(put.body) as { reason?: string }) : {}
  return put && reason ? { reason, who: name(put.personId), at: put.at.toISOString() } : null
}

function isUnderWay({ state }: Pick<Run, 'state'>): boolean {
  return state === 'started' || state === 'paused'
}

function isAfter(instant: string | undefined, than: Date | null): boolean {
  return instant !== undefined && than !== null && Date.parse(instant) > than.getTime()
}

function openStateShown(state: BikeAtBench['openStates'][number], { bike, name }: Told): OpenStateShown {
  const { id, version, note, runId, personId, at } = state
  const kind = state.kind as OpenStateKind
  const { title, tag, putBack } = openStateKinds[kind]
  const job = bike.jobRuns.find((run) => run.id === runId)?.title ?? null
  return { id, version, kind, title, tag, putBack, note, job, who: name(personId), at: at.toISOString() }
}

function openOf(run: Run, { openStates }: BikeAtBench): OpenStateKind[] {
  return openStates.filter(({ runId }) => runId === run.id).map(({ kind }) => kind as OpenStateKind)
}

function runBase({ id, version, job, title, spells }: Run, { now, bike, name }: Told): RunBase {
  const minutes = spells.reduce((sum, spell) => sum + minutesOf(spell, now), 0)
  const used = bike.spends
    .filter(({ runId }) => runId === id)
    .map((part): PartUsed => {
      const { id: partId, version: seen, what, number, qty, personId } = part
      return { id: partId, version: seen, what, number, qty, who: name(personId) }
    })
  return { id, version, job, title, minutes, used }
}

function runUnderWay(run: Run, { told, work }: { told: Told; work: WorkShown }): RunUnderWay {
  const { now, zone, reader, name, bike } = told
  const base = runBase(run, told)
  const running = run.spells.filter(({ endedAt }) => endedAt === null)
  const forgotten = running.find(({ startedAt }) => dayIn(zone, startedAt) < dayIn(zone, now))
  const { budgetHours, stopOn } = run
  return {
    ...base,
    ...work,
    state: run.state === 'paused' ? 'paused' : 'started',
    budgetHours,
    stopOn,
    overBudget: budgetHours !== null && base.minutes > budgetHours * 60,
    atIt: running.map(({ personId }) => name(personId)),
    mine: running.some(({ personId }) => personId === reader),
    runsSince: forgotten?.startedAt.toISOString() ?? null,
    open: openOf(run, bike),
  }
}

function notDone({ state }: Run): RunEnded['outcome'] | null {
  if (state === 'given up') return { is: 'given-up' }
  return state === 'stopped' ? { is: 'stopped' } : null
}

/** What the checks say since a job was done: the recheck closes the fault, the work alone does not. */
function outcomeOf(
  { job }: Run,
  given: {
    catalogue: Catalogue
    faults: readonly FaultState[]
    readAfter: (check: string) => boolean
    fits: (check: Catalogue['checks'][number]) => boolean
  },
): RunEnded['outcome'] {
  const { catalogue, faults, readAfter, fits } = given
  const cured = new Set(
    catalogue.faults.filter((fault) => curesOf(fault).includes(job)).map(({ key }) => key),
  )
  const touched = faults.filter(({ fault }) => cured.has(fault))
  const there = touched.filter(({ state }) => state === 'found' || state === 'added')
  const still = there.filter(({ awaitsRecheck }) => awaitsRecheck === null)
  if (still.length > 0) return { is: 'still-there', faults: still.map(({ title }) => title) }
  if (there.length === 0) return { is: touched.some(({ state }) => state === 'clear') ? 'proven' : 'done' }
  const named = new Set(there.flatMap(({ rechecks }) => rechecks))
  const proving = catalogue.checks.filter((check) => named.has(check.key) && fits(check))
  const missing = proving.filter(({ key }) => !readAfter(key))
  // All read and none of them clear, such as one too close to call: any of them may be done again.
  const rechecks = missing.length > 0 ? missing : proving
  return { is: 'waits', rechecks: rechecks.map(({ key, title }) => ({ check: key, title })) }
}

function jobToDo(
  line: JobLine,
  given: { catalogue: Catalogue; others: readonly JobLine[]; certain: boolean; stoppedAt: string | null },
): JobToDo {
  const { catalogue, others, certain, stoppedAt } = given
  const steps = stepsOf(line.operations, catalogue)
  const all: Uncertain[] = [line.hours, ...steps.map(({ hours }) => hours)]
  const sum = (of: (hours: Uncertain) => number) => all.reduce<number>((total, one) => total + of(one), 0)
  const { key, title, call } = line
  return {
    key,
    title,
    call,
    certain,
    hours: { low: sum(lowOf), high: sum(highOf) },
    ...workOf(line, { catalogue, others }),
    faults: line.faults.filter(({ state }) => !certain || state !== 'open').map((fault) => fault.title),
    opens: [...new Set(steps.flatMap((step) => openedBy[step.key] ?? []))],
    stoppedAt,
  }
}

type Work = Pick<Job, 'key' | 'operations' | 'parts' | 'cautions'>

function workOf(
  { key, operations, parts, cautions = [] }: Work,
  { catalogue, others }: { catalogue: Catalogue; others: readonly JobLine[] },
): WorkShown {
  return {
    steps: stepsOf(operations, catalogue).map((step) => ({
      title: step.title,
      sharedWith: others
        .filter((other) => other.key !== key && stepsOf(other.operations, catalogue).includes(step))
        .map((other) => other.title),
    })),
    parts: parts.map(({ name, qty }) => ({ name, qty })),
    cautions: catalogue.cautions
      .filter((caution) => caution.key !== standing && cautions.includes(caution.key))
      .map(cautionShown),
  }
}

/** A job that a person described, and whose decision was taken back while it was under way. */
function nothingKnown({ job }: Run): Work {
  return { key: job, operations: [], parts: [] }
}

const standing = 'law'

function cautionShown({ title, says }: Caution): Pick<Caution, 'title' | 'says'> {
  return { title, says }
}

/** The steps of a job with all they need first, each once, as they are done. */
function stepsOf(keys: readonly string[], { operations }: Pick<Catalogue, 'operations'>) {
  const wanted = new Set<string>()
  const want = (key: string) => {
    if (wanted.has(key)) return
    wanted.add(key)
    for (const first of operations.find((one) => one.key === key)?.needs ?? []) want(first)
  }
  keys.forEach(want)
  return operations.filter(({ key }) => wanted.has(key))
}
