import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import { typedMoney } from '../../lib/core/quantity/typed-money'
import { offerAway } from '../../lib/shop/away-reckoned'
import { moneyOf } from '../../lib/shop/fields'
import { storedSheet } from '../../lib/shop/offer-sheet'
import { offerTerms } from '../../lib/shop/offer-terms'
import { parseInput } from '../../lib/shop/parse-input'
import { ActionForm } from '../_ui/action-form'
import { formatDay, formatInstant, formatMoney } from '../_ui/formats'
import { MoneyField } from '../_ui/money-field'
import { EmptyState, Notice } from '../_ui/notes'
import { Sheet } from '../_ui/sheet'
import { SubmitButton } from '../_ui/submit-button'
import { OfferFields } from '../(shop)/bikes/_ui/offer-fields'
import { saidWords } from '../(shop)/bikes/[bike]/offer/offer-words'
import { SellerSheet } from '../(shop)/bikes/[bike]/offer/seller-sheet'
import { formHere } from '../(shop)/form-here'
import { kept } from './kept-deeds'
import { addressOf, goTo } from './place'
import type { Here } from './viewing-here'

const offerInput = z.strictObject(offerTerms)
const answerInput = z.strictObject({ amount: moneyOf('Give the figure that was named.') })

/** Makes an offer, which the phone freezes with the sheet the seller is shown, and lists those made. */
export function OfferHere({ here }: { here: Here }) {
  const { away, viewing, at, today } = here
  const { bike } = viewing
  const { currency, zone } = away.pack.shop
  const author = away.pack.person.id
  const offer = formHere((input) => {
    const terms = parseInput(offerInput, input)
    const made = offerAway({ ...at, now: new Date() }, terms)
    const body = { id: uuidv7(), bike: bike.id, ...terms, made }
    const typed = typedMoney(terms.price)
    away.add({ ...kept({ author, deed: 'make-offer', body, label: 'Offer', typed }), id: body.id })
    goTo(addressOf(bike.id, 'sheet'))
  })
  return (
    <>
      {bike.offers.length > 0 && (
        <Sheet title="Offers made">
          <ul className="flex flex-col">
            {bike.offers.map(({ id, priceMinor, at: when, validUntil, counters }, index) => (
              <li key={id} className="border-b border-rule py-2 last:border-0">
                <strong>{formatMoney(priceMinor, currency)}</strong> on {formatInstant(when, zone)},{' '}
                {validUntil < today ? 'ran out on' : 'valid until'} {formatDay(validUntil)}
                {counters.map((one) => (
                  <span key={one.id} className="block">
                    {saidWords[one.said as keyof typeof saidWords]}{' '}
                    <strong>{formatMoney(one.amountMinor, currency)}</strong>
                  </span>
                ))}
                {index === 0 && (
                  <a href={addressOf(bike.id, 'sheet')} className="btn mt-2">
                    Show the seller&rsquo;s sheet
                  </a>
                )}
              </li>
            ))}
          </ul>
        </Sheet>
      )}
      <Sheet
        title={bike.offers.length > 0 ? 'Another offer' : 'Offer'}
        sub="Written down with all it rests on. What is said to the seller stands, whatever changes at the shop meanwhile."
      >
        <ActionForm doneHere action={offer} label="Offer">
          <OfferFields currency={currency} today={today} />
          <div>
            <SubmitButton>Write the offer down</SubmitButton>
          </div>
        </ActionForm>
      </Sheet>
    </>
  )
}

/** What is held out to the seller: nothing of the shop's side is on it, and the way back is a link at its foot. */
export function SheetForSeller({ here: { away, viewing } }: { here: Here }) {
  const { bike } = viewing
  const [latest] = bike.offers
  const sheet = latest ? storedSheet(latest.sheet) : null
  if (!latest || !sheet) {
    return (
      <EmptyState
        title="No offer has been made on this bike."
        action={
          <a href={addressOf(bike.id, 'offer')} className="btn">
            Make an offer
          </a>
        }
      >
        Once one is written down its sheet for the seller stands here.
      </EmptyState>
    )
  }
  const author = away.pack.person.id
  const answer = formHere((input) => {
    const { amount } = parseInput(answerInput, input)
    const body = { id: uuidv7(), offer: latest.id, said: 'seller', amount, note: null }
    const typed = typedMoney(amount)
    away.add({
      ...kept({ author, deed: 'counter-offer', body, label: 'Answer to the offer', typed }),
      id: body.id,
    })
  })
  return (
    <div className="mx-auto flex w-full max-w-2xl flex-col gap-6">
      <h1 className="sr-only">The seller&rsquo;s sheet</h1>
      <SellerSheet sheet={sheet} />
      {latest.counters.map(({ id, said, amountMinor }) => (
        <Notice key={id}>
          {saidWords[said as keyof typeof saidWords]}{' '}
          <strong>{formatMoney(amountMinor, sheet.currency)}</strong>
        </Notice>
      ))}
      <Sheet title="What the seller says to it">
        <ActionForm doneHere action={answer} label="Counter-offer" done="It is written down.">
          <MoneyField name="amount" label="Figure named" currency={sheet.currency} required />
          <div>
            <SubmitButton look="quiet">Write it down</SubmitButton>
          </div>
        </ActionForm>
      </Sheet>
      <p>
        <a href={addressOf(bike.id, 'offer')} className="tap">
          Back to the viewing
        </a>
      </p>
    </div>
  )
}
