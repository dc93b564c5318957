'use client'

import { usePathname } from 'next/navigation'
import { ActionForm } from '../../_ui/action-form'
import { HiddenField } from '../../_ui/hidden-field'
import { SubmitButton } from '../../_ui/submit-button'
import { startSellerSideAction } from './actions'

/** One tap, and nothing of the shop's side is on any page until the PIN is given again. */
export function SellerSideButton() {
  const path = usePathname()
  if (!path.startsWith('/bikes') && path !== '/board') return null
  return (
    <ActionForm action={startSellerSideAction} label="Seller's side" className="contents">
      <HiddenField name="from" value={path} />
      <SubmitButton look="quiet" pending="One moment …">
        Seller&rsquo;s side
      </SubmitButton>
    </ActionForm>
  )
}
