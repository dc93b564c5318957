import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import { coreVersion } from '../core/board/version'
import { type Context, deed, requireFresh } from './deed'
import { workOutBike } from './facts'
import { dayOf, idOf, moneyOf, versionOf } from './fields'
import { refuse, refuseField } from './refusal'

export const makeOfferInput = z.strictObject({
  bike: idOf,
  version: versionOf,
  price: moneyOf('Give the price offered.'),
  validUntil: dayOf,
})

/**
 * Writes an offer down with the whole input of its calculation. It is worked out afresh from what is stored at
 * this moment, never from a kept result.
 */
export const makeOffer = deed('offer:make', makeOfferInput, {
  prepare: ({ bike }, { store, now }: Context) => workOutBike(store.db, { bikeId: bike, now }),
  work: async (input, { tx, now, who }, { result, shop, stage }) => {
    const { bike: bikeId, version, price, validUntil } = input
    if (stage !== 'viewing' && stage !== 'offered')
      refuse('rule', 'An offer is made on a bike that is being viewed.')
    if (validUntil < shop.today) refuseField('validUntil', 'That day is past. Give today or a later day.')
    const { count } = await tx.bike.updateMany({
      where: { id: bikeId, version },
      data: { stage: 'offered', version: { increment: 1 } },
    })
    requireFresh(count, {})
    const id = uuidv7()
    await tx.offer.create({
      data: {
        id,
        bikeId,
        priceMinor: price,
        validUntil,
        input: JSON.stringify(result.dealInput),
        output: JSON.stringify(result.deal),
        coreVersion,
        personId: who.personId,
        at: now,
      },
    })
    return { answer: { offer: id }, event: { bikeId, body: { priceMinor: price, validUntil } } }
  },
})
