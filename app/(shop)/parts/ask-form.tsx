import { uuidv7 } from 'uuidv7'
import type { SupplierShown } from '../../../lib/shop/read-parts-money'
import { ActionForm } from '../../_ui/action-form'
import { RadioField } from '../../_ui/choice-fields'
import { Field, SelectField } from '../../_ui/field'
import { formatNumber } from '../../_ui/formats'
import { HiddenField, VersionField } from '../../_ui/hidden-field'
import { MoneyField } from '../../_ui/money-field'
import { SubmitButton } from '../../_ui/submit-button'
import { askPartAction, changeAskedAction } from './actions'
import { sourceChoices } from './parts-words'

export type Asking = { suppliers: readonly SupplierShown[]; currency: string }

/** Where a part comes from and what is asked for it; it then stands on the list of that supplier. */
export function AskForm({
  need,
  suppliers,
  currency,
}: Asking & {
  need: { bike: string; job: string; part: string; qty: number; notUsed: string | null; label: string }
}) {
  const { bike, job, part, qty, notUsed, label } = need
  if (suppliers.length === 0)
    return (
      <p>
        First write down who it is ordered from: <a href="/parts#suppliers">suppliers</a>.
      </p>
    )
  return (
    <ActionForm action={askPartAction} label={`Ask for ${label}`} done="It is on the list.">
      <HiddenField name="id" value={uuidv7()} />
      <HiddenField name="bike" value={bike} />
      <HiddenField name="job" value={job} />
      {part === '' ? (
        <Field
          name="part"
          label="Part"
          hint="What the job needs beside its own list."
          required
          maxLength={200}
        />
      ) : (
        <HiddenField name="part" value={part} />
      )}
      <AskedFields suppliers={suppliers} currency={currency} notUsed={notUsed} qty={qty} />
      <div>
        <SubmitButton>Put it on the list</SubmitButton>
      </div>
    </ActionForm>
  )
}

export type AskedLine = {
  id: string
  version: number
  part: string
  qty: number
  source: string
  number: string
  supplier: string
  unitMinor: number | null
  leadDays: number | null
  neverChance: number | null
  notUsed: string | null
}

/** The same, set right while it is not ordered. */
export function ChangeAskedForm({ line, suppliers, currency }: Asking & { line: AskedLine }) {
  return (
    <ActionForm action={changeAskedAction} label={`Set right: ${line.part}`}>
      <HiddenField name="line" value={line.id} />
      <VersionField version={line.version} />
      <AskedFields
        suppliers={suppliers}
        currency={currency}
        notUsed={line.notUsed}
        qty={line.qty}
        line={line}
      />
      <div>
        <SubmitButton look="quiet">Save</SubmitButton>
      </div>
    </ActionForm>
  )
}

function AskedFields({
  suppliers,
  currency,
  notUsed,
  qty,
  line,
}: Asking & { notUsed: string | null; qty: number; line?: AskedLine }) {
  return (
    <>
      <RadioField
        name="source"
        label="Where it comes from"
        hint={notUsed}
        choices={notUsed ? sourceChoices.filter(({ value }) => value !== 'used') : sourceChoices}
        defaultValue={line?.source ?? 'pattern'}
        columns={3}
        required
      />
      <div className="grid gap-4 sm:grid-cols-2 lg:grid-cols-3">
        <SelectField
          name="supplier"
          label="Supplier"
          choices={suppliers.map(({ id, name }) => ({ value: id, label: name }))}
          defaultValue={line?.supplier ?? suppliers[0]?.id}
          required
        />
        <Field name="number" label="Number" defaultValue={line?.number} maxLength={80} />
        <Field name="qty" label="How many" inputMode="decimal" defaultValue={formatNumber(qty)} required />
        <MoneyField name="price" label="Price of one" currency={currency} defaultMinor={line?.unitMinor} />
        <Field
          name="leadDays"
          label="Days until it comes"
          inputMode="numeric"
          unit="days"
          defaultValue={line?.leadDays?.toString()}
        />
        <Field
          name="neverShare"
          label="If no longer made: chance that it never comes"
          inputMode="decimal"
          unit="%"
          defaultValue={
            line && line.neverChance !== null ? formatNumber(line.neverChance * 100, 0) : undefined
          }
        />
      </div>
    </>
  )
}
