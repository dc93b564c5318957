import { addDays } from '../../../../lib/core/quantity/days'
import type { BikeForMoney } from '../../../../lib/shop/read-bike'
import { mayDo, type Role } from '../../../../lib/shop/who-may'
import { ActionForm } from '../../../_ui/action-form'
import { Disclosure } from '../../../_ui/disclosure'
import { Field, TextArea } from '../../../_ui/field'
import { HiddenField, VersionField } from '../../../_ui/hidden-field'
import { MoneyField } from '../../../_ui/money-field'
import { SubmitButton } from '../../../_ui/submit-button'
import { buyBikeAction, makeOfferAction, passUpAction, putOnBenchAction } from './actions'

type BikeSaved = Pick<BikeForMoney, 'id' | 'version'>

/** How a bike goes on from its stage. */
export function StageForms({ bike, roles }: { bike: BikeForMoney; roles: readonly Role[] }) {
  if (bike.stage === 'bought' && mayDo(roles, 'bike:put-on-bench')) {
    return (
      <ActionForm action={putOnBenchAction} label="Put on the bench" className="no-print">
        <Saved bike={bike} />
        <SubmitButton look="quiet">Put it on the bench</SubmitButton>
      </ActionForm>
    )
  }
  if (bike.stage !== 'viewing' && bike.stage !== 'offered') return null
  return (
    <section aria-label="Go on with this bike" className="no-print flex flex-col border-y border-rule">
      <Disclosure summary={<span className="font-semibold">Write an offer down</span>}>
        <OfferForm bike={bike} currency={bike.currency} today={bike.today} />
      </Disclosure>
      <Disclosure summary={<span className="font-semibold">It is bought</span>}>
        <ActionForm action={buyBikeAction} label="Bought">
          <Saved bike={bike} />
          <MoneyField name="price" label="Price paid" currency={bike.currency} required />
          <Field name="day" label="Day" type="date" defaultValue={bike.today} required />
          <div>
            <SubmitButton>Buy it: draw a stock number</SubmitButton>
          </div>
        </ActionForm>
      </Disclosure>
      <Disclosure summary={<span className="font-semibold">Pass it up</span>}>
        <ActionForm action={passUpAction} label="Pass up">
          <Saved bike={bike} />
          <TextArea name="reason" label="Why" rows={2} required />
          <div>
            <SubmitButton look="quiet">Pass it up</SubmitButton>
          </div>
        </ActionForm>
      </Disclosure>
    </section>
  )
}

const offerDays = 7

/** An offer with the day until which it holds. */
export function OfferForm({ bike, currency, today }: { bike: BikeSaved; currency: string; today: string }) {
  return (
    <ActionForm action={makeOfferAction} label="Offer" done="The offer is written down.">
      <Saved bike={bike} />
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
      <div>
        <SubmitButton>Write the offer down</SubmitButton>
      </div>
    </ActionForm>
  )
}

function Saved({ bike }: { bike: BikeSaved }) {
  return (
    <>
      <HiddenField name="bike" value={bike.id} />
      <VersionField version={bike.version} />
    </>
  )
}
