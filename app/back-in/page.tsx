import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { pageContext } from '../../lib/web/pages'
import { ActionForm } from '../_ui/action-form'
import { Field } from '../_ui/field'
import { PageHead } from '../_ui/page-head'
import { Sheet } from '../_ui/sheet'
import { SubmitButton } from '../_ui/submit-button'
import { comeBackInAction } from './actions'

export const metadata: Metadata = { title: 'Way back in' }

/** For a manager whose device or PIN is lost. It needs a code that only the terminal of the shop gives. */
export default async function BackIn() {
  const { store } = await pageContext()
  if (!(await store.db.shop.findFirst({ select: { id: true } }))) redirect('/first-day')
  return (
    <main id="main" className="page-narrow">
      <PageHead
        title="Way back in"
        sub="For a manager whose device or PIN is lost. Start the program with npm start -- --back-in: it then shows a code."
      />
      <Sheet title="A new PIN on this device">
        <ActionForm action={comeBackInAction} label="Way back in">
          <Field name="code" label="Code from the terminal" hint="It works once." required />
          <Field name="personName" label="Your name" hint="As it stands on the sign-in page." required />
          <Field
            name="pin"
            label="New PIN"
            hint="Six digits, not all the same and not a run."
            type="password"
            inputMode="numeric"
            autoComplete="new-password"
            maxLength={6}
            required
          />
          <Field name="deviceName" label="Name of this device" required />
          <SubmitButton pending="Letting you in …">Set the PIN and go in</SubmitButton>
        </ActionForm>
      </Sheet>
    </main>
  )
}
