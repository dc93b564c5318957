import { z } from 'zod'
import { type FrameLook, frameCheck } from '../core/checks/frame-looks'
import {
  identityAnswers,
  identityPoints,
  isFinalPoint,
  isFinalWord,
  type MoneyLack,
  moneyGate,
  registerAnswers,
  registers,
} from '../core/checks/money-gate'
import type { Db, Tx } from '../data/store'
import { readCatalogue } from './catalogue'
import { deed } from './deed'
import { dayOf, idOf, lineOf, lineOrNull, moneyOrNull, most } from './fields'
import { dayIn } from './instants'
import { asRegisterWords, frameOf, moneyWordsOf, type RegisterWord } from './money-words'
import { refuse, refuseField } from './refusal'

export const noteRegisterInput = z.strictObject({
  id: idOf,
  bike: idOf,
  register: z.enum(registers, { error: 'Choose the register.' }),
  askedOf: lineOf(most.line, 'Say who was asked.'),
  day: dayOf,
  answer: z.enum(registerAnswers, { error: 'Say what the register answered.' }),
  /** What is owed, where finance is on record. */
  amount: moneyOrNull,
  note: lineOrNull(most.reason),
})

/** Writes down that a register was asked, and what it said. The shop has no register of its own. */
export const noteRegister = deed('identity:note', noteRegisterInput, async (input, { tx, now, who }) => {
  const { id, bike: bikeId, register, askedOf, day, answer, amount, note } = input
  await knownBike(tx, bikeId)
  const shop = await tx.shop.findFirstOrThrow()
  if (day > dayIn(shop.zone, now))
    return refuseField('day', 'That day is still to come. Give the day it was asked.')
  if (answer === 'recorded' && note === null)
    return refuseField('note', 'Say what is on record, in a few words.')
  if (register === 'finance' && answer === 'recorded' && amount === null)
    return refuseField('amount', 'Give the amount outstanding.')
  if (await tx.registerAsk.findUnique({ where: { id } }))
    return refuse('rule', 'This is written down already.')
  const before = await readRegisterWords(tx, bikeId)
  if (before.filter((word) => word.register === register).some(isFinalWord))
    return refuse('rule', 'On record as stolen is final: no later answer takes it back.')
  await tx.registerAsk.create({
    data: {
      id,
      bikeId,
      register,
      askedOf,
      day,
      answer,
      amountMinor: amount,
      note: note ?? '',
      personId: who.personId,
      at: now,
    },
  })
  return {
    answer: {},
    event: { bikeId, body: { register, askedOf, day, answer, amountMinor: amount, note } },
  }
})

export const noteIdentityInput = z.strictObject({
  id: idOf,
  bike: idOf,
  point: z.enum(identityPoints, { error: 'Choose what was looked at.' }),
  answer: z.string({ error: 'Choose what was seen.' }).min(1, 'Choose what was seen.').max(40),
  note: lineOrNull(most.reason),
})

/** Writes down one point of identity or right to sell as it was seen. The latest word on a point counts. */
export const noteIdentity = deed('identity:note', noteIdentityInput, async (input, { tx, now, who }) => {
  const { id, bike: bikeId, point, answer, note } = input
  await knownBike(tx, bikeId)
  const chosen = Object.hasOwn(identityAnswers[point], answer) ? identityAnswers[point][answer] : undefined
  if (!chosen) return refuseField('answer', 'Choose what was seen.')
  if (chosen.why && note === null) return refuseField('note', 'Say what was seen as proof, in a few words.')
  if (await tx.identityNote.findUnique({ where: { id } }))
    return refuse('rule', 'This is written down already.')
  const before = await tx.identityNote.findMany({ where: { bikeId, point } })
  const final = before.some((row) => isFinalPoint({ point, answer: row.answer }))
  if (final || (point === 'frame-number' && (await readFrame(tx, bikeId)).alteredAt !== null))
    return refuse('rule', 'An altered number is final: no later word takes it back.')
  await tx.identityNote.create({
    data: { id, bikeId, point, answer, note: note ?? '', personId: who.personId, at: now },
  })
  return { answer: {}, event: { bikeId, body: { point, answer, note } } }
})

/** What still keeps a bike from being bought. Of one that is bought no answer grows older. */
export async function moneyLacksOf(db: Db | Tx, asked: { bikeId: string; now: Date }): Promise<MoneyLack[]> {
  return moneyGate((await readMoneyWords(db, asked)).words)
}

/** Every word before money is paid, with the rows that those of registers and points stand in, oldest first. */
export async function readMoneyWords(db: Db | Tx, { bikeId, now }: { bikeId: string; now: Date }) {
  const [registers, identity, frame, purchase, { zone }] = await Promise.all([
    readRegisterWords(db, bikeId),
    db.identityNote.findMany({ where: { bikeId }, orderBy: [{ at: 'asc' }, { id: 'asc' }] }),
    readFrame(db, bikeId),
    db.purchase.findUnique({ where: { bikeId }, select: { at: true } }),
    db.shop.findFirstOrThrow({ select: { zone: true } }),
  ])
  // Once the money is paid no answer grows older.
  return moneyWordsOf({ registers, identity, frame, today: dayIn(zone, purchase?.at ?? now) })
}

/** What the registers said, by the day they were asked. */
export async function readRegisterWords(db: Db | Tx, bikeId: string): Promise<RegisterWord[]> {
  const orderBy = [{ day: 'asc' }, { at: 'asc' }, { id: 'asc' }] as const
  return asRegisterWords(await db.registerAsk.findMany({ where: { bikeId }, orderBy: [...orderBy] }))
}

/** What the check sheet says of the frame number. */
async function readFrame(db: Db | Tx, bikeId: string): Promise<FrameLook> {
  const rows = await db.reading.findMany({ where: { bikeId, check: frameCheck.key } })
  return frameOf(rows, rows.length === 0 ? [] : (await readCatalogue(db)).checks)
}

async function knownBike(tx: Tx, id: string): Promise<void> {
  if (!(await tx.bike.findUnique({ where: { id } }))) refuse('not-found', 'That bike is not there.')
}
