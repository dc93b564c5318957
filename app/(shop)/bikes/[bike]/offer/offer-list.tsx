import Link from 'next/link'
import type { OfferForShop, SellerOffers } from '../../../../../lib/shop/read-offer'
import { formatDay, formatInstant, formatMoney } from '../../../../_ui/formats'
import { saidWords } from './offer-words'

/** Every offer on the bike, newest first, with what was said to each. */
export function OfferList({ page, notes }: { page: SellerOffers; notes: OfferForShop['notes'] | null }) {
  const { offers, shown, currency, zone, today, viewingNo } = page
  return (
    <ol className="flex flex-col">
      {offers.map((offer) => (
        <li key={offer.id} className="border-b border-rule py-2 last:border-0">
          <p className="flex flex-wrap items-center justify-between gap-x-4">
            <span>
              <strong>{formatMoney(offer.priceMinor, currency)}</strong> on {formatInstant(offer.at, zone)},{' '}
              {offer.validUntil < today ? 'ran out on' : 'valid until'} {formatDay(offer.validUntil)}
            </span>
            {offer.id === shown?.id ? (
              <span className="text-soft">shown above</span>
            ) : (
              <Link href={`/bikes/${viewingNo}/offer?offer=${offer.id}`} className="tap">
                Its sheet
              </Link>
            )}
          </p>
          {offer.counters.length > 0 && (
            <ul className="ml-1.5 border-l-2 border-rule pl-4">
              {offer.counters.map(({ id, said, amountMinor, at }) => {
                const note = notes?.get(id)
                return (
                  <li key={id} className="py-1">
                    {saidWords[said]} <strong>{formatMoney(amountMinor, currency)}</strong>{' '}
                    <span className="text-soft">
                      {formatInstant(at, zone)}
                      {note && `, noted by ${note.who}`}
                    </span>
                    {note?.note && <span className="block">{note.note}</span>}
                  </li>
                )
              })}
            </ul>
          )}
        </li>
      ))}
    </ol>
  )
}
