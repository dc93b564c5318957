import { storedSheet } from '../../lib/shop/offer-sheet'
import { bikeName } from '../_ui/bike-name'
import { EmptyState } from '../_ui/notes'
import { PageHead } from '../_ui/page-head'
import { SellerSheet } from '../(shop)/bikes/[bike]/offer/seller-sheet'
import { addressOf, listAddress, type Place } from './place'
import type { AwayDone } from './use-away'

/** While the seller looks on: the sheets that were handed over, and nothing of the shop's side. */
export function BesideSeller({ away: { seen }, place }: { away: AwayDone; place: Place }) {
  const bike =
    place.at === 'viewing' ? seen.viewings.find((one) => one.bike.id === place.bike)?.bike : undefined
  const sheet = bike?.offers[0] ? storedSheet(bike.offers[0].sheet) : null
  if (bike && sheet) {
    return (
      <div className="mx-auto flex w-full max-w-2xl flex-col gap-6">
        <h1 className="sr-only">The seller&rsquo;s sheet</h1>
        <SellerSheet sheet={sheet} />
        <p>
          <a href={listAddress} className="tap">
            All offers
          </a>
        </p>
      </div>
    )
  }
  const offered = seen.viewings.filter((one) => one.bike.offers.length > 0)
  return (
    <>
      <PageHead
        title="Seller’s side"
        sub="Only the sheets of offers open here. Your own side opens with your PIN, which needs the network."
      >
        <a href="/seller-side" className="btn-quiet">
          PIN to go on
        </a>
      </PageHead>
      {offered.length === 0 ? (
        <EmptyState title="No offer has been made" />
      ) : (
        <ul className="flex flex-col">
          {offered.map((one) => (
            <li key={one.bike.id} className="border-b border-rule">
              <a href={addressOf(one.bike.id, 'sheet')} className="tap w-full">
                The offer for {bikeName(one.bike)}
              </a>
            </li>
          ))}
        </ul>
      )}
    </>
  )
}
