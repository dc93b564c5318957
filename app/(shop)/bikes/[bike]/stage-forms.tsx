import Link from 'next/link'
import { type MoneyLack, moneyStanding, standingWords } from '../../../../lib/core/checks/money-gate'
import type { BikeForMoney } from '../../../../lib/shop/read-bike'
import { mayDo, type Role } from '../../../../lib/shop/who-may'
import { ActionForm } from '../../../_ui/action-form'
import { Disclosure } from '../../../_ui/disclosure'
import { Field, TextArea } from '../../../_ui/field'
import { HiddenField, VersionField } from '../../../_ui/hidden-field'
import { MoneyField } from '../../../_ui/money-field'
import { SubmitButton } from '../../../_ui/submit-button'
import { OfferFields } from '../_ui/offer-fields'
import { backOnBenchAction, buyBikeAction, makeOfferAction, passUpAction, putOnBenchAction } from './actions'
import { placeOfLack } from './identity/lack-places'

type BikeSaved = Pick<BikeForMoney, 'id' | 'version' | 'viewingNo'>

/** How a bike goes on from its stage. */
export function StageForms({
  bike,
  lacks,
  roles,
}: {
  bike: BikeForMoney
  /** What keeps it from being bought. */
  lacks: readonly MoneyLack[]
  roles: readonly Role[]
}) {
  if (bike.stage === 'bought' && mayDo(roles, 'bike:put-on-bench')) {
    return (
      <ActionForm action={putOnBenchAction} label="Put on the bench" className="no-print">
        <Saved bike={bike} />
        <SubmitButton look="quiet">Put it on the bench</SubmitButton>
      </ActionForm>
    )
  }
  if (bike.stage === 'ready' && mayDo(roles, 'bike:put-on-bench')) {
    return (
      <section aria-label="Back to the bench" className="no-print border-y border-rule">
        <Disclosure summary={<span className="font-semibold">Take it back to the bench</span>}>
          <ActionForm action={backOnBenchAction} label="Back to the bench">
            <Saved bike={bike} />
            <p className="max-w-prose">
              What is proven stays proven while nothing is worked on. Whatever is worked on is proven anew,
              with a final ride and a second look after it.
            </p>
            <TextArea name="reason" label="Why" hint="Everybody at the bench reads it." rows={2} required />
            <div>
              <SubmitButton look="quiet">Take it back</SubmitButton>
            </div>
          </ActionForm>
        </Disclosure>
      </section>
    )
  }
  if (bike.stage !== 'viewing' && bike.stage !== 'offered') return null
  return (
    <section
      id="go-on"
      aria-label="Go on with this bike"
      className="no-print flex flex-col border-y border-rule"
    >
      <Disclosure summary={<span className="font-semibold">Write an offer down</span>}>
        {lacks.some(({ never }) => never) ? (
          <NotYetBought lacks={lacks} viewingNo={bike.viewingNo} />
        ) : (
          <OfferForm bike={bike} currency={bike.currency} today={bike.today} />
        )}
      </Disclosure>
      <Disclosure summary={<span className="font-semibold">It is bought</span>}>
        {lacks.length > 0 ? (
          <NotYetBought lacks={lacks} viewingNo={bike.viewingNo} />
        ) : (
          <ActionForm action={buyBikeAction} label="Bought">
            <Saved bike={bike} />
            <MoneyField name="price" label="Price paid" currency={bike.currency} required />
            <Field name="day" label="Day" type="date" defaultValue={bike.today} required />
            <div>
              <SubmitButton>Buy it: draw a stock number</SubmitButton>
            </div>
          </ActionForm>
        )}
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

/** What stands between it and being bought, each with the way to where it is noted. */
function NotYetBought({ lacks, viewingNo }: { lacks: readonly MoneyLack[]; viewingNo: number }) {
  const standing = moneyStanding(lacks)
  const shown = standing === 'never' ? lacks.filter(({ never }) => never) : lacks
  return (
    <div className="flex flex-col gap-1">
      <p className="font-semibold">{standingWords[standing]}</p>
      <ul className="flex flex-col">
        {shown.map((lack) => (
          <li key={`${lack.of} ${lack.about}`} className="border-b border-rule last:border-0">
            <Link href={`/bikes/${viewingNo}/identity${placeOfLack(lack)}`} className="tap w-full">
              {lack.says}
            </Link>
          </li>
        ))}
      </ul>
    </div>
  )
}

/** An offer with the day until which it holds. */
export function OfferForm({ bike, currency, today }: { bike: BikeSaved; currency: string; today: string }) {
  return (
    <ActionForm
      action={makeOfferAction}
      label="Offer"
      done={
        <>
          The offer is written down.{' '}
          <Link href={`/bikes/${bike.viewingNo}/offer`}>The seller&rsquo;s sheet</Link>
        </>
      }
    >
      <Saved bike={bike} />
      <OfferFields currency={currency} today={today} />
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
