import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import type { Prisma } from '../data/generated/client'
import type { Tx } from '../data/store'
import { bikeInWork } from './ask-part'
import { deed, requireFresh } from './deed'
import { dayOf, idOf, lineOf, lineOrNull, moneyOf, most, versionOf } from './fields'
import { dayIn } from './instants'
import { titleOfJob } from './job-runs'
import { refuse, refuseField } from './refusal'

/* What of a bike somebody outside has to work on: who has it, and when it is due back. */

const dayOrNull = z.union([z.literal('').transform(() => null), z.null(), dayOf]).default(null)

export const sendOutInput = z.strictObject({
  /** Of what is sent, made where the person stands. */
  id: idOf,
  bike: idOf,
  /** The job it is for; none where it is for none of the list. */
  job: lineOrNull(200),
  what: lineOf(most.line, 'Say what goes out.'),
  whoHas: lineOf(most.name, 'Say who has it.'),
  sentOn: dayOf,
  dueOn: dayOrNull,
  note: lineOrNull(most.line),
})

export const sendOut = deed('part:note', sendOutInput, async (input, { tx, now, who }) => {
  const { id, bike: bikeId, job, note, ...sent } = input
  await bikeInWork(tx, bikeId)
  const { zone } = await tx.shop.findFirstOrThrow()
  if (sent.sentOn > dayIn(zone, now))
    refuseField('sentOn', 'That day is still to come. Give the day it went.')
  dueAfter(sent.dueOn, sent.sentOn)
  if (await tx.sentOut.findUnique({ where: { id } })) refuse('rule', 'This is written down already.')
  const jobTitle = job === null ? '' : await titleOfJob(tx, { bikeId, job })
  await tx.sentOut.create({
    data: { id, bikeId, job, jobTitle, ...sent, note: note ?? '', personId: who.personId, at: now },
  })
  const body = { did: 'sent out', ...sent, title: jobTitle || null, note }
  return { answer: { sent: id }, event: { bikeId, body } }
})

const ofSent = { sent: idOf, version: versionOf }

export const moveDueBackInput = z.strictObject({ ...ofSent, dueOn: dayOf, note: lineOrNull(most.line) })

/** They said another day. */
export const moveDueBack = deed('part:note', moveDueBackInput, async (input, { tx }) => {
  const { sent: id, version, dueOn, note } = input
  const row = await outStill(tx, id)
  dueAfter(dueOn, row.sentOn)
  await move(tx, { row, version, data: { dueOn, ...(note !== null && { note }) } })
  const { bikeId, what, whoHas } = row
  return {
    answer: { sent: id },
    event: { bikeId, body: { did: 'due back', what, whoHas, from: row.dueOn, dueOn, note } },
  }
})

export const cameBackInput = z.strictObject({ ...ofSent, note: lineOrNull(most.line) })

/** It is back in the shop, and its bill counts as spent; where nobody said what they ask, it waits for its amount. */
export const cameBack = deed('part:note', cameBackInput, async (input, { tx, now, who }) => {
  const { sent: id, version, note } = input
  const row = await outStill(tx, id)
  const { bikeId, what, whoHas, amountMinor } = row
  const spendId = uuidv7()
  await tx.spend.create({
    data: {
      ...{ id: spendId, bikeId, kind: 'outside', what: `${what}, by ${whoHas}`, amountMinor },
      personId: who.personId,
      at: now,
    },
  })
  const words = note === null ? {} : { note }
  await move(tx, { row, version, data: { backAt: now, backBy: who.personId, spendId, ...words } })
  return { answer: { sent: id }, event: { bikeId, body: { did: 'came back', what, whoHas, note } } }
})

export const askOutsideInput = z.strictObject({
  ...ofSent,
  amount: moneyOf('Give what they ask for it in all.'),
})

/** What they ask for it in all; once it is back, its amount is set where what was spent stands. */
export const askOutside = deed('part:order', askOutsideInput, async (input, { tx }) => {
  const { sent: id, version, amount: amountMinor } = input
  const row = await outStill(tx, id)
  await move(tx, { row, version, data: { amountMinor } })
  const { bikeId, what, whoHas } = row
  return {
    answer: { sent: id },
    event: { bikeId, body: { did: 'outside asked', what, supplier: whoHas, amountMinor } },
  }
})

type Row = Prisma.SentOutGetPayload<object>

async function outStill(tx: Tx, id: string): Promise<Row> {
  const row = await tx.sentOut.findUnique({ where: { id } })
  if (!row) return refuse('not-found', 'That is not there.')
  return row.backAt ? refuse('rule', 'This is back already.') : row
}

async function move(
  tx: Tx,
  { row, version, data }: { row: Row; version: number; data: Prisma.SentOutUncheckedUpdateManyInput },
): Promise<void> {
  const { count } = await tx.sentOut.updateMany({
    where: { id: row.id, version },
    data: { ...data, version: { increment: 1 } },
  })
  requireFresh(count, { version: String(row.version), dueOn: row.dueOn ?? '' })
}

function dueAfter(dueOn: string | null, sentOn: string): void {
  if (dueOn !== null && dueOn < sentOn) refuseField('dueOn', 'That is before it went out. Give a later day.')
}
