'use client'

import { ActionForm } from '../../../../../_ui/action-form'
import { RadioField } from '../../../../../_ui/choice-fields'
import { Disclosure } from '../../../../../_ui/disclosure'
import { Field, FieldNotes } from '../../../../../_ui/field'
import { described, useFormField } from '../../../../../_ui/form-context'
import { countOf, formatUnit } from '../../../../../_ui/formats'
import { HiddenField } from '../../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../../_ui/submit-button'
import { sourceChoices } from '../../source-choices'
import { setModelLimitsAction } from './actions'

export type RowToFill = {
  /** Of its fields. */
  name: string
  /** Where a link leads to it. */
  anchor: string
  check: string
  title: string
  position: string | null
  place: string | null
  units: readonly string[]
  /** What holds now, from a general figure or the law. */
  now: string | null
}

/** The rows that have no limit first; those that rest on a general figure behind a tap. */
export function ManyForm({
  model: { make, model, seen },
  missing,
  general,
}: {
  model: { make: string; model: string; seen: string }
  missing: readonly RowToFill[]
  general: readonly RowToFill[]
}) {
  return (
    <ActionForm
      action={setModelLimitsAction}
      label="Limits row by row"
      done="Entered. They hold from now on, for this bike and the next of its model."
    >
      <HiddenField name="make" value={make} />
      <HiddenField name="model" value={model} />
      <HiddenField name="seen" value={seen} />
      <div className="grid items-start gap-5 lg:grid-cols-2">
        <RadioField
          name="source"
          label="Where the figures come from"
          defaultValue="maker"
          columns={2}
          choices={sourceChoices}
          required
        />
        <div className="grid grid-cols-2 gap-4">
          <Field name="yearFrom" label="From year" hint="Empty: all." inputMode="numeric" maxLength={4} />
          <Field name="yearTo" label="To year" hint="Empty: all." inputMode="numeric" maxLength={4} />
          <div className="col-span-2">
            <Field name="note" label="Which sheet" hint="Page, edition." maxLength={200} />
          </div>
        </div>
      </div>
      {missing.length > 0 ? (
        <ul className="flex flex-col" aria-label="Without a limit">
          {missing.map((row) => (
            <RowFields key={row.name} row={row} />
          ))}
        </ul>
      ) : (
        <p className="text-soft">Every check of this model has a limit.</p>
      )}
      {general.length > 0 && (
        <Disclosure
          summary={
            <>
              <span className="font-semibold">Not entered for this model</span>{' '}
              <span className="text-soft">
                {countOf(general.length, 'row')} that the law, the shop or a general figure speaks for
              </span>
            </>
          }
        >
          <ul className="flex flex-col" aria-label="With a limit that is not of this model">
            {general.map((row) => (
              <RowFields key={row.name} row={row} />
            ))}
          </ul>
        </Disclosure>
      )}
      <div>
        <SubmitButton>Enter these limits</SubmitButton>
      </div>
    </ActionForm>
  )
}

const figures = [
  ['min', 'At least'],
  ['max', 'At most'],
  ['asNew', 'As new'],
  ['saleMin', 'Sale: at least'],
  ['saleMax', 'Sale: at most'],
] as const

function RowFields({ row }: { row: RowToFill }) {
  const { name, anchor, check, title, position, place, units, now } = row
  const at = (field: string) => `rows.${name}.${field}`
  return (
    <li id={anchor} className="scroll-mt-4 border-b border-rule py-3 last:border-0">
      <fieldset>
        <legend className="font-semibold">
          {title}
          {place && `, ${place}`}
        </legend>
        {now && <p className="text-soft">Now: {now}</p>}
        <HiddenField name={at('check')} value={check} />
        <HiddenField name={at('position')} value={position ?? ''} />
        <div className="mt-1 grid grid-cols-2 items-start gap-3 sm:grid-cols-3 lg:grid-cols-6">
          {figures.map(([field, label]) => (
            <FigureCell key={field} name={at(field)} label={label} />
          ))}
          <UnitCell name={at('unit')} units={units} />
        </div>
        <FieldNotes name={at('check')} />
        <FieldNotes name={at('position')} />
      </fieldset>
    </li>
  )
}

function FigureCell({ name, label }: { name: string; label: string }) {
  const field = useFormField(name)
  return (
    <div className="flex flex-col gap-1">
      <label htmlFor={field.id} className="text-soft">
        {label}
      </label>
      <input
        id={field.id}
        name={name}
        inputMode="decimal"
        autoComplete="off"
        maxLength={12}
        defaultValue={field.typed}
        aria-invalid={field.error !== null}
        aria-describedby={described(field, null)}
        className="field-box"
      />
      <FieldNotes name={name} />
    </div>
  )
}

function UnitCell({ name, units }: { name: string; units: readonly string[] }) {
  const field = useFormField(name, units[0])
  return (
    <div className="flex flex-col gap-1">
      <label htmlFor={field.id} className="text-soft">
        Unit
      </label>
      <select
        id={field.id}
        name={name}
        defaultValue={field.typed}
        aria-invalid={field.error !== null}
        aria-describedby={described(field, null)}
        className="field-box"
      >
        {units.map((unit) => (
          <option key={unit} value={unit}>
            {formatUnit(unit)}
          </option>
        ))}
      </select>
      <FieldNotes name={name} />
    </div>
  )
}
