import { uuidv7 } from 'uuidv7'
import type { CounterSide } from '../../../../../lib/shop/counter-offer'
import { ActionForm } from '../../../../_ui/action-form'
import { RadioField } from '../../../../_ui/choice-fields'
import { TextArea } from '../../../../_ui/field'
import { HiddenField } from '../../../../_ui/hidden-field'
import { MoneyField } from '../../../../_ui/money-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { noteCounterOfferAction } from './actions'

/** A figure named in answer to an offer. On the seller's side only his own is written down. */
export function CounterForm({
  offer,
  currency,
  sides,
}: {
  offer: string
  currency: string
  sides: readonly CounterSide[]
}) {
  return (
    <ActionForm action={noteCounterOfferAction} label="Counter-offer" done="It is written down.">
      <HiddenField name="id" value={uuidv7()} />
      <HiddenField name="offer" value={offer} />
      {sides.length > 1 ? (
        <RadioField
          name="said"
          label="Who named it"
          defaultValue="seller"
          required
          columns={2}
          choices={[
            { value: 'seller', label: 'The seller' },
            { value: 'shop', label: 'The shop', hint: 'Another figure is a new offer, until the same day.' },
          ]}
        />
      ) : (
        <HiddenField name="said" value="seller" />
      )}
      <MoneyField name="amount" label="Figure named" currency={currency} required />
      {sides.length > 1 && (
        <TextArea name="note" label="Note" hint="Not shown on the seller's side." rows={2} />
      )}
      <div>
        <SubmitButton look="quiet">Write it down</SubmitButton>
      </div>
    </ActionForm>
  )
}
