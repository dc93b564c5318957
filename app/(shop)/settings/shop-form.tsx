import { ActionForm } from '../../_ui/action-form'
import { CheckField, RadioField } from '../../_ui/choice-fields'
import { Field, SelectField } from '../../_ui/field'
import { VersionField } from '../../_ui/hidden-field'
import { Sheet } from '../../_ui/sheet'
import { SubmitButton } from '../../_ui/submit-button'
import { countryChoices, knownZones } from '../../first-day/choices'
import { changeShopAction } from './actions'

type Shop = {
  name: string
  lengthUnit: string
  zone: string
  country: string
  certificateWanted: boolean
  version: number
  currency: string
}

/** What the shop is called and how it counts days and distances. */
export function ShopForm({ shop }: { shop: Shop }) {
  const { name, lengthUnit, zone, country, certificateWanted, version, currency } = shop
  return (
    <Sheet title="The shop" sub={`Its currency, ${currency}, stays as it was set on the first day.`}>
      <ActionForm action={changeShopAction} label="The shop" done="Saved.">
        <VersionField version={version} />
        <Field name="name" label="Name of the shop" defaultValue={name} required />
        <RadioField
          name="lengthUnit"
          label="Distances are in"
          defaultValue={lengthUnit}
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
          hint="Decides when a day ends."
          suggestions={knownZones()}
          defaultValue={zone}
          required
        />
        <SelectField
          name="country"
          label="Law of the road"
          hint="Decides the limits that the law sets, such as the least tread."
          choices={countryChoices}
          defaultValue={country}
          required
        />
        <CheckField
          name="certificateWanted"
          label="No bike is ready without its certificate"
          hint="Of roadworthiness, by whoever may give it where you sell. Its number is noted on the bike."
          defaultChecked={certificateWanted}
        />
        <div>
          <SubmitButton look="quiet">Save the shop</SubmitButton>
        </div>
      </ActionForm>
    </Sheet>
  )
}
