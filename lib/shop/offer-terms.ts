import { z } from 'zod'
import { type BikeResult, type BikeToWorkOut, workOut } from '../core/board/bike-result'
import type { MoneyLack } from '../core/checks/money-gate'
import type { DistanceTold } from './distances-of'
import type { BikeWithFacts, ShopFacts } from './facts'
import { dayOf, idOf, moneyOf, most, versionOf } from './fields'
import { startingSubject } from './offer-sheet'
import { refuse, refuseField } from './refusal'

/* The terms of an offer, what it rests on, and what stands in its way. */

/** What is offered: the price, until when, and what must turn out to be so. */
export const offerTerms = {
  price: moneyOf('Give the price offered.'),
  validUntil: dayOf,
  /** What must turn out to be so; the seller reads it. Left out it is what a form begins with. */
  subjectTo: z
    .string()
    .trim()
    .max(most.reason, `Keep it to ${most.reason} characters.`)
    .refine((text) => !text.includes('\u0000'), 'Take the unreadable character out.')
    .default(startingSubject),
}

export const makeOfferInput = z.strictObject({ bike: idOf, version: versionOf, ...offerTerms })

/** What an offer rests on: everything of the bike, worked out at the price that is offered. */
export type OfferReckoned = {
  bike: BikeWithFacts
  shop: ShopFacts
  result: BikeResult
  distance: DistanceTold
}

/** The bike worked out at the price that is offered. */
export function offerReckoned(
  input: BikeToWorkOut,
  { priceMinor, ...known }: Omit<OfferReckoned, 'result'> & { priceMinor: number },
): OfferReckoned {
  return { ...known, result: workOut({ ...input, price: { amountMinor: priceMinor, basis: 'offered' } }) }
}

export function requireBeforeBuying(stage: string): void {
  if (stage !== 'viewing' && stage !== 'offered')
    refuse('rule', 'An offer is made on a bike that is being viewed.')
}

export function requireStillToCome(validUntil: string, today: string): void {
  if (validUntil < today) refuseField('validUntil', 'That day is past. Give today or a later day.')
}

/** Money may not even be promised for a bike that may never be bought. */
export function refuseNever(lacks: readonly MoneyLack[]): void {
  const never = lacks.filter((lack) => lack.never)
  if (never.length === 0) return
  const why = never.map(({ says }) => says).join(' ')
  refuse('rule', `No offer can be made: this bike may never be bought. ${why}`)
}
