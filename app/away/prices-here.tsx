import { useMemo } from 'react'
import { pricesAway } from '../../lib/shop/away-reckoned'
import { ActionForm } from '../_ui/action-form'
import { formatEstimate, formatMoney } from '../_ui/formats'
import { HiddenField } from '../_ui/hidden-field'
import { EmptyState, Notice } from '../_ui/notes'
import { Sheet } from '../_ui/sheet'
import { SubmitButton } from '../_ui/submit-button'
import { PriceFields } from '../(shop)/bikes/[bike]/prices/price-form'
import { PricePicture } from '../(shop)/bikes/[bike]/prices/price-picture'
import { notedWords } from '../(shop)/bikes/[bike]/prices/price-words'
import { formHere } from '../(shop)/form-here'
import { keptPrice } from './kept-deeds'
import { addressOf } from './place'
import type { Here } from './viewing-here'

/** The prices noted of bikes like this one and what they come to, with the form for one more. */
export function PricesHere({ here: { away, viewing, at } }: { here: Here }) {
  const prices = useMemo(() => pricesAway(at), [at])
  const { reckoned, notes, currency, typedSale } = prices
  const { id } = viewing.bike
  const note = formHere((input) => away.add(keptPrice(away.pack.person.id, input)))
  return (
    <>
      {typedSale && (
        <Notice title="The price that was said counts">
          What the bike should sell for was said with the deal, {formatMoney(typedSale.likely, currency)}.
          Noted prices count once that is left empty.
        </Notice>
      )}
      {reckoned ? (
        <Sheet
          title={`Likely sale price ${formatEstimate(reckoned.sale.likely, currency)}`}
          sub="With everything right, by what others of its kind are sold for."
        >
          <div className="flex flex-col gap-4">
            <PricePicture reckoned={reckoned} notes={notes} currency={currency} />
            {reckoned.says.map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
          </div>
        </Sheet>
      ) : (
        <EmptyState title="No price is noted yet">
          What a {prices.make} {prices.model} is offered for or went for: three or four are enough to begin
          with.
        </EmptyState>
      )}
      {notes.length > 0 && (
        <Sheet title="Prices noted" sub="Those that count most stand first.">
          <ul className="flex flex-col">
            {notes.map((one) => (
              <li key={one.id} className="border-b border-rule py-2 last:border-0">
                <strong>{formatMoney(one.priceMinor, currency)}</strong>{' '}
                <span className="text-soft">{notedWords(one)}</span>
              </li>
            ))}
          </ul>
        </Sheet>
      )}
      <div>
        <a href={addressOf(id, 'deal')} className="btn">
          Look at the deal
        </a>
      </div>
      <Sheet
        title="Note a price"
        sub={`Of another ${prices.make} ${prices.model}, or of a bike much like this one.`}
      >
        <ActionForm doneHere action={note} label="Note a price" done="Written down. It counts from now on.">
          <HiddenField name="bike" value={id} />
          <PriceFields
            currency={currency}
            typed={{
              asked: 'asked',
              market: '',
              lastSeenOn: prices.today,
              distanceUnit: prices.distanceUnit,
              condition: 'not known',
              year: prices.year?.toString() ?? '',
            }}
          />
          <div>
            <SubmitButton>Note this price</SubmitButton>
          </div>
        </ActionForm>
      </Sheet>
    </>
  )
}
