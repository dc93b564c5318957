'use client'

import { useState } from 'react'
import type { CheckChoice } from '../../../../lib/shop/read-settings'
import { ActionForm } from '../../../_ui/action-form'
import { RadioField } from '../../../_ui/choice-fields'
import { Field, SelectField } from '../../../_ui/field'
import { useFormField } from '../../../_ui/form-context'
import { formatUnit, formatValue } from '../../../_ui/formats'
import { HiddenField } from '../../../_ui/hidden-field'
import { SubmitButton } from '../../../_ui/submit-button'
import { setLimitAction } from './actions'
import { sourceChoices } from './source-choices'

/** One new limit. */
export function LimitForm({ id, checks }: { id: string; checks: readonly CheckChoice[] }) {
  return (
    <ActionForm action={setLimitAction} label="Enter a limit" done="Entered. It holds from now on.">
      <HiddenField name="id" value={id} />
      <LimitFields checks={checks} />
    </ActionForm>
  )
}

/** The units and positions offered are those of the check that is chosen. */
function LimitFields({ checks }: { checks: readonly CheckChoice[] }) {
  const [key, setKey] = useState(useFormField('check').typed)
  const check = checks.find((one) => one.key === key)
  return (
    <>
      <SelectField
        name="check"
        label="Check"
        empty="Choose one"
        choices={checks.map(({ key, title }) => ({ value: key, label: title }))}
        onChoose={setKey}
        required
      />
      {check && <p className="text-soft">{standsNow(check)}</p>}
      <RadioField
        name="scope"
        label="It holds for"
        defaultValue="model"
        columns={2}
        choices={[
          { value: 'model', label: 'one model' },
          { value: 'shop', label: 'every bike' },
        ]}
        required
      />
      <div className="grid gap-4 sm:grid-cols-2">
        <Field name="make" label="Make" hint="For one model." />
        <Field name="model" label="Model" hint="For one model." />
        <Field name="yearFrom" label="From year" inputMode="numeric" />
        <Field name="yearTo" label="To year" inputMode="numeric" />
      </div>
      <SelectField
        key={`unit ${key}`}
        name="unit"
        label="Unit"
        choices={(check?.units ?? []).map((unit) => ({ value: unit, label: formatUnit(unit) }))}
        empty={check ? undefined : 'Choose the check first'}
        required
      />
      {check && check.positions.length > 1 && (
        <SelectField
          key={`position ${key}`}
          name="position"
          label="Position"
          empty="All of them"
          choices={check.positions.map((position) => ({ value: position.key, label: position.label }))}
        />
      )}
      <div className="grid gap-4 sm:grid-cols-2">
        <Field name="min" label="At least" inputMode="decimal" />
        <Field name="max" label="At most" inputMode="decimal" />
        <Field name="saleMin" label="Sale line: at least" inputMode="decimal" />
        <Field name="saleMax" label="Sale line: at most" inputMode="decimal" />
        <Field name="asNew" label="As new" inputMode="decimal" />
      </div>
      <RadioField
        name="source"
        label="Where the figure comes from"
        columns={2}
        choices={sourceChoices}
        required
      />
      <Field name="note" label="Which one" hint="Page, paragraph, edition." />
      <div>
        <SubmitButton>Enter this limit</SubmitButton>
      </div>
    </>
  )
}

function standsNow({ limit }: CheckChoice): string {
  if (!limit) return 'There is no general limit for this check: it is set by model.'
  const { min, max, unit, source } = limit
  const bounds = [
    min !== undefined && `at least ${formatValue(min, unit)}`,
    max !== undefined && `at most ${formatValue(max, unit)}`,
  ]
  return `Without an entry: ${bounds.filter(Boolean).join(', ')} (${source.kind}).`
}
