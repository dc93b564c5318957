import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import type { Tx } from '../data/store'
import { bikeInWork, type LineRow, lineInState, moveLine, partQty, told } from './ask-part'
import { deed, type Inside } from './deed'
import { idOf, lineOf, lineOrNull, most, reasonOf, versionOf } from './fields'
import { titleOfJob } from './job-runs'
import { refuse, refuseField } from './refusal'

/* What became of a part that was ordered. What is there is spent on its bike, and stands in no estimate any more. */

const ofLine = { line: idOf, version: versionOf }

export const partArrivedInput = z.strictObject({
  ...ofLine,
  /** How many came; all of them where nothing is said. */
  qty: partQty,
})

/** It is in the box. Where fewer came than were ordered, the rest stays on its way. */
export const partArrived = deed('part:note', partArrivedInput, async (input, inside) => {
  const { tx, now } = inside
  const { line: id, version, qty } = input
  const line = await lineInState(tx, {
    id,
    states: ['ordered'],
    refusal: 'This is not on its way: somebody said so before.',
  })
  const came = qty ?? line.qty
  if (came > line.qty) refuseField('qty', `No more than ${line.qty} are on their way. Ask for the rest anew.`)
  const spendId = await spendOf(inside, { ...line, qty: came })
  await moveLine(tx, { line, version, data: { state: 'arrived', qty: came, arrivedAt: now, spendId } })
  if (came < line.qty) {
    const rest = { ...line, id: uuidv7(), qty: line.qty - came, carriageMinor: 0, spendId: null, version: 1 }
    await tx.partLine.create({ data: rest })
  }
  return { answer: { line: id }, event: eventOf(line, { did: 'arrived', qty: came }) }
})

export const partAtHandInput = z.strictObject({
  /** Of the line, made where the person stands. */
  id: idOf,
  bike: idOf,
  job: lineOf(200, 'Choose the job.'),
  part: lineOf(200, 'Name the part.'),
  qty: partQty,
})

/**
 * Out of what the shop always has, such as oil and fluid: nothing is ordered. What it costs stays in the estimate,
 * since nobody paid for it on this bike.
 */
export const partAtHand = deed('part:note', partAtHandInput, async (input, { tx, now, who }) => {
  const { id, bike: bikeId, job, part, qty } = input
  await bikeInWork(tx, bikeId)
  if (await tx.partLine.findUnique({ where: { id } })) refuse('rule', 'This is written down already.')
  const jobTitle = await titleOfJob(tx, { bikeId, job })
  const data = { id, bikeId, job, jobTitle, part, qty: qty ?? 1, source: 'stock', state: 'arrived' }
  const line = await tx.partLine.create({
    data: { ...data, arrivedAt: now, personId: who.personId, at: now },
  })
  return { answer: { line: id }, event: eventOf(line, { did: 'at hand' }) }
})

export const notAtHandInput = z.strictObject(ofLine)

/** It was not there after all. */
export const notAtHand = deed('part:note', notAtHandInput, async ({ line: id, version }, { tx }) => {
  const line = await lineInState(tx, { id, states: ['arrived'], refusal: 'This is not in the box.' })
  if (line.source !== 'stock') refuse('rule', 'This came from a supplier or off the shelf.')
  await moveLine(tx, { line, version, data: { state: 'taken off' } })
  return { answer: { line: id }, event: eventOf(line, { did: 'not at hand' }) }
})

export const partWrongInput = z.strictObject({ ...ofLine, note: reasonOf })

/** Another came than was ordered, or it is broken: it goes back, and the job waits for a new one. */
export const partWrong = deed('part:note', partWrongInput, async (input, { tx, now }) => {
  const { line: id, version, note } = input
  const line = await lineInState(tx, {
    id,
    states: ['ordered', 'arrived'],
    refusal: 'This is neither on its way nor there.',
  })
  if (line.source === 'shelf' || line.source === 'stock')
    refuse('rule', 'This came out of the shop itself. Put it back there instead.')
  await withdrawSpend(tx, { line, now })
  await moveLine(tx, { line, version, data: { state: 'wrong', note, spendId: null, arrivedAt: now } })
  return { answer: { line: id }, event: eventOf(line, { did: 'wrong', note }) }
})

export const settleWrongInput = z.strictObject({
  ...ofLine,
  outcome: z.enum(['sent back', 'kept'], { error: 'Say what became of it.' }),
  note: lineOrNull(most.line),
})

/** A wrong part is dealt with: it went back for its money, or it was paid all the same. */
export const settleWrong = deed('part:order', settleWrongInput, async (input, inside) => {
  const { line: id, version, outcome, note } = input
  const { tx } = inside
  const line = await lineInState(tx, { id, states: ['wrong'], refusal: 'This is dealt with already.' })
  const spendId = outcome === 'kept' ? await spendOf(inside, line) : null
  const words = note ?? line.note
  await moveLine(tx, { line, version, data: { state: outcome, note: words, spendId } })
  const body = await told(tx, outcome, line)
  return { answer: { line: id }, event: { bikeId: line.bikeId, body: { ...body, note: words } } }
})

export const partNeverInput = z.strictObject({ ...ofLine, note: reasonOf })

/** It will not come: no longer made, or not to be had. The job looks for another. */
export const partNever = deed('part:order', partNeverInput, async (input, { tx }) => {
  const { line: id, version, note } = input
  const line = await lineInState(tx, {
    id,
    states: ['to order', 'ordered'],
    refusal: 'This is neither to order nor on its way.',
  })
  await moveLine(tx, { line, version, data: { state: 'never', note } })
  return {
    answer: { line: id },
    event: { bikeId: line.bikeId, body: { ...(await told(tx, 'never', line)), note } },
  }
})

/** Told to everybody, so there is no amount in it. */
function eventOf(line: LineRow, body: Record<string, unknown>) {
  const { bikeId, part: what, qty, jobTitle: title, number } = line
  return { bikeId, body: { what, qty, number, title, ...body } }
}

/** Writes down what a line came to with its share of the carriage; without an amount where nobody asked the price. */
async function spendOf({ tx, now, who }: Inside, line: LineRow): Promise<string> {
  const { bikeId, part: what, number, qty, unitMinor, carriageMinor } = line
  const id = uuidv7()
  const amountMinor = unitMinor === null ? null : Math.round(qty * unitMinor) + (carriageMinor ?? 0)
  await tx.spend.create({
    data: { id, bikeId, kind: 'part', what, number, qty, amountMinor, personId: who.personId, at: now },
  })
  return id
}

async function withdrawSpend(tx: Tx, { line, now }: { line: LineRow; now: Date }): Promise<void> {
  if (line.spendId === null) return
  await tx.spend.updateMany({
    where: { id: line.spendId, withdrawnAt: null },
    data: { withdrawnAt: now, version: { increment: 1 } },
  })
}
