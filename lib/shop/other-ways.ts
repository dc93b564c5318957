import { z } from 'zod'
import type { Db } from '../data/store'
import { deed, requireFresh } from './deed'
import { idOf, moneyOrNull, numberOrNull } from './fields'
import { type OtherWaysShown, otherWaysShown } from './other-ways-of'
import { refuse } from './refusal'

/** Low, likely and high: all of them, or none. */
export const threeAmounts = z
  .strictObject({ low: moneyOrNull, likely: moneyOrNull, high: moneyOrNull })
  .superRefine(({ low, likely, high }, context) => {
    const at = (field: string, message: string) =>
      context.addIssue({ code: 'custom', path: [field], message })
    const given = { low, likely, high }
    const missing = Object.entries(given).find(([, minor]) => minor === null)?.[0]
    if (Object.values(given).every((minor) => minor === null)) return
    if (missing) return at(missing, 'Give all three amounts, or none.')
    if (low! > likely!) at('low', 'Low must not be above likely.')
    if (likely! > high!) at('high', 'High must not be below likely.')
  })

const ticked = z.enum(['yes']).optional()

export const noteOtherWaysInput = z.strictObject({
  bike: idOf,
  /** 0 where nothing was noted yet. */
  version: z.coerce.number().int().min(0),
  trade: threeAmounts,
  parts: threeAmounts,
  stripHours: numberOrNull({ min: 0, max: 500, message: 'Give hours in figures, like 6.' }),
  breakCost: moneyOrNull,
  wastePermit: ticked,
  registryNotice: ticked,
})

/** What a bike would bring without being put right: on to the trade as it stands, or broken for parts. */
export const noteOtherWays = deed('ways:note', noteOtherWaysInput, async (input, { tx, now, who }) => {
  const { bike: bikeId, version, trade, parts, stripHours, breakCost } = input
  if (!(await tx.bike.findUnique({ where: { id: bikeId } }))) refuse('not-found', 'That bike is not there.')
  const noted = {
    tradeLowMinor: trade.low,
    tradeLikelyMinor: trade.likely,
    tradeHighMinor: trade.high,
    partsLowMinor: parts.low,
    partsLikelyMinor: parts.likely,
    partsHighMinor: parts.high,
    stripHours,
    breakCostMinor: breakCost,
    wastePermit: input.wastePermit === 'yes',
    registryNotice: input.registryNotice === 'yes',
    personId: who.personId,
    at: now,
  }
  if (version === 0) {
    if (await tx.otherWays.findUnique({ where: { bikeId } })) requireFresh(0, {})
    await tx.otherWays.create({ data: { bikeId, ...noted } })
  } else {
    const { count } = await tx.otherWays.updateMany({
      where: { bikeId, version },
      data: { ...noted, version: { increment: 1 } },
    })
    requireFresh(count, {})
  }
  const { personId: _, at: __, ...body } = noted
  return { answer: {}, event: { bikeId, body } }
})

/** What is noted of one bike's other ways; nothing noted is version 0. */
export async function readOtherWays(db: Db, bikeId: string): Promise<OtherWaysShown> {
  const row = await db.otherWays.findUnique({ where: { bikeId } })
  return otherWaysShown(row)
}
