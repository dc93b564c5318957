import { z } from 'zod'
import { typedMoney } from '../core/quantity/typed-money'
import { whyNotUsed } from '../core/work/never-used'
import type { PartState } from '../core/work/parts'
import type { Prisma } from '../data/generated/client'
import type { Tx } from '../data/store'
import { deed, requireFresh } from './deed'
import { idOf, lineOf, lineOrNull, moneyOrNull, numberOrNull, reasonOf, versionOf } from './fields'
import { titleOfJob } from './job-runs'
import { refuse, refuseField } from './refusal'
import { supplierAsked } from './suppliers'

/* A part that a job needs, put on a supplier's list with what they ask for it. */

/** What can be ordered; from the shelf is a deed of its own. */
export const orderedSources = ['maker', 'pattern', 'used'] as const

/** Stages of a bike that parts are got for. */
export const stagesInWork = ['bought', 'on the bench', 'waiting for a decision'] as const

export const partQty = numberOrNull({ min: 0.01, max: 1000, message: 'Give how many, like 2.' })

const days = 'Give whole days, like 5.'
const share = 'Give a chance in per cent, like 30.'

const whatIsAsked = {
  supplier: idOf,
  source: z.enum(orderedSources, { error: 'Choose where it comes from.' }),
  /** The number it is ordered by. */
  number: lineOrNull(80),
  /** Of one; empty where nobody has asked yet. */
  price: moneyOrNull,
  leadDays: numberOrNull({ min: 0, max: 365, message: days }).refine(
    (value) => value === null || Number.isInteger(value),
    days,
  ),
  /** In per cent, for one that is no longer made: that it never comes. */
  neverShare: numberOrNull({ min: 0, max: 100, message: share }),
}

export const askPartInput = z.strictObject({
  /** Of the line, made where the person stands. */
  id: idOf,
  bike: idOf,
  job: lineOf(200, 'Choose the job.'),
  /** As the job names it, or another that it turned out to need. */
  part: lineOf(200, 'Name the part.'),
  qty: partQty,
  ...whatIsAsked,
})

/** Puts a part on the list of a supplier, with what they ask and how long they take. */
export const askPart = deed('part:order', askPartInput, async (input, { tx, now, who }) => {
  const { id, bike: bikeId, job, part, qty, ...asked } = input
  await bikeInWork(tx, bikeId)
  if (await tx.partLine.findUnique({ where: { id } })) refuse('rule', 'This is on the list already.')
  const jobTitle = await titleOfJob(tx, { bikeId, job })
  const columns = await columnsOf(tx, { part, asked })
  const line = { bikeId, job, jobTitle, part, qty: qty ?? 1, state: 'to order', ...columns }
  await tx.partLine.create({ data: { id, ...line, personId: who.personId, at: now } })
  return { answer: { line: id }, event: { bikeId, body: await told(tx, 'asked', line) } }
})

export const changeAskedInput = z.strictObject({
  line: idOf,
  version: versionOf,
  qty: partQty,
  ...whatIsAsked,
})

/** Sets right what is on a list, until it is ordered. */
export const changeAsked = deed('part:order', changeAskedInput, async (input, { tx }) => {
  const { line: id, version, qty, ...asked } = input
  const line = await lineInState(tx, { id, states: ['to order'], refusal: 'This is ordered already.' })
  const data = { qty: qty ?? line.qty, ...(await columnsOf(tx, { part: line.part, asked })) }
  await moveLine(tx, { line, version, data })
  return {
    answer: { line: id },
    event: { bikeId: line.bikeId, body: await told(tx, 'changed', { ...line, ...data }) },
  }
})

export const takeOffListInput = z.strictObject({ line: idOf, version: versionOf, reason: reasonOf })

/** Nobody waits for it any more: taken off the list, or the order called off. */
export const takeOffList = deed('part:order', takeOffListInput, async (input, { tx }) => {
  const { line: id, version, reason } = input
  const states = ['to order', 'ordered'] as const
  const line = await lineInState(tx, { id, states, refusal: 'This is there already, or taken off.' })
  await moveLine(tx, { line, version, data: { state: 'taken off', note: reason } })
  const did = line.state === 'ordered' ? 'called off' : 'off the list'
  return {
    answer: { line: id },
    event: { bikeId: line.bikeId, body: { ...(await told(tx, did, line)), reason } },
  }
})

export type LineRow = Prisma.PartLineGetPayload<object>

/** The line by its id in one of some states; refused otherwise. */
export async function lineInState(
  tx: Tx,
  given: { id: string; states: readonly PartState[]; refusal: string },
): Promise<LineRow> {
  const line = await tx.partLine.findUnique({ where: { id: given.id } })
  if (!line) return refuse('not-found', 'That part is not there.')
  if (!(given.states as readonly string[]).includes(line.state)) return refuse('rule', given.refusal)
  return line
}

/** Saves over the version that was seen; refused with what is stored where that is another. */
export async function moveLine(
  tx: Tx,
  given: { line: LineRow; version: number; data: Prisma.PartLineUncheckedUpdateManyInput },
): Promise<void> {
  const { line, version, data } = given
  const { count } = await tx.partLine.updateMany({
    where: { id: line.id, version },
    data: { ...data, version: { increment: 1 } },
  })
  requireFresh(count, { version: String(line.version), ...asTyped(line) })
}

/** What an event says of a line. */
export async function told(
  tx: Tx,
  did: string,
  line: Pick<LineRow, 'part' | 'qty' | 'jobTitle'> & Partial<LineRow>,
): Promise<Record<string, unknown>> {
  const { part, qty, jobTitle: title, number = '', source = null, supplierId = null, leadDays = null } = line
  const supplier = supplierId && (await tx.supplier.findUnique({ where: { id: supplierId } }))
  const amount = line.unitMinor === undefined ? {} : { unitMinor: line.unitMinor }
  return {
    did,
    what: part,
    number,
    qty,
    title,
    source,
    supplier: supplier ? supplier.name : null,
    leadDays,
    ...amount,
  }
}

/** The bike, where it is the shop's own and still worked on. */
export async function bikeInWork(tx: Tx, id: string) {
  const bike = await tx.bike.findUnique({ where: { id }, select: { stage: true } })
  if (!bike) return refuse('not-found', 'That bike is not there.')
  if (!(stagesInWork as readonly string[]).includes(bike.stage))
    refuse('rule', 'Parts are got for a bike that is bought and not ready yet. This one is not.')
  return bike
}

type Asked = z.output<z.ZodObject<typeof whatIsAsked>>

async function columnsOf(tx: Tx, { part, asked }: { part: string; asked: Asked }) {
  const { supplier: supplierId, source, number, price, leadDays, neverShare } = asked
  const why = source === 'used' ? whyNotUsed(part) : null
  if (why) refuseField('source', why)
  await supplierAsked(tx, supplierId)
  return {
    ...{ supplierId, source, leadDays },
    number: number ?? '',
    unitMinor: price,
    neverChance: neverShare === null ? null : neverShare / 100,
  }
}

/** What is stored of a line, as its form would have it typed. */
function asTyped({ qty, unitMinor, leadDays, number }: LineRow): Record<string, string> {
  return {
    qty: String(qty),
    price: typedMoney(unitMinor),
    leadDays: leadDays === null ? '' : String(leadDays),
    number,
  }
}
