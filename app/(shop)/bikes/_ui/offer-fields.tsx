import { addDays } from '../../../../lib/core/quantity/days'
import { startingSubject } from '../../../../lib/shop/offer-sheet'
import { Field, TextArea } from '../../../_ui/field'
import { MoneyField } from '../../../_ui/money-field'

const offerDays = 7

/** The terms of an offer. */
export function OfferFields({ currency, today }: { currency: string; today: string }) {
  return (
    <>
      <div className="grid gap-4 sm:grid-cols-2">
        <MoneyField name="price" label="Price offered" currency={currency} required />
        <Field
          name="validUntil"
          label="Valid until"
          type="date"
          defaultValue={addDays(today, offerDays)}
          required
        />
      </div>
      <TextArea
        name="subjectTo"
        label="Subject to"
        hint="What must turn out to be so. The seller reads it."
        defaultValue={startingSubject}
        rows={3}
      />
    </>
  )
}
