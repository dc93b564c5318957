import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import { type OpenStateKind, openStateKinds } from '../core/checks/open-states'
import type { Prisma } from '../data/generated/client'
import type { Tx } from '../data/store'
import { readCatalogue } from './catalogue'
import { deed, requireFresh } from './deed'
import { idOf, lineOrNull, most, numberOrNull, versionOf } from './fields'
import { refuse, refuseField } from './refusal'
import { minutesBetween, minutesOf, underWayStates } from './spells'

const openStateKeys = Object.keys(openStateKinds) as [OpenStateKind, ...OpenStateKind[]]

const budget = numberOrNull({ min: 0.1, max: 500, message: 'Give hours in figures, like 2.5.' })

export const startJobInput = z.strictObject({
  /** Of the work that begins, made where the person stands. */
  run: idOf,
  bike: idOf,
  job: z.string({ error: 'Choose the job.' }).min(1, 'Choose the job.').max(200),
  /** Stop and ask above so many hours, or on finding this. */
  budgetHours: budget,
  stopOn: lineOrNull(most.line),
  /** What is unsafe from now on until it is put back. */
  opens: z.array(z.enum(openStateKeys)).max(openStateKeys.length).default([]),
})

/**
 * Begins a job on a bike that is on the bench, with the clock running for the person who starts it. What the
 * work leaves unsafe is declared with it and locks from this moment on.
 */
export const startJob = deed('work:do', startJobInput, async (input, { tx, now, who }) => {
  const { run: id, bike: bikeId, job, budgetHours, stopOn, opens } = input
  await bikeOnBench(tx, bikeId)
  const title = await titleOfJob(tx, { bikeId, job })
  const underWay = await tx.jobRun.findFirst({
    where: { bikeId, job, state: { in: [...underWayStates] } },
  })
  if (underWay) return refuse('rule', `"${title}" is begun already. Go on with it instead.`)
  if (await tx.jobRun.findUnique({ where: { id } })) return refuse('rule', 'This work is begun already.')
  await atNothingElse(tx, who.personId)
  await tx.jobRun.create({
    data: {
      id,
      bikeId,
      job,
      title,
      state: 'started',
      budgetHours,
      stopOn,
      startedBy: who.personId,
      startedAt: now,
      spells: { create: { id: uuidv7(), personId: who.personId, startedAt: now } },
    },
  })
  for (const kind of new Set(opens))
    await open(tx, { bikeId, runId: id, kind, note: '', personId: who.personId, at: now })
  return { answer: { run: id }, event: { bikeId, body: { did: 'started', job, title, opens } } }
})

const ofRun = z.strictObject({ run: idOf, version: versionOf })

export const pauseJobInput = z.strictObject({
  ...ofRun.shape,
  /** Sent where somebody stops the clock of all who are at it, such as of one who went home. */
  everybody: z.literal('yes').optional(),
})

/**
 * Stops the clock of the person who pauses; the others go on, and the work is paused when nobody is left at it.
 */
export const pauseJob = deed('work:do', pauseJobInput, async (input, { tx, now, who }) => {
  const { run: id, version, everybody } = input
  const run = await runInState(tx, { id, states: ['started'], refusal: 'This work is not going on.' })
  const running = await tx.jobSpell.findMany({ where: { runId: id, endedAt: null } })
  const mine = running.filter(({ personId }) => personId === who.personId)
  if (!everybody && mine.length === 0)
    return refuse('rule', 'You are not at this. Stop the clock of everybody if nobody is.')
  const personId = everybody ? undefined : who.personId
  const left = everybody ? 0 : running.length - mine.length
  await moveRun(tx, { run, version, data: { state: left > 0 ? 'started' : 'paused' } })
  const minutes = await endSpells(tx, { runId: id, now, personId })
  const did = left > 0 ? 'left' : 'paused'
  return {
    answer: { run: id },
    event: { bikeId: run.bikeId, body: { did, job: run.job, title: run.title, minutes } },
  }
})

export const goOnWithJobInput = ofRun

/** Goes on with a job that was paused, or joins one that somebody else is at. */
export const goOnWithJob = deed('work:do', goOnWithJobInput, async ({ run: id, version }, inside) => {
  const { tx, now, who } = inside
  const run = await runInState(tx, { id, states: underWayStates, refusal: 'This work is finished.' })
  await bikeOnBench(tx, run.bikeId)
  const mine = await tx.jobSpell.findFirst({ where: { runId: id, personId: who.personId, endedAt: null } })
  if (mine) return refuse('rule', 'You are at this already.')
  await atNothingElse(tx, who.personId)
  await moveRun(tx, { run, version, data: { state: 'started' } })
  await tx.jobSpell.create({ data: { id: uuidv7(), runId: id, personId: who.personId, startedAt: now } })
  return {
    answer: { run: id },
    event: { bikeId: run.bikeId, body: { did: 'went on', job: run.job, title: run.title } },
  }
})

const minutesAsked = 'Give whole minutes, like 90.'
const wholeMinutes = numberOrNull({ min: 1, max: 60_000, message: minutesAsked }).refine(
  (value) => value === null || Number.isInteger(value),
  minutesAsked,
)

export const finishJobInput = z.strictObject({
  run: idOf,
  version: versionOf,
  /** All minutes it took, where the clock was wrong; empty takes the clock's. */
  minutes: wholeMinutes,
  note: lineOrNull(most.reason),
})

/** Ends a job. It closes no fault: that is for the recheck. What it left open stays open until it is put back. */
export const finishJob = deed('work:do', finishJobInput, async (input, { tx, now, who }) => {
  const { run: id, version, minutes, note } = input
  const run = await runInState(tx, { id, states: underWayStates, refusal: 'This work is finished already.' })
  const end = { state: 'done', endedBy: who.personId, endedAt: now, ...(note && { note }) }
  await moveRun(tx, { run, version, data: end })
  const byTheClock = await endSpells(tx, { runId: id, now })
  if (minutes !== null) await spreadMinutes(tx, { runId: id, minutes })
  const body = { did: 'finished', job: run.job, title: run.title, minutes: minutes ?? byTheClock, note }
  const leftOpen = await openOf(tx, id)
  return { answer: { run: id, leftOpen }, event: { bikeId: run.bikeId, body: { ...body, leftOpen } } }
})

export const giveUpJobInput = z.strictObject({ ...ofRun.shape, note: lineOrNull(most.reason) })

/**
 * Ends a job that was not done after all. Its minutes stay, it cures nothing, and what was read of its part
 * before is asked again, since the part was opened.
 */
export const giveUpJob = deed('work:do', giveUpJobInput, async (input, { tx, now, who }) => {
  const { run: id, version, note } = input
  const run = await runInState(tx, { id, states: underWayStates, refusal: 'This work is finished already.' })
  if (note === null) return refuseField('note', 'Say why it was not done, in a few words.')
  await moveRun(tx, { run, version, data: { state: 'given up', endedBy: who.personId, endedAt: now, note } })
  const minutes = await endSpells(tx, { runId: id, now })
  const leftOpen = await openOf(tx, id)
  const body = { did: 'gave up', job: run.job, title: run.title, minutes, note, leftOpen }
  return { answer: { run: id, leftOpen }, event: { bikeId: run.bikeId, body } }
})

export const correctMinutesInput = z.strictObject({
  ...ofRun.shape,
  minutes: wholeMinutes,
  note: lineOrNull(most.reason),
})

/** Sets right how long work took that is ended, where the clock ran on or was never stopped. */
export const correctMinutes = deed('work:do', correctMinutesInput, async (input, { tx }) => {
  const { run: id, version, minutes, note } = input
  const refusal = 'This work is not ended. Its minutes are set right when it is.'
  const run = await runInState(tx, { id, states: ['done', 'given up', 'stopped'], refusal })
  if (minutes === null) return refuseField('minutes', 'Give whole minutes, like 90.')
  if (note === null) return refuseField('note', 'Say why, in a few words.')
  const spells = await tx.jobSpell.findMany({ where: { runId: id } })
  const before = spells.reduce((sum, spell) => sum + (spell.minutes ?? 0), 0)
  await moveRun(tx, { run, version, data: {} })
  await spreadMinutes(tx, { runId: id, minutes })
  const body = { did: 'minutes corrected', job: run.job, title: run.title, from: before, minutes, note }
  return { answer: { run: id }, event: { bikeId: run.bikeId, body } }
})

export const declareOpenInput = z.strictObject({
  id: idOf,
  bike: idOf,
  kind: z.enum(openStateKeys, { error: 'Choose what is open.' }),
  note: lineOrNull(most.line),
})

/** Says that something on the bike is unsafe from now on, at whatever stage the bike is. */
export const declareOpen = deed('work:do', declareOpenInput, async (input, { tx, now, who }) => {
  const { id, bike: bikeId, kind, note } = input
  if (!(await tx.bike.findUnique({ where: { id: bikeId } })))
    return refuse('not-found', 'That bike is not there.')
  if (await tx.openState.findUnique({ where: { id } })) return refuse('rule', 'This is written down already.')
  const state = { bikeId, runId: null, kind, note: note ?? '' }
  if (await tx.openState.findFirst({ where: { ...state, putBackAt: null } }))
    return refuse('rule', 'This is said to be open already. Add a note if it is another one.')
  await open(tx, { id, ...state, personId: who.personId, at: now })
  return { answer: { state: id }, event: { bikeId, body: { did: 'opened', kind, note } } }
})

export const putBackInput = z.strictObject({
  state: idOf,
  version: versionOf,
  /** Ticked by the person who put it back: what the catalogue of open states says must be in order. */
  inOrder: z.literal('yes', { error: 'Tick that it is in order as it says here, or leave it open.' }),
})

/** Ends an open state. Nothing else does. */
export const putBack = deed('work:do', putBackInput, async ({ state: id, version }, { tx, now, who }) => {
  const state = await tx.openState.findUnique({ where: { id } })
  if (!state) return refuse('not-found', 'That is not open.')
  if (state.putBackAt) return refuse('rule', 'This is put back already.')
  const { count } = await tx.openState.updateMany({
    where: { id, version, putBackAt: null },
    data: { putBackAt: now, putBackBy: who.personId, version: { increment: 1 } },
  })
  requireFresh(count, { version: String(state.version) })
  const { bikeId, kind, note } = state
  return { answer: {}, event: { bikeId, body: { did: 'put back', kind, note } } }
})

/** Ends the spells that run, of one person or of everybody, and answers the minutes of the run so far. */
export async function endSpells(
  tx: Tx,
  { runId, now, personId }: { runId: string; now: Date; personId?: string | undefined },
): Promise<number> {
  const spells = await tx.jobSpell.findMany({ where: { runId } })
  for (const { id, startedAt, endedAt, personId: whose } of spells) {
    if (endedAt !== null || (personId !== undefined && whose !== personId)) continue
    await tx.jobSpell.update({
      where: { id },
      data: { endedAt: now, minutes: minutesBetween(startedAt, now) },
    })
  }
  return spells.reduce((sum, spell) => sum + minutesOf(spell, now), 0)
}

/** The difference to the clock goes to the longest spell, so that who was there stays true. */
async function spreadMinutes(tx: Tx, { runId, minutes }: { runId: string; minutes: number }): Promise<void> {
  const spells = await tx.jobSpell.findMany({ where: { runId } })
  const total = spells.reduce((sum, spell) => sum + (spell.minutes ?? 0), 0)
  let rest = minutes - total
  const longestFirst = [...spells].sort((a, b) => (b.minutes ?? 0) - (a.minutes ?? 0))
  for (const { id, minutes: had } of longestFirst) {
    const corrected = Math.max(0, (had ?? 0) + rest)
    rest -= corrected - (had ?? 0)
    await tx.jobSpell.update({ where: { id }, data: { minutes: corrected } })
    if (rest === 0) return
  }
}

type Opened = { bikeId: string; runId: string | null; kind: OpenStateKind; note: string; personId: string }

/**
 * Each job keeps its own: two may have the brakes open at both ends of a bike, and putting one back must not
 * free the other.
 */
async function open(tx: Tx, { id = uuidv7(), ...state }: Opened & { id?: string; at: Date }): Promise<void> {
  await tx.openState.create({ data: { id, ...state } })
}

/** What work left open and nobody has put back. */
export async function openOf(tx: Tx, runId: string): Promise<string[]> {
  const states = await tx.openState.findMany({ where: { runId, putBackAt: null }, orderBy: { at: 'asc' } })
  return states.map(({ kind }) => kind)
}

/** One person has one clock: whoever begins something is asked to pause the other first. */
async function atNothingElse(tx: Tx, personId: string): Promise<void> {
  const at = await tx.jobSpell.findFirst({
    where: { personId, endedAt: null },
    select: { run: { select: { title: true, bike: { select: { viewingNo: true } } } } },
  })
  if (!at) return
  const { title, bike } = at.run
  refuse('rule', `Your clock runs for "${title}" on viewing ${bike.viewingNo}. Pause or finish that first.`)
}

async function bikeOnBench(tx: Tx, id: string) {
  const bike = await tx.bike.findUnique({ where: { id } })
  if (!bike) return refuse('not-found', 'That bike is not there.')
  if (bike.stage === 'waiting for a decision')
    return refuse(
      'rule',
      'This bike waits for a decision. Nobody works on it until the manager has answered.',
    )
  if (bike.stage === 'ready')
    return refuse('rule', 'This bike is ready. A manager takes it back to the bench first, on its own page.')
  if (bike.stage !== 'on the bench')
    return refuse('rule', 'Only a bike on the bench is worked on. A manager puts it there.')
  return bike
}

export async function titleOfJob(tx: Tx, { bikeId, job }: { bikeId: string; job: string }): Promise<string> {
  const known = (await readCatalogue(tx)).jobs.find(({ key }) => key === job)
  if (known) return known.title
  const own = await tx.decision.findFirst({
    where: { bikeId, kind: 'add-job', key: job, withdrawnAt: null },
  })
  const body = own && (JSON.parse(own.body) as { own?: { title: string } })
  return body?.own?.title ?? refuseField('job', 'Choose a job from the list.')
}

async function runInState(tx: Tx, given: { id: string; states: readonly string[]; refusal: string }) {
  const run = await tx.jobRun.findUnique({ where: { id: given.id } })
  if (!run) return refuse('not-found', 'That work is not there.')
  if (!given.states.includes(run.state)) return refuse('rule', given.refusal)
  return run
}

type Moved = { run: { id: string; version: number }; version: number }

async function moveRun(
  tx: Tx,
  { run, version, data }: Moved & { data: Prisma.JobRunUpdateManyMutationInput },
): Promise<void> {
  const { count } = await tx.jobRun.updateMany({
    where: { id: run.id, version },
    data: { ...data, version: { increment: 1 } },
  })
  requireFresh(count, { version: String(run.version) })
}
