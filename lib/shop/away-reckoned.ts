import { coreVersion } from '../core/board/version'
import { moneyGate } from '../core/checks/money-gate'
import { notedOf, type OfferMade, type Seen } from './away-viewings'
import { checkSheetOf } from './check-sheet-of'
import { dealOf } from './deal-of'
import { distancesOf, distanceTold } from './distances-of'
import { dayIn } from './instants'
import { asRegisterWords, frameOf, moneyWordsOf } from './money-words'
import { sheetOf } from './offer-sheet'
import { offerReckoned, refuseNever, requireBeforeBuying, requireStillToCome } from './offer-terms'
import { otherWaysShown } from './other-ways-of'
import { type Pack, shopOf, type ViewingInPack } from './pack'
import { pricesOf } from './prices-of'
import type { PricesNoted } from './read-comparables'
import type { DealShown } from './read-deal'
import type { Sheet } from './read-sheet'
import { toWorkOut } from './to-work-out'

/* One viewing away from the shop, by the same lines that the pages of the server are made by. */

export type Away = { pack: Pack; seen: Seen; viewing: ViewingInPack; now: Date }

export function sheetAway({ pack, viewing, now }: Omit<Away, 'seen'>): Sheet {
  const { id: personId, name, roles } = pack.person
  return checkSheetOf(viewing.bike, {
    shop: shopOf(pack, now),
    ownLimits: viewing.ownLimits,
    limitIds: viewing.limitIds,
    names: new Map(pack.names),
    instruments: pack.instruments,
    reader: { personId, name, roles },
    now,
  })
}

export function dealAway({ pack, seen, viewing, now }: Away): DealShown {
  return dealOf(viewing.bike, {
    shop: shopOf(pack, now),
    ownLimits: viewing.ownLimits,
    noted: notedOf(seen, viewing),
    otherWays: otherWaysShown(viewing.bike.otherWays),
    // What was tried out lies at the shop.
    kept: [],
    now,
  })
}

export function pricesAway({ pack, seen, viewing, now }: Away): PricesNoted {
  const noted = notedOf(seen, viewing)
  return pricesOf(viewing.bike, { shop: shopOf(pack, now), noted, names: new Map(pack.names) })
}

type Terms = { price: number; validUntil: string; subjectTo: string }

/**
 * An offer as it is said to the seller: the sheet shown to him, and what it was made by.
 * @throws Refusal where none can be made
 */
export function offerAway({ pack, seen, viewing, now }: Away, terms: Terms): OfferMade {
  const { bike, ownLimits } = viewing
  const shop = shopOf(pack, now)
  const { zone } = shop
  requireBeforeBuying(bike.stage)
  requireStillToCome(terms.validUntil, shop.today)
  refuseNever(lacksAway({ pack, viewing, now }))
  const { notes, rides } = { notes: bike.distances, rides: bike.rides }
  const distance = distanceTold(bike, distancesOf(bike, { notes, rides, zone }))
  const input = toWorkOut(bike, { shop, ownLimits, noted: notedOf(seen, viewing), now })
  const reckoned = offerReckoned(input, { bike, shop, distance, priceMinor: terms.price })
  const { price: offerMinor, validUntil, subjectTo } = terms
  return {
    at: now.toISOString(),
    figuresNo: shop.figuresNo,
    coreVersion,
    walkAway: reckoned.result.deal?.walkAway ?? null,
    sheet: sheetOf({ ...reckoned, offerMinor, validUntil, subjectTo }),
  }
}

/** What keeps the bike from being bought, as far as it is known here. */
export function lacksAway({ pack, viewing: { bike }, now }: Omit<Away, 'seen'>) {
  const { zone, catalogue } = pack.shop
  const said = {
    registers: asRegisterWords(bike.registers),
    identity: bike.identity,
    frame: frameOf(bike.readings, catalogue.checks),
    today: dayIn(zone, now),
  }
  return moneyGate(moneyWordsOf(said).words)
}
