import { z } from 'zod'
import { type BikeResult, workOut } from '../core/board/bike-result'
import type { Decision } from '../core/checks/decision.input'
import type { Tx } from '../data/store'
import { type Context, deed, requireFresh } from './deed'
import { readToWorkOut } from './facts'
import { idOf, lineOf, lineOrNull, most, numberOrNull, versionOf } from './fields'
import { endSpells, openOf } from './job-runs'
import { refuse, refuseField } from './refusal'
import { underWayStates } from './spells'

const hours = numberOrNull({ min: 0.1, max: 500, message: 'Give hours in figures, like 2.5.' })

export const askInput = z.strictObject({
  question: idOf,
  bike: idOf,
  /** The work that led to it, where there is one. */
  run: idOf.nullable().default(null),
  asks: lineOf(most.reason, 'Say what was found, and what you ask.'),
  moreHours: hours,
  undone: lineOrNull(most.reason),
  keptWhere: lineOrNull(most.line),
})

/** What the question means in money, as it stood when it was asked. Whole minor units; null without a sale price. */
export type QuestionFigures = {
  stillToSpendBefore: number
  stillToSpendAfter: number
  marginBefore: number | null
  marginAfter: number | null
}

/**
 * Opened, and worse than the job card allows for: the clock of everybody at the bike stops, the bike waits for a
 * decision, and the manager sees what is still to be spent and what margin is left, before and after.
 */
export const askManager = deed('question:ask', askInput, {
  prepare: async ({ bike, moreHours }, { store, now }: Context) => {
    const { input } = await readToWorkOut(store.db, { bikeId: bike, now })
    return figuresOf(workOut(input), workOut(withMore(input, moreHours ?? 0)))
  },
  work: async (input, { tx, now, who }, figures) => {
    const { question: id, bike: bikeId, run, asks, moreHours, undone, keptWhere } = input
    const bike = await tx.bike.findUnique({ where: { id: bikeId } })
    if (!bike) return refuse('not-found', 'That bike is not there.')
    if (await tx.question.findUnique({ where: { id } })) return refuse('rule', 'This was asked already.')
    if (bike.stage !== 'on the bench')
      return refuse(
        'rule',
        bike.stage === 'waiting for a decision'
          ? 'This bike waits for an answer already.'
          : 'Only work on the bench is asked about. This bike is not there.',
      )
    if (run !== null && !(await underWay(tx, { runId: run, bikeId })))
      return refuse('rule', 'That work is not under way on this bike. Ask about the bike instead.')
    await pauseAll(tx, { bikeId, now })
    await tx.question.create({
      data: {
        id,
        bikeId,
        runId: run,
        asks,
        moreHours,
        undone: undone ?? '',
        keptWhere: keptWhere ?? '',
        figures: JSON.stringify(figures),
        stageBefore: bike.stage,
        askedBy: who.personId,
        askedAt: now,
      },
    })
    await tx.bike.update({
      where: { id: bikeId },
      data: { stage: 'waiting for a decision', version: { increment: 1 } },
    })
    return {
      answer: { question: id },
      event: { bikeId, body: { did: 'asked', asks, moreHours, undone, keptWhere } },
    }
  },
})

export const questionAnswers = ['go on', 'stop', 'leave it'] as const
export type QuestionAnswer = (typeof questionAnswers)[number]

/** What becomes of the work that was begun, where the answer is to stop. */
export const begunChoices = ['ends', 'stays paused'] as const
export type BegunChoice = (typeof begunChoices)[number]

export const answerInput = z.strictObject({
  question: idOf,
  version: versionOf,
  answer: z.enum(questionAnswers, { error: 'Choose an answer.' }),
  /** Asked for only where it stops and the work is still under way. */
  begun: z.enum(begunChoices, { error: 'Choose what becomes of the work.' }).nullable().default(null),
  /** The new budget of the work, where it goes on. */
  budgetHours: hours,
  note: lineOrNull(most.reason),
})

/**
 * The manager's answer: it goes back to the bench without prices, and the bike goes back to where it was. Where the
 * work ends here, what it left open stays locked until it is put back.
 */
export const answerQuestion = deed('question:answer', answerInput, async (input, { tx, now, who }) => {
  const { question: id, version, answer, begun, budgetHours, note } = input
  const question = await tx.question.findUnique({ where: { id } })
  if (!question) return refuse('not-found', 'That question is not there.')
  if (question.answeredAt) return refuse('rule', 'This is answered already.')
  const run = answer === 'stop' ? await underWay(tx, question) : null
  if (run && begun === null) return refuseField('begun', 'Choose what becomes of the work that is begun.')
  const newBudget = answer === 'go on' ? budgetHours : null
  const { count } = await tx.question.updateMany({
    where: { id, version },
    data: {
      answer,
      answerNote: note ?? '',
      budgetHours: newBudget,
      answeredBy: who.personId,
      answeredAt: now,
      version: { increment: 1 },
    },
  })
  requireFresh(count, { version: String(question.version) })
  const { bikeId, runId, stageBefore } = question
  const stillAsked = await tx.question.findFirst({ where: { bikeId, answeredAt: null } })
  if (!stillAsked) {
    await tx.bike.updateMany({
      where: { id: bikeId, stage: 'waiting for a decision' },
      data: { stage: stageBefore, version: { increment: 1 } },
    })
  }
  if (runId && newBudget !== null)
    await tx.jobRun.updateMany({
      where: { id: runId, state: { in: [...underWayStates] } },
      data: { budgetHours: newBudget, version: { increment: 1 } },
    })
  const ended = run && begun === 'ends' ? await stopRun(tx, { run, by: who.personId, now }) : {}
  const body = { did: 'answered', answer, budgetHours: newBudget, note, ...ended }
  return { answer: {}, event: { bikeId, body } }
})

async function stopRun(
  tx: Tx,
  { run: { id, title }, by, now }: { run: { id: string; title: string }; by: string; now: Date },
) {
  const minutes = await endSpells(tx, { runId: id, now })
  await tx.jobRun.update({
    where: { id },
    data: { state: 'stopped', endedBy: by, endedAt: now, version: { increment: 1 } },
  })
  return { title, minutes, leftOpen: await openOf(tx, id) }
}

/** More hours of the same bike's own, as a job that nothing shares. */
function withMore<B extends { decisions: readonly Decision[] }>(input: B, moreHours: number): B {
  if (moreHours === 0) return input
  const more: Decision = {
    kind: 'add-job',
    id: 'asked',
    key: 'own-asked',
    reason: 'asked',
    own: { title: 'asked', hours: moreHours, parts: [] },
  }
  return { ...input, decisions: [...input.decisions, more] }
}

function figuresOf(before: BikeResult, after: BikeResult): QuestionFigures {
  const margin = ({ deal }: BikeResult) => (deal?.atAsking ? Math.round(deal.atAsking.expectedMargin) : null)
  return {
    stillToSpendBefore: Math.round(before.estimate.cost.mean),
    stillToSpendAfter: Math.round(after.estimate.cost.mean),
    marginBefore: margin(before),
    marginAfter: margin(after),
  }
}

/** The work that a question is about, while it is under way on that bike. */
async function underWay(tx: Tx, { runId, bikeId }: { runId: string | null; bikeId: string }) {
  if (runId === null) return null
  return tx.jobRun.findFirst({ where: { id: runId, bikeId, state: { in: [...underWayStates] } } })
}

async function pauseAll(tx: Tx, { bikeId, now }: { bikeId: string; now: Date }): Promise<void> {
  const running = await tx.jobRun.findMany({ where: { bikeId, state: 'started' } })
  for (const { id } of running) {
    await endSpells(tx, { runId: id, now })
    await tx.jobRun.update({ where: { id }, data: { state: 'paused', version: { increment: 1 } } })
  }
}
