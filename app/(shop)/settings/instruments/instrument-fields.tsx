'use client'

import { useState } from 'react'
import type { InstrumentListed, KindChoice } from '../../../../lib/shop/instruments'
import { Field, SelectField } from '../../../_ui/field'
import { useFormField } from '../../../_ui/form-context'
import { formatUnit, formatValue } from '../../../_ui/formats'

/** The figures of one tool; the units offered are those its kind can read. */
export function InstrumentFields({ kinds, tool }: { kinds: readonly KindChoice[]; tool?: InstrumentListed }) {
  const [key, setKey] = useState(useFormField('kind', tool?.kind).typed)
  const kind = kinds.find((one) => one.key === key)
  const unit = kind?.units[0]
  return (
    <>
      <SelectField
        name="kind"
        label="Kind"
        empty="Choose one"
        choices={kinds.map((one) => ({ value: one.key, label: one.name }))}
        defaultValue={tool?.kind}
        onChoose={setKey}
        required
      />
      {kind && <p className="text-soft">Used in: {kind.usedIn.join(', ')}.</p>}
      <Field
        name="name"
        label="Name"
        hint="As it is marked, so that nobody takes the wrong one."
        defaultValue={tool?.name}
        maxLength={80}
        required
      />
      <SelectField
        key={key}
        name="unit"
        label="Unit of its figures"
        choices={(kind?.units ?? []).map((one) => ({ value: one, label: formatUnit(one) }))}
        empty={kind ? undefined : 'Choose the kind first'}
        defaultValue={tool?.unit}
        required
      />
      <div className="grid gap-4 sm:grid-cols-2">
        <Field
          name="resolution"
          label="Resolution"
          hint={`The smallest step it shows.${kind && unit ? ` Without an entry: ${formatValue(kind.resolution, unit, 4)}.` : ''}`}
          inputMode="decimal"
          defaultValue={tool && String(tool.resolution)}
          required
        />
        <Field
          name="standardUncertainty"
          label="Standard uncertainty"
          hint={`From its certificate; half of a figure stated with k = 2.${kind && unit ? ` Without an entry: ${formatValue(kind.standardUncertainty, unit, 4)}.` : ''}`}
          inputMode="decimal"
          defaultValue={tool && String(tool.standardUncertainty)}
          required
        />
      </div>
      <Field
        name="calibrationDue"
        label="Calibration due"
        hint="The last day it counts. Empty where no date is kept."
        type="date"
        defaultValue={tool?.calibrationDue ?? ''}
      />
    </>
  )
}
