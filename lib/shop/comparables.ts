import { z } from 'zod'
import type { Tx } from '../data/store'
import {
  alone,
  comparableAsTyped,
  comparableColumns,
  comparableFacts,
  noteComparableInput,
} from './comparable-fields'
import { deed, requireFresh } from './deed'
import { idOf, lineOrNull, most, versionOf } from './fields'
import { dayIn } from './instants'
import { isNotedFor, type NotedRow, readNoted } from './noted-prices'
import { refuse, refuseField } from './refusal'

/* Prices of similar bikes, noted from adverts, dealers and auctions. */

/** Writes down what a similar bike is offered for or went for. */
export const noteComparable = deed('price:note', noteComparableInput, async (input, { tx, now, who }) => {
  const { id, bike: bikeId, alone, ...typed } = input
  const bike = await bikeAsked(tx, bikeId)
  const columns = comparableColumns(typed, await todayOf(tx, now))
  if (await tx.comparable.findUnique({ where: { id } }))
    return refuse('rule', 'This price is written down already.')
  const { make, makeKey, model, modelKey } = bike
  const about = { bikeId: alone ? bikeId : null, make, makeKey, model, modelKey }
  await tx.comparable.create({ data: { id, ...about, ...columns, personId: who.personId, at: now } })
  return { answer: {}, event: { bikeId, body: { did: 'noted', comparable: id, alone, ...columns } } }
})

const ofPage = { comparable: idOf, bike: idOf, version: versionOf }

export const correctComparableInput = z.strictObject({ ...ofPage, alone, ...comparableFacts })

/** Corrects a noted price, from the version the person saw. */
export const correctComparable = deed('price:note', correctComparableInput, async (input, { tx, now }) => {
  const { comparable: id, bike: bikeId, version, alone, ...typed } = input
  const before = await comparableAsked(tx, { id, bikeId })
  const columns = {
    ...comparableColumns(typed, await todayOf(tx, now)),
    bikeId: alone ? bikeId : null,
    // One that counted for a bike alone may have been noted under names that were corrected since.
    ...(!alone && before.bikeId !== null && (await modelOf(tx, bikeId))),
  }
  const { count } = await tx.comparable.updateMany({
    where: { id, version, withdrawnAt: null },
    data: { ...columns, version: { increment: 1 } },
  })
  requireFresh(count, whatDiffers(comparableAsTyped(before), comparableAsTyped({ ...before, ...columns })))
  const body = { did: 'corrected', comparable: id, alone, ...columns, was: before.priceMinor }
  return { answer: {}, event: { bikeId, body } }
})

export const seeAgainInput = z.strictObject(ofPage)

/** An advert that is still there today: it is as fresh as one of today, and has stood so much longer. */
export const seeComparableAgain = deed('price:note', seeAgainInput, async (input, { tx, now }) => {
  const { comparable: id, bike: bikeId, version } = input
  const before = await comparableAsked(tx, { id, bikeId })
  if (!before.asked) return refuse('rule', 'It was sold: there is nothing left to be seen again.')
  const lastSeenOn = await todayOf(tx, now)
  const { count } = await tx.comparable.updateMany({
    where: { id, version, withdrawnAt: null },
    data: { lastSeenOn, version: { increment: 1 } },
  })
  requireFresh(count, { lastSeenOn: before.lastSeenOn, version: String(before.version) })
  const body = { did: 'seen again', comparable: id, priceMinor: before.priceMinor, lastSeenOn }
  return { answer: {}, event: { bikeId, body } }
})

export const withdrawComparableInput = z.strictObject({ ...ofPage, reason: lineOrNull(most.line) })

/** Takes back a price that should not count. It stays in the record. */
export const withdrawComparable = deed('price:note', withdrawComparableInput, async (input, { tx, now }) => {
  const { comparable: id, bike: bikeId, version, reason } = input
  if (reason === null) return refuseField('reason', 'Say what was wrong with it.')
  const before = await comparableAsked(tx, { id, bikeId })
  const { count } = await tx.comparable.updateMany({
    where: { id, version, withdrawnAt: null },
    data: { withdrawnAt: now, version: { increment: 1 } },
  })
  requireFresh(count, { version: String(before.version) })
  const body = { did: 'taken back', comparable: id, priceMinor: before.priceMinor, reason }
  return { answer: {}, event: { bikeId, body } }
})

export const reckonWithNotedInput = z.strictObject({ bike: idOf, version: versionOf })

/** Takes the three typed sale prices off a bike, so that the noted prices count. */
export const reckonWithNoted = deed('bike:change', reckonWithNotedInput, async (input, { tx }) => {
  const { bike: bikeId, version } = input
  const before = await bikeAsked(tx, bikeId)
  if ((await readNoted(tx, before)).length === 0)
    refuse('rule', 'No price is noted yet that could take its place. Note one first.')
  const none = { saleLowMinor: null, saleLikelyMinor: null, saleHighMinor: null }
  const { count } = await tx.bike.updateMany({
    where: { id: bikeId, version },
    data: { ...none, version: { increment: 1 } },
  })
  requireFresh(count, { version: String(before.version) })
  const changed = Object.fromEntries(
    Object.keys(none).map((key) => [key, { from: before[key as keyof typeof none], to: null }]),
  )
  return { answer: {}, event: { bikeId, body: { changed } } }
})

/** Of what is stored now, only what the person is about to change, and the version to save over. */
function whatDiffers(stored: Record<string, string>, typed: Record<string, string>): Record<string, string> {
  const entries = Object.entries(stored)
  return Object.fromEntries(entries.filter(([key, value]) => key === 'version' || typed[key] !== value))
}

export async function bikeAsked(tx: Tx, id: string) {
  return (await tx.bike.findUnique({ where: { id } })) ?? refuse('not-found', 'That bike is not there.')
}

async function modelOf(tx: Tx, bikeId: string) {
  const { make, makeKey, model, modelKey } = await bikeAsked(tx, bikeId)
  return { make, makeKey, model, modelKey }
}

async function comparableAsked(tx: Tx, { id, bikeId }: { id: string; bikeId: string }): Promise<NotedRow> {
  const bike = await bikeAsked(tx, bikeId)
  const row = await tx.comparable.findUnique({ where: { id } })
  if (!row || row.withdrawnAt || !isNotedFor(row, bike))
    return refuse('not-found', 'That price is not there (any more).')
  return row
}

export async function todayOf(tx: Tx, now: Date): Promise<string> {
  return dayIn((await tx.shop.findFirstOrThrow()).zone, now)
}
