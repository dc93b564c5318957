import { z } from 'zod'
import { whyNotUsed } from '../core/work/never-used'
import type { Db, Tx } from '../data/store'
import { bikeInWork, lineInState, moveLine, partQty } from './ask-part'
import { deed, requireFresh } from './deed'
import { idOf, lineOf, lineOrNull, most, reasonOf, searchKey, versionOf } from './fields'
import { titleOfJob } from './job-runs'
import { refuse, refuseField } from './refusal'
import { ownedStages } from './stage-names'

/* Parts that lie in the shop, most of them off a bike that it broke. What they cost stays with that bike. */

export const shelfConditions = ['used', 'new'] as const

const emptyToNull = (sent: unknown) => (sent === '' ? null : sent)

export const putOnShelfInput = z.strictObject({
  /** Of the part, made where the person stands. */
  id: idOf,
  /** The bike it was taken off; none where it came another way. */
  bike: z.preprocess(emptyToNull, idOf.nullable().default(null)),
  what: lineOf(most.line, 'Say what it is.'),
  number: lineOrNull(80),
  qty: partQty,
  condition: z.enum(shelfConditions, { error: 'Say whether it is used or new.' }),
  /** The model it fits, as people call it. */
  fitsMake: lineOf(most.name, 'Say which make it fits.'),
  fitsModel: lineOf(most.name, 'Say which model it fits.'),
  place: lineOrNull(most.name),
  /** Where it came from, and what is known of it. */
  story: lineOf(most.line, 'Say where it came from, in a few words.'),
})

export const putOnShelf = deed('part:note', putOnShelfInput, async (input, { tx, now, who }) => {
  const { id, bike: fromBikeId, number, qty, place, ...part } = input
  const why = part.condition === 'used' ? whyNotUsed(part.what) : null
  if (why) refuseField('what', why)
  if (fromBikeId !== null) await ownBike(tx, fromBikeId)
  if (await tx.shelfPart.findUnique({ where: { id } })) refuse('rule', 'This is on the shelf already.')
  await tx.shelfPart.create({
    data: {
      ...{ id, ...part, fromBikeId, qty: qty ?? 1 },
      fitsMakeKey: searchKey(part.fitsMake),
      fitsModelKey: searchKey(part.fitsModel),
      number: number ?? '',
      place: place ?? '',
      personId: who.personId,
      at: now,
    },
  })
  const { what, fitsMake, fitsModel } = part
  const body = { did: 'on the shelf', what, number, qty: qty ?? 1, fits: `${fitsMake} ${fitsModel}`, place }
  return { answer: { shelf: id }, event: { bikeId: fromBikeId, body } }
})

export const takeOffShelfInput = z.strictObject({ shelf: idOf, version: versionOf, reason: reasonOf })

/** Gone another way: sold, thrown away, not found. */
export const takeOffShelf = deed('part:note', takeOffShelfInput, async (input, { tx, now }) => {
  const { shelf: id, version, reason } = input
  const part = await onShelf(tx, id)
  const { count } = await tx.shelfPart.updateMany({
    where: { id, version, withdrawnAt: null },
    data: { withdrawnAt: now, version: { increment: 1 } },
  })
  requireFresh(count, { version: String(part.version) })
  const { what, qty, fromBikeId: bikeId } = part
  return { answer: { shelf: id }, event: { bikeId, body: { did: 'off the shelf', what, qty, note: reason } } }
})

export const fitFromShelfInput = z.strictObject({
  /** Of the line, made where the person stands. */
  id: idOf,
  shelf: idOf,
  bike: idOf,
  job: lineOf(200, 'Choose the job.'),
  part: lineOf(200, 'Choose the part it stands in for.'),
  qty: partQty,
})

/** A part of the shelf goes into the box of a job. */
export const fitFromShelf = deed('part:note', fitFromShelfInput, async (input, { tx, now, who }) => {
  const { id, shelf: shelfPartId, bike: bikeId, job, part, qty: typed } = input
  await bikeInWork(tx, bikeId)
  const shelf = await onShelf(tx, shelfPartId)
  const why = shelf.condition === 'used' ? (whyNotUsed(part) ?? whyNotUsed(shelf.what)) : null
  if (why) refuseField('part', why)
  if (await tx.partLine.findUnique({ where: { id } })) refuse('rule', 'This is written down already.')
  const jobTitle = await titleOfJob(tx, { bikeId, job })
  const qty = typed ?? 1
  const left = await leftOnShelf(tx, shelf)
  if (qty > left)
    refuseField('qty', left > 0 ? `Only ${left} are left on the shelf.` : 'None is left on the shelf.')
  await tx.partLine.create({
    data: {
      ...{ id, bikeId, job, jobTitle, part, qty, shelfPartId, number: shelf.number },
      source: 'shelf',
      state: 'arrived',
      arrivedAt: now,
      personId: who.personId,
      at: now,
    },
  })
  const body = {
    did: 'from the shelf',
    what: part,
    number: shelf.number,
    qty,
    title: jobTitle,
    story: shelf.story,
  }
  return { answer: { line: id }, event: { bikeId, body } }
})

export const backOnShelfInput = z.strictObject({ line: idOf, version: versionOf })

/** It was not used after all. */
export const backOnShelf = deed('part:note', backOnShelfInput, async ({ line: id, version }, { tx }) => {
  const line = await lineInState(tx, { id, states: ['arrived'], refusal: 'This is not in the box.' })
  if (line.source !== 'shelf') refuse('rule', 'This did not come off the shelf.')
  await moveLine(tx, { line, version, data: { state: 'taken off' } })
  const { bikeId, part: what, qty, jobTitle: title } = line
  return { answer: { line: id }, event: { bikeId, body: { did: 'back on the shelf', what, qty, title } } }
})

/** How many of it nobody has taken. */
export async function leftOnShelf(db: Db | Tx, { id, qty }: { id: string; qty: number }): Promise<number> {
  const taken = await db.partLine.aggregate({
    where: { shelfPartId: id, state: { not: 'taken off' } },
    _sum: { qty: true },
  })
  return qty - (taken._sum.qty ?? 0)
}

async function onShelf(tx: Tx, id: string) {
  const part = await tx.shelfPart.findUnique({ where: { id } })
  if (!part) return refuse('not-found', 'That part is not there.')
  return part.withdrawnAt ? refuse('rule', 'This is off the shelf by now.') : part
}

async function ownBike(tx: Tx, id: string): Promise<void> {
  const bike = await tx.bike.findUnique({ where: { id }, select: { stage: true } })
  if (!bike) return refuse('not-found', 'That bike is not there.')
  if (!(ownedStages as readonly string[]).includes(bike.stage))
    refuse('rule', 'Only a bike that is the shop’s own is broken for its parts.')
}
