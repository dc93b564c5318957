import { z } from 'zod'
import { addDays } from '../core/quantity/days'
import { allocate } from '../core/quantity/money'
import type { Tx } from '../data/store'
import type { LineRow } from './ask-part'
import { deed } from './deed'
import { dayOf, idOf, lineOrNull, moneyOf, most } from './fields'
import { dayIn } from './instants'
import { refuse, refuseField } from './refusal'
import { supplierAsked } from './suppliers'

/** A line as the list showed it: its id and the version that was seen. */
const lineSeen = z
  .string()
  .regex(/^[0-9a-f-]{36} [1-9]\d{0,8}$/, 'This page is out of date. Load it again.')
  .transform((text) => {
    const [id = '', version = ''] = text.split(' ')
    return { id, version: Number(version) }
  })

export const orderPartsInput = z.strictObject({
  /** Of the order, made where the person stands. */
  id: idOf,
  supplier: idOf,
  /** The lines that were on the list as it was sent. */
  lines: z.array(lineSeen).min(1, 'There is nothing on this list.').max(200),
  day: dayOf,
  /** What the delivery costs in all; it is shared out by what the lines come to. */
  carriage: moneyOf('Give what the delivery costs; 0 where it costs nothing.'),
  /** What the supplier knows it by. */
  reference: lineOrNull(most.line),
})

/**
 * What stood on a supplier's list is ordered: each line is due after its lead time and bears its share of the
 * carriage. A line that somebody changed since the list was printed refuses it all, so that nobody orders what he has
 * not seen; what was added since stays on the list.
 */
export const orderParts = deed('part:order', orderPartsInput, async (input, { tx, now, who }) => {
  const { id, supplier: supplierId, lines: seen, day, carriage, reference } = input
  const { name } = await supplierAsked(tx, supplierId)
  const { zone } = await tx.shop.findFirstOrThrow()
  if (day > dayIn(zone, now)) refuseField('day', 'That day is still to come. Give the day it was ordered.')
  if (await tx.partOrder.findUnique({ where: { id } })) refuse('rule', 'This is ordered already.')
  const lines = await linesSeen(tx, { supplierId, seen })
  await tx.partOrder.create({
    data: {
      ...{ id, supplierId, day, carriageMinor: carriage, personId: who.personId, at: now },
      reference: reference ?? '',
    },
  })
  const shares = sharesOf(carriage, lines)
  const ordered = lines.map((line, place) => ({
    ...line,
    dueOn: line.leadDays === null ? null : addDays(day, line.leadDays),
    carriageMinor: shares[place]!,
  }))
  for (const { id: lineId, dueOn, carriageMinor } of ordered)
    await tx.partLine.update({
      where: { id: lineId },
      data: { state: 'ordered', orderId: id, dueOn, carriageMinor, version: { increment: 1 } },
    })
  return { answer: { order: id }, event: eventsOf(ordered, name) }
})

async function linesSeen(
  tx: Tx,
  { supplierId, seen }: { supplierId: string; seen: readonly { id: string; version: number }[] },
): Promise<LineRow[]> {
  const rows = await tx.partLine.findMany({
    where: { supplierId, id: { in: seen.map(({ id }) => id) } },
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
  })
  const isAsSeen = ({ id, version, state }: LineRow) =>
    state === 'to order' && seen.some((one) => one.id === id && one.version === version)
  if (rows.length !== seen.length || !rows.every(isAsSeen))
    refuse('stale', 'This list is another by now. Look at it and order again.', { theirs: {} })
  return rows
}

/** By what the lines come to; where none has a price, by the line. */
function sharesOf(carriage: number, lines: readonly LineRow[]): number[] {
  const worth = lines.map(({ qty, unitMinor }) => qty * (unitMinor ?? 0))
  return allocate(carriage, worth.some((one) => one > 0) ? worth : lines.map(() => 1))
}

/** One for each bike, so that the story of each tells it. */
function eventsOf(lines: readonly LineRow[], supplier: string) {
  const bikes = [...new Set(lines.map(({ bikeId }) => bikeId))]
  return bikes.map((bikeId) => {
    const mine = lines.filter((line) => line.bikeId === bikeId)
    return {
      bikeId,
      body: {
        did: 'ordered',
        supplier,
        parts: mine.map(({ part, qty, dueOn }) => ({ what: part, qty, dueOn })),
        carriageMinor: mine.reduce((sum, { carriageMinor }) => sum + (carriageMinor ?? 0), 0),
      },
    }
  })
}
