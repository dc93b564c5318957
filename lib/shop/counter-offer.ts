import { z } from 'zod'
import { type Context, deed } from './deed'
import { idOf, lineOrNull, moneyOf, most } from './fields'
import { reckonOffer, requireBuyable, writeOffer } from './make-offer'
import { requireBeforeBuying } from './offer-terms'
import { refuse } from './refusal'

export const counterSides = ['seller', 'shop'] as const
export type CounterSide = (typeof counterSides)[number]

export const noteCounterOfferInput = z.strictObject({
  id: idOf,
  offer: idOf,
  said: z.enum(counterSides, { error: 'Say who named the figure.' }),
  amount: moneyOf('Give the figure that was named.'),
  note: lineOrNull(most.reason),
})

/**
 * Writes down a figure named in answer to the latest offer. One that the shop names in its place is an offer of its
 * own, until the same day and subject to the same, so that the price counted is always that of an offer.
 */
export const noteCounterOffer = deed('offer:counter', noteCounterOfferInput, {
  prepare: async ({ offer: id, said, amount }, context: Context) => {
    if (said === 'seller') return null
    const offer = await context.store.db.offer.findUnique({ where: { id } })
    if (!offer || offer.priceMinor === amount) return null
    return reckonOffer(context, { bikeId: offer.bikeId, priceMinor: amount })
  },
  work: async ({ id, offer: offerId, said, amount, note }, inside, reckoned) => {
    const { tx, now, who } = inside
    const offer = await tx.offer.findUnique({ where: { id: offerId }, include: { bike: true } })
    if (!offer) return refuse('not-found', 'That offer is not there.')
    const { bikeId, bike, validUntil, subjectTo } = offer
    requireBeforeBuying(bike.stage)
    if (await tx.counterOffer.findUnique({ where: { id } }))
      return refuse('rule', 'This is written down already.')
    if (said === 'shop' && who.sellerSide)
      return refuse('rule', "The shop's own figure needs the PIN. Leave the seller's side first.")
    const latest = await tx.offer.findFirst({ where: { bikeId }, orderBy: [{ at: 'desc' }, { id: 'desc' }] })
    if (latest?.id !== offerId) return refuse('rule', 'A newer offer has been made. Look at it first.')

    await tx.counterOffer.create({
      data: { id, offerId, said, amountMinor: amount, note: note ?? '', personId: who.personId, at: now },
    })
    const event = { said, amountMinor: amount, note }
    if (!reckoned) return { answer: { offer: offerId }, event: { bikeId, body: event } }

    if (validUntil < reckoned.shop.today) refuse('rule', 'That offer has run out. Write a new one down.')
    await requireBuyable(tx, { bikeId, now })
    await tx.bike.update({ where: { id: bikeId }, data: { stage: 'offered', version: { increment: 1 } } })
    const made = await writeOffer(inside, { reckoned, priceMinor: amount, validUntil, subjectTo })
    return { answer: { offer: made }, event: { bikeId, body: { ...event, offer: made, validUntil } } }
  },
})
