import { z } from 'zod'
import type { Tx } from '../data/store'
import { deed, type Inside, requireFresh } from './deed'
import { idOf, lineOf, lineOrNull, moneyOf, most, numberOrNull, reasonOf, versionOf } from './fields'
import { refuse } from './refusal'
import { ownedStages } from './stage-names'

/** A part that went in, or work that somebody else was paid for. */
export const spendKinds = ['part', 'outside'] as const
export type SpendKind = (typeof spendKinds)[number]

const qty = numberOrNull({ min: 0.01, max: 1000, message: 'Give how many, like 2.' })
const amount = moneyOf('Give what it came to in all.')

const whatItWas = {
  /** Of what is noted, made where the person stands. */
  id: idOf,
  bike: idOf,
  /** The work it was for; none where it was for the bike as a whole. */
  run: z.preprocess((sent) => (sent === '' ? null : sent), idOf.nullable().default(null)),
  what: lineOf(most.line, 'Say what it was.'),
  /** The number on it, as its maker or seller gives it. */
  number: lineOrNull(80),
  qty,
}

export const notePartInput = z.strictObject(whatItWas)

/** A part that was used, by whoever put it in: its name and number, without money. */
export const notePart = deed('work:do', notePartInput, async (input, inside) => {
  const noted = await note(inside, { ...input, kind: 'part', amountMinor: null })
  return {
    answer: { spend: input.id },
    event: { bikeId: input.bike, body: { did: 'part', ...noted } },
  }
})

export const takeBackPartInput = z.strictObject({ spend: idOf, version: versionOf })

/** Takes a part back that was noted by mistake, as long as nobody has priced it. */
export const takeBackPart = deed('work:do', takeBackPartInput, async ({ spend: id, version }, inside) => {
  const spend = await standing(inside.tx, id)
  if (!spend.atBench || spend.amountMinor !== null)
    refuse('rule', 'This is in the books by now. A dealer or manager takes it back.')
  await withdraw(inside, { id, version, seen: spend.version })
  const { bikeId, what, qty } = spend
  return { answer: {}, event: { bikeId, body: { did: 'part back', what, qty } } }
})

export const noteSpendInput = z.strictObject({
  ...whatItWas,
  kind: z.enum(spendKinds, { error: 'Choose what it was.' }),
  amount,
})

/** Money spent on a bike: on a part, or on work done outside, in all. */
export const noteSpend = deed('spend:note', noteSpendInput, async ({ amount, ...input }, inside) => {
  const noted = await note(inside, { ...input, amountMinor: amount })
  const { kind, bike } = input
  const body = { did: 'spent', kind, ...noted, amountMinor: amount }
  return { answer: { spend: input.id }, event: { bikeId: bike, body } }
})

export const priceSpendInput = z.strictObject({ spend: idOf, version: versionOf, amount })

/** What a part came to that the bench had noted, or another amount in place of a wrong one. */
export const priceSpend = deed('spend:note', priceSpendInput, async (input, { tx }) => {
  const { spend: id, version, amount } = input
  const spend = await standing(tx, id)
  const { count } = await tx.spend.updateMany({
    where: { id, version, withdrawnAt: null },
    data: { amountMinor: amount, version: { increment: 1 } },
  })
  requireFresh(count, { version: String(spend.version) })
  const { bikeId, what, amountMinor: before } = spend
  return { answer: {}, event: { bikeId, body: { did: 'priced', what, before, amountMinor: amount } } }
})

export const takeBackSpendInput = z.strictObject({ spend: idOf, version: versionOf, reason: reasonOf })

/** What was noted by mistake counts no more; the history keeps it. */
export const takeBackSpend = deed('spend:note', takeBackSpendInput, async (input, inside) => {
  const { spend: id, version, reason } = input
  const spend = await standing(inside.tx, id)
  await withdraw(inside, { id, version, seen: spend.version })
  const { bikeId, what, amountMinor } = spend
  return { answer: {}, event: { bikeId, body: { did: 'taken back', what, amountMinor, reason } } }
})

type Noted = z.output<typeof notePartInput> & { kind: SpendKind; amountMinor: number | null }

/** Writes the row, and answers what the event says of it. */
async function note({ tx, now, who }: Inside, spend: Noted) {
  const { id, bike: bikeId, run: runId, what, number, kind, amountMinor } = spend
  const qty = spend.qty ?? 1
  const bike = await tx.bike.findUnique({ where: { id: bikeId }, select: { stage: true } })
  if (!bike) return refuse('not-found', 'That bike is not there.')
  if (!(ownedStages as readonly string[]).includes(bike.stage))
    refuse('rule', 'Only on a bike that is the shop’s own. This one is not.')
  const run = runId === null ? null : await tx.jobRun.findFirst({ where: { id: runId, bikeId } })
  if (runId !== null && !run) refuse('not-found', 'That work is not there.')
  if (await tx.spend.findUnique({ where: { id } })) refuse('rule', 'This is written down already.')
  const atBench = amountMinor === null
  await tx.spend.create({
    data: {
      ...{ id, bikeId, runId, kind, what, qty, amountMinor, atBench },
      number: number ?? '',
      personId: who.personId,
      at: now,
    },
  })
  return { what, number, qty, title: run?.title ?? null }
}

async function standing(tx: Tx, id: string) {
  const spend = await tx.spend.findUnique({ where: { id } })
  if (!spend) return refuse('not-found', 'That is not there.')
  return spend.withdrawnAt ? refuse('rule', 'This is taken back already.') : spend
}

async function withdraw(
  { tx, now }: Inside,
  { id, version, seen }: { id: string; version: number; seen: number },
): Promise<void> {
  const { count } = await tx.spend.updateMany({
    where: { id, version, withdrawnAt: null },
    data: { withdrawnAt: now, version: { increment: 1 } },
  })
  requireFresh(count, { version: String(seen) })
}
