import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { openPage } from '../../../lib/web/pages'
import { ActionForm } from '../../_ui/action-form'
import { HiddenField } from '../../_ui/hidden-field'
import { PageHead } from '../../_ui/page-head'
import { PinPad } from '../../_ui/pin-pad'
import { SubmitButton } from '../../_ui/submit-button'
import { endSellerSideAction } from './actions'

export const metadata: Metadata = { title: "Seller's side" }

type Asked = { searchParams: Promise<Record<string, string | string[] | undefined>> }

/** The way back to the shop's own side. */
export default async function SellerSidePage({ searchParams }: Asked) {
  const { who } = await openPage('/seller-side')
  if (!who.sellerSide) redirect('/')
  const { from } = await searchParams
  return (
    <main id="main" className="bench page-narrow">
      <div className="mx-auto flex w-full max-w-sm flex-col gap-5">
        <PageHead title={`${who.name}, go on`} sub="Out of the seller's sight: your PIN." />
        <ActionForm action={endSellerSideAction} label="Go on">
          <HiddenField name="from" value={typeof from === 'string' ? from : ''} />
          <PinPad />
          <SubmitButton pending="One moment …">Go on</SubmitButton>
        </ActionForm>
      </div>
    </main>
  )
}
