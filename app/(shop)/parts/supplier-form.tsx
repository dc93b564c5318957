import { uuidv7 } from 'uuidv7'
import type { SupplierShown } from '../../../lib/shop/read-parts-money'
import { ActionForm } from '../../_ui/action-form'
import { Field } from '../../_ui/field'
import { HiddenField, VersionField } from '../../_ui/hidden-field'
import { MoneyField } from '../../_ui/money-field'
import { SubmitButton } from '../../_ui/submit-button'
import { addSupplierAction, changeSupplierAction } from './actions'

/** A new supplier, or the terms of one that is known. */
export function SupplierForm({ supplier, currency }: { supplier: SupplierShown | null; currency: string }) {
  const fields = (
    <>
      <div className="grid gap-4 sm:grid-cols-2">
        <Field name="name" label="Name" defaultValue={supplier?.name} required maxLength={80} />
        <Field name="contact" label="How they are reached" defaultValue={supplier?.contact} maxLength={200} />
        <MoneyField
          name="carriage"
          label="One delivery costs"
          currency={currency}
          defaultMinor={supplier?.carriageMinor ?? null}
        />
        <MoneyField
          name="minimum"
          label="The least they deliver for"
          currency={currency}
          defaultMinor={supplier?.minimumMinor ?? null}
        />
      </div>
      <div>
        <SubmitButton look="quiet">{supplier ? 'Save' : 'Write it down'}</SubmitButton>
      </div>
    </>
  )
  return supplier ? (
    <ActionForm action={changeSupplierAction} label={`Terms of ${supplier.name}`} done="Saved.">
      <HiddenField name="supplier" value={supplier.id} />
      <VersionField version={supplier.version} />
      {fields}
    </ActionForm>
  ) : (
    <ActionForm action={addSupplierAction} label="New supplier" done="It is written down.">
      <HiddenField name="id" value={uuidv7()} />
      {fields}
    </ActionForm>
  )
}
