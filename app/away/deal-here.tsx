import { useEffect, useState } from 'react'
import { type Away, dealAway } from '../../lib/shop/away-reckoned'
import type { DealShown } from '../../lib/shop/read-deal'
import { ActionForm } from '../_ui/action-form'
import { priceWords } from '../_ui/bike-name'
import { countOf, formatEstimate, formatMoney } from '../_ui/formats'
import { MoneyField } from '../_ui/money-field'
import { EmptyState, Notice } from '../_ui/notes'
import { Sheet } from '../_ui/sheet'
import { SubmitButton } from '../_ui/submit-button'
import { SaleFields } from '../(shop)/bikes/_ui/bike-form'
import { NextChecks } from '../(shop)/bikes/[bike]/deal/next-checks'
import { PriceLeaves } from '../(shop)/bikes/[bike]/deal/price-leaves'
import { Swings } from '../(shop)/bikes/[bike]/deal/swings'
import { ThreePricesShown } from '../(shop)/bikes/[bike]/deal/three-prices'
import { formHere } from '../(shop)/form-here'
import { keptSaid } from './kept-deeds'
import { addressOf } from './place'
import type { Here } from './viewing-here'

/** Works a deal out once the page has been drawn: it takes a phone a moment. */
function useDeal(at: Away): DealShown | null {
  const [worked, setWorked] = useState<{ at: Away; deal: DealShown } | null>(null)
  const { pack, seen, viewing, now } = at
  useEffect(() => {
    const asked = { pack, seen, viewing, now }
    const timer = setTimeout(() => setWorked({ at: asked, deal: dealAway(asked) }), 30)
    return () => clearTimeout(timer)
  }, [pack, seen, viewing, now])
  return worked?.at.viewing === viewing && worked.at.now === now ? worked.deal : null
}

/** The three prices, why they are what they are, and which check is worth making next. */
export function DealHere({ here }: { here: Here }) {
  const { viewing, at } = here
  const shown = useDeal(at)
  const { id } = viewing.bike
  if (shown === null) return <p role="status">Working it out …</p>
  const { deal, desk, currency } = shown
  return (
    <>
      {deal ? (
        <Reckoned bike={shown} deal={deal} />
      ) : (
        <EmptyState
          title="What should it sell for?"
          action={
            <a href={addressOf(id, 'prices')} className="btn">
              Note prices of similar bikes
            </a>
          }
        >
          With prices noted of similar bikes, or with a low, a likely and a high sale price said below, the
          most that may be paid for it stands here.
        </EmptyState>
      )}
      {deal && (
        <div>
          <a href={addressOf(id, 'offer')} className="btn">
            Make an offer
          </a>
        </div>
      )}
      {desk && (
        <NextChecks
          desk={desk}
          viewingNo={shown.viewingNo}
          currency={currency}
          addressOf={(check) => `${addressOf(id, 'round')}/${check}`}
        />
      )}
      <PricesSaid here={here} currency={currency} />
      {shown.resting.length > 0 && (
        <Notice title="Rests on starting values">
          {countOf(shown.resting.length, 'figure')} behind these prices{' '}
          {shown.resting.length === 1 ? 'is' : 'are'} still invented. A manager can set them.
        </Notice>
      )}
    </>
  )
}

function Reckoned({ bike, deal }: { bike: DealShown; deal: NonNullable<DealShown['deal']> }) {
  const { desk, currency, sale } = bike
  const { atPrice } = deal
  return (
    <>
      {desk?.prices ? (
        <ThreePricesShown
          prices={desk.prices}
          currency={currency}
          shares={{ open: desk.openShare, aim: desk.aimShare }}
          note={
            atPrice &&
            `${priceWords[atPrice.basis].toLowerCase()} ${formatMoney(atPrice.priceMinor, currency)}`
          }
        />
      ) : (
        <Notice title="No price keeps the rule">
          As things stand there is none at which it may be bought.
        </Notice>
      )}
      <div className="flex max-w-prose flex-col gap-1">
        <p className="text-lg">{deal.holdUp}</p>
        {sale.points && (
          <p>
            Likely sale price <strong>{formatEstimate(sale.points.likely, currency)}</strong>,{' '}
            {sale.basis === 'typed' ? 'as said.' : `by ${countOf(sale.noted, 'noted price')}.`}
          </p>
        )}
      </div>
      {atPrice && <PriceLeaves deal={deal} at={atPrice} currency={currency} />}
      <Sheet
        title="What moves the walk-away price"
        sub="One input at a time at its bad and at its good end; the rest as it is."
      >
        <Swings swings={deal.swings.slice(0, 3)} currency={currency} />
      </Sheet>
    </>
  )
}

/** What the seller asks, and what it should sell for: known here before it is anywhere else. */
function PricesSaid({ here: { away, viewing }, currency }: { here: Here; currency: string }) {
  const { bike } = viewing
  const was = {
    asking: bike.askingMinor,
    saleLow: bike.saleLowMinor,
    saleLikely: bike.saleLikelyMinor,
    saleHigh: bike.saleHighMinor,
  }
  const say = formHere((input) => away.add(keptSaid(away.pack.person.id, { ...input, bike: bike.id, was })))
  return (
    <Sheet
      title="Asked, and what it should sell for"
      sub="The sale price with everything right: all three, or none where noted prices should count."
    >
      <ActionForm doneHere action={say} label="Prices of the bike" done="It counts from now on.">
        <MoneyField
          name="asking"
          label="Asking price"
          hint="What the seller wants."
          currency={currency}
          defaultMinor={bike.askingMinor}
        />
        <SaleFields currency={currency} values={bike} />
        <div>
          <SubmitButton look="quiet">Reckon with these</SubmitButton>
        </div>
      </ActionForm>
    </Sheet>
  )
}
