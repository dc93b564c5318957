import { z } from 'zod'
import { moneyStanding, standingWords } from '../core/checks/money-gate'
import type { Tx } from '../data/store'
import { deed, requireFresh } from './deed'
import { dayOf, idOf, moneyOf, reasonOf, versionOf } from './fields'
import { moneyLacksOf } from './identity'
import { dayIn } from './instants'
import { refuse, refuseField } from './refusal'
import type { Stage } from './stage-names'

const notYetOurs: readonly string[] = ['viewing', 'offered']

async function bikeInStage(tx: Tx, given: { id: string; from: readonly string[]; refusal: string }) {
  const bike = await tx.bike.findUnique({ where: { id: given.id } })
  if (!bike) return refuse('not-found', 'That bike is not there.')
  if (!given.from.includes(bike.stage)) return refuse('rule', given.refusal)
  return bike
}

async function moveTo(tx: Tx, given: { id: string; version: number; stage: Stage; stockNo?: number }) {
  const { id, version, stage, stockNo } = given
  const { count } = await tx.bike.updateMany({
    where: { id, version },
    data: { stage, ...(stockNo === undefined ? {} : { stockNo }), version: { increment: 1 } },
  })
  requireFresh(count, {})
}

export const buyBikeInput = z.strictObject({
  bike: idOf,
  version: versionOf,
  price: moneyOf('Give the price paid.'),
  day: dayOf,
})

/** Bought: the price paid, the day, and the next stock number, drawn in the same transaction. */
export const buyBike = deed('bike:buy', buyBikeInput, async (input, { tx, now, who }) => {
  const { bike: id, version, price, day } = input
  await bikeInStage(tx, {
    id,
    from: notYetOurs,
    refusal: 'This bike is no longer being viewed, so it cannot be bought.',
  })
  const shop = await tx.shop.findFirstOrThrow()
  if (day > dayIn(shop.zone, now))
    return refuseField('day', 'That day is still to come. Give the day it was bought.')
  const lacks = await moneyLacksOf(tx, { bikeId: id, now })
  if (lacks.length > 0) {
    const standing = moneyStanding(lacks)
    const said = lacks.filter(({ never }) => never || standing !== 'never').map(({ says }) => says)
    return refuse('rule', `${standingWords[standing]} ${said.join(' ')}`)
  }

  const { _max } = await tx.bike.aggregate({ _max: { stockNo: true } })
  const stockNo = (_max.stockNo ?? 0) + 1
  await moveTo(tx, { id, version, stage: 'bought', stockNo })
  await tx.purchase.create({ data: { bikeId: id, priceMinor: price, day, personId: who.personId, at: now } })
  return { answer: { stockNo }, event: { bikeId: id, body: { stockNo, priceMinor: price, day } } }
})

export const passUpInput = z.strictObject({ bike: idOf, version: versionOf, reason: reasonOf })

export const passUp = deed('bike:pass-up', passUpInput, async ({ bike: id, version, reason }, { tx }) => {
  await bikeInStage(tx, { id, from: notYetOurs, refusal: 'Only a bike that is not bought can be passed up.' })
  await moveTo(tx, { id, version, stage: 'passed up' })
  return { answer: {}, event: { bikeId: id, body: { reason } } }
})

export const putOnBenchInput = z.strictObject({ bike: idOf, version: versionOf })

export const putOnBench = deed(
  'bike:put-on-bench',
  putOnBenchInput,
  async ({ bike: id, version }, { tx }) => {
    await bikeInStage(tx, {
      id,
      from: ['bought'],
      refusal: 'Only a bike that is bought can go on the bench.',
    })
    await moveTo(tx, { id, version, stage: 'on the bench' })
    return { answer: {}, event: { bikeId: id, body: {} } }
  },
)

export const backOnBenchInput = z.strictObject({ bike: idOf, version: versionOf, reason: reasonOf })

/**
 * From ready back to the bench, for a reason that everybody reads. What was proven before stays proven as long as
 * nothing is worked on: readiness asks by the instants of the work and not by the stage.
 */
export const backOnBench = deed('bike:put-on-bench', backOnBenchInput, async (input, { tx }) => {
  const { bike: id, version, reason } = input
  await bikeInStage(tx, {
    id,
    from: ['ready'],
    refusal: 'Only a bike that is ready goes back to the bench.',
  })
  await moveTo(tx, { id, version, stage: 'on the bench' })
  return { answer: {}, event: { bikeId: id, body: { reason } } }
})
