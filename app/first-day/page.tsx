import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { pageContext } from '../../lib/web/pages'
import { ActionForm } from '../_ui/action-form'
import { RadioField } from '../_ui/choice-fields'
import { Field, SelectField } from '../_ui/field'
import { PageHead } from '../_ui/page-head'
import { Sheet } from '../_ui/sheet'
import { SubmitButton } from '../_ui/submit-button'
import { openShopAction } from './actions'
import { countryChoices, currencyChoices, knownZones, zoneHere } from './choices'

export const metadata: Metadata = { title: 'First day' }

/** Makes the shop: everything it takes to begin, on one page from top to bottom. */
export default async function FirstDay() {
  const { store } = await pageContext()
  if (await store.db.shop.findFirst({ select: { id: true } })) redirect('/sign-in')
  return (
    <main id="main" className="page-narrow">
      <PageHead
        title="First day"
        sub="Nobody has opened this shop yet. Five short steps, about three minutes. Everything but the currency can be changed later."
      />
      <ActionForm action={openShopAction} label="First day" className="flex flex-col gap-6">
        <Sheet title="1. The code" sub="It shows that you are at the machine itself.">
          <Field
            name="code"
            label="Code from the terminal"
            hint="The window in which you started the program shows it: three groups of four. It works once."
            required
          />
        </Sheet>
        <Sheet title="2. The shop">
          <div className="flex flex-col gap-5">
            <Field name="shopName" label="Name of the shop" autoComplete="organization" required />
            <RadioField
              name="lengthUnit"
              label="Distances are in"
              defaultValue="mi"
              columns={2}
              choices={[
                { value: 'mi', label: 'miles' },
                { value: 'km', label: 'kilometres' },
              ]}
              required
            />
            <Field
              name="zone"
              label="Time zone"
              hint="Decides when a day ends. Type the nearest large city and choose from the list."
              suggestions={knownZones()}
              defaultValue={zoneHere()}
              required
            />
            <SelectField
              name="country"
              label="Law of the road"
              hint="Decides the limits that the law sets, such as the least tread."
              choices={countryChoices}
              empty="Choose"
              required
            />
          </div>
        </Sheet>
        <Sheet title="3. Money">
          <div className="flex flex-col gap-5">
            <SelectField
              name="currency"
              label="Currency"
              hint="It stays: amounts once noted are not converted."
              choices={currencyChoices()}
              empty="Choose one"
              required
            />
            <RadioField
              name="taxScheme"
              label="Tax when a bike is sold"
              hint="Ask whoever does your books if you are not sure."
              defaultValue="margin"
              choices={[
                {
                  value: 'margin',
                  label: 'On the difference',
                  hint: 'A margin scheme for used goods: tax is part of what you sell for above what you paid.',
                },
                {
                  value: 'standard',
                  label: 'Within the whole price',
                  hint: 'The sale price contains the tax; tax shown on your purchase invoice comes back.',
                },
                {
                  value: 'sales-tax-on-top',
                  label: 'On top of the price',
                  hint: 'The buyer pays it beside the price, so it takes nothing from what you earn.',
                },
                { value: 'none', label: 'No tax', hint: 'The shop is not registered, or sells free of tax.' },
              ]}
              required
            />
            <Field
              name="taxRate"
              label="Rate of that tax"
              hint="In per cent, like 20. Without tax it does not matter."
              inputMode="decimal"
              unit="%"
            />
            <Field
              name="labourCost"
              label="What an hour at the bench costs the shop"
              hint="Wages with all that comes on top, divided by the hours really worked on bikes. Not what you would charge a customer."
              inputMode="decimal"
              unit="an hour"
              required
            />
          </div>
        </Sheet>
        <Sheet title="4. You" sub="The first manager. You add the others afterwards.">
          <div className="flex flex-col gap-5">
            <Field
              name="personName"
              label="Your name"
              hint="As it should stand on the sign-in page."
              autoComplete="name"
              required
            />
            <Field
              name="pin"
              label="Your PIN"
              hint="Six digits, not all the same and not a run. You see what you type: mind who looks over your shoulder. It cannot be shown again."
              inputMode="numeric"
              maxLength={6}
              required
            />
          </div>
        </Sheet>
        <Sheet
          title="5. This device"
          sub="People can sign in only on devices that are enrolled. This is the first."
        >
          <Field
            name="deviceName"
            label="What to call it"
            hint="So that you know it again in a list, like office laptop."
            required
          />
        </Sheet>
        <div>
          <SubmitButton pending="Opening the shop …">Open the shop</SubmitButton>
        </div>
      </ActionForm>
    </main>
  )
}
