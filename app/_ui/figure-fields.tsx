import type { ThreePoint } from '../../lib/core/quantity/three-point'
import { typedMoney } from '../../lib/core/quantity/typed-money'
import { Field } from './field'

type PartLine = { name: string; qty: number; unitCost: ThreePoint | number }

/** A figure that is guessed as low, likely and high; a certain one stands in all three. */
export function ThreeFields({
  name,
  legend,
  value,
  write,
  unit,
}: {
  name: string
  legend: string
  /** Null: nothing is filled in. */
  value: ThreePoint | number | null
  write: (value: number) => string
  unit: string
}) {
  const three = typeof value === 'number' ? { low: value, likely: value, high: value } : value
  return (
    <fieldset className="flex flex-col gap-1">
      <legend className="mb-1 font-semibold">{legend}</legend>
      <div className="grid gap-3 sm:grid-cols-3">
        {(['low', 'likely', 'high'] as const).map((point) => (
          <Field
            key={point}
            name={`${name}.${point}`}
            label={point}
            required
            inputMode="decimal"
            defaultValue={three ? write(three[point]) : ''}
            unit={unit}
          />
        ))}
      </div>
    </fieldset>
  )
}

/** The parts of a job, a line each, with an empty line for one more. */
export function PartFields({
  name,
  parts,
  currency,
}: {
  name: string
  parts: readonly PartLine[]
  currency: string
}) {
  const lines = [...parts, { name: '', qty: 1, unitCost: 0 }]
  return lines.map((part, index) => (
    <fieldset
      // biome-ignore lint/suspicious/noArrayIndexKey: a line is known by its place, which is its field's name
      key={index}
      className="flex flex-col gap-3 border-l-4 border-rule pl-3"
    >
      <legend className="font-semibold">{part.name || (index === 0 ? 'A part' : 'One more part')}</legend>
      <div className="grid gap-3 sm:grid-cols-[1fr_6rem]">
        <Field
          name={`${name}.${index}.name`}
          label="Part"
          hint={part.name ? 'Empty takes it away.' : undefined}
          defaultValue={part.name}
          maxLength={200}
        />
        <Field
          name={`${name}.${index}.qty`}
          label="How many"
          required
          inputMode="decimal"
          defaultValue={String(part.qty)}
        />
      </div>
      <ThreeFields
        name={`${name}.${index}.unitCost`}
        legend="Price of one"
        value={part.unitCost}
        write={typedMoney}
        unit={currency}
      />
    </fieldset>
  ))
}
