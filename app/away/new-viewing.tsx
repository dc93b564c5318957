import { ActionForm } from '../_ui/action-form'
import { PageHead } from '../_ui/page-head'
import { SubmitButton } from '../_ui/submit-button'
import { BikeFields, nothingKnown } from '../(shop)/bikes/_ui/bike-form'
import { formHere } from '../(shop)/form-here'
import { keptViewing } from './kept-deeds'
import { addressOf, goTo, listAddress } from './place'
import type { AwayDone } from './use-away'

/** The form of the shop, checked by its rules, kept on this phone. */
export function NewViewing({ away }: { away: AwayDone }) {
  const { pack } = away
  const { currency, lengthUnit } = pack.shop
  const makes = [...new Set([...pack.makes, ...away.seen.viewings.map(({ bike }) => bike.make)])].sort()
  const takeIn = formHere((input) => {
    const { kept, bike } = keptViewing(pack.person.id, input)
    away.add(kept)
    goTo(addressOf(bike, 'round'))
  })
  return (
    <>
      <PageHead
        title="New viewing"
        sub="A bike looked at for the first time. Only make and model are needed now; its number is drawn once it is sent."
      >
        <a href={listAddress} className="tap">
          Back to the viewings
        </a>
      </PageHead>
      <ActionForm doneHere action={takeIn} label="New viewing" className="flex flex-col gap-6">
        <BikeFields currency={currency} makes={makes} values={nothingKnown(lengthUnit)} />
        <div>
          <SubmitButton pending="Taking it in …">Take it in</SubmitButton>
        </div>
      </ActionForm>
    </>
  )
}
