import type { Metadata } from 'next'
import Link from 'next/link'
import { uuidv7 } from 'uuidv7'
import { readBikeFormFacts } from '../../../../lib/shop/read-bike-form'
import { openPage } from '../../../../lib/web/pages'
import { ActionForm } from '../../../_ui/action-form'
import { HiddenField } from '../../../_ui/hidden-field'
import { PageHead } from '../../../_ui/page-head'
import { SubmitButton } from '../../../_ui/submit-button'
import { BikeFields, nothingKnown } from '../_ui/bike-form'
import { takeInBikeAction } from './actions'

export const metadata: Metadata = { title: 'New viewing' }

export default async function NewViewingPage() {
  const context = await openPage('/bikes/new')
  const { currency, lengthUnit, makes } = await readBikeFormFacts(context.store)
  return (
    <main id="main" className="page">
      <PageHead
        title="New viewing"
        sub="A bike looked at for the first time. Only make and model are needed now."
      />
      <p className="no-print">
        No network where the bike stands? <Link href="/away">Away from the shop</Link> takes it in on your own
        phone and works it out there.
      </p>
      <ActionForm action={takeInBikeAction} label="New viewing" className="flex flex-col gap-6">
        <HiddenField name="id" value={uuidv7()} />
        <BikeFields currency={currency} makes={makes} values={nothingKnown(lengthUnit)} />
        <div className="no-print">
          <SubmitButton pending="Taking it in …">Take it in</SubmitButton>
        </div>
      </ActionForm>
    </main>
  )
}
