'use client'

import type { ReactNode } from 'react'
import { type Choice, FieldNotes, type FieldProps, Hint, LabelText } from './field'
import { described, useFormField } from './form-context'

const columnClasses = {
  1: 'grid-cols-1',
  2: 'grid-cols-1 sm:grid-cols-2',
  3: 'grid-cols-2 sm:grid-cols-3',
} as const
type Columns = keyof typeof columnClasses

/** A tile with a sentence in it needs the whole width of a phone. */
function columnsFor(columns: Columns, choices: readonly Choice[]): string {
  return columns === 3 && choices.some(({ hint }) => hint) ? 'sm:grid-cols-3' : columnClasses[columns]
}

/** One of a few: every choice is a tile big enough for a glove. */
export function RadioField({
  name,
  label,
  hint,
  defaultValue,
  required,
  columns = 1,
  choices,
}: FieldProps & { choices: readonly Choice[]; columns?: Columns }) {
  const field = useFormField(name, defaultValue)
  return (
    <div
      role="radiogroup"
      aria-labelledby={`${field.id}-label`}
      aria-required={required}
      aria-invalid={field.error !== null}
      aria-describedby={described(field, hint)}
      className="flex flex-col gap-1"
    >
      <span id={`${field.id}-label`} className="mb-1 font-semibold">
        <LabelText label={label} required={required} />
      </span>
      <Hint id={field.id} hint={hint} />
      <div className={`grid gap-2 ${columnsFor(columns, choices)}`}>
        {choices.map((choice, index) => (
          <Tile key={choice.value} id={idOfChoice(field.id, index)} label={choice.label} hint={choice.hint}>
            <input
              id={idOfChoice(field.id, index)}
              type="radio"
              name={name}
              value={choice.value}
              defaultChecked={field.typed === choice.value}
            />
          </Tile>
        ))}
      </div>
      <FieldNotes name={name} />
    </div>
  )
}

/** Any of a few; `name` ends in `[]` and arrives as a list. */
export function CheckGroup({
  name,
  label,
  hint,
  required,
  columns = 1,
  choices,
  chosen = [],
}: Omit<FieldProps, 'defaultValue'> & {
  choices: readonly Choice[]
  chosen?: readonly string[]
  columns?: Columns
}) {
  const field = useFormField(name)
  const ticked = field.cameBack ? field.typed.split('\n') : chosen
  return (
    <fieldset aria-describedby={described(field, hint)} className="flex flex-col gap-1">
      <legend className="mb-1 font-semibold">
        <LabelText label={label} required={required} />
      </legend>
      <Hint id={field.id} hint={hint} />
      <div className={`grid gap-2 ${columnsFor(columns, choices)}`}>
        {choices.map((choice, index) => (
          <Tile key={choice.value} id={idOfChoice(field.id, index)} label={choice.label} hint={choice.hint}>
            <input
              id={idOfChoice(field.id, index)}
              type="checkbox"
              name={name}
              value={choice.value}
              defaultChecked={ticked.includes(choice.value)}
            />
          </Tile>
        ))}
      </div>
      <FieldNotes name={name} />
    </fieldset>
  )
}

/** Yes or no. Sends `yes` where ticked, nothing where not. */
export function CheckField({
  name,
  label,
  hint,
  defaultChecked = false,
}: Pick<FieldProps, 'name' | 'label' | 'hint'> & { defaultChecked?: boolean }) {
  const field = useFormField(name)
  return (
    <div className="flex flex-col gap-1">
      <Tile id={field.id} label={label} hint={hint}>
        <input
          id={field.id}
          type="checkbox"
          name={name}
          value="yes"
          defaultChecked={field.cameBack ? field.sent : defaultChecked}
          aria-invalid={field.error !== null}
          aria-describedby={described(field, null)}
        />
      </Tile>
      <FieldNotes name={name} />
    </div>
  )
}

/** The first choice carries the field's own id, so that the message on top leads to it. */
function idOfChoice(id: string, index: number): string {
  return index === 0 ? id : `${id}-${index}`
}

function Tile({
  id,
  label,
  hint,
  children,
}: {
  id: string
  label: ReactNode
  hint?: ReactNode
  children: ReactNode
}) {
  return (
    <label htmlFor={id} className="tile">
      {children}
      <span className="min-w-0">
        <span className="font-semibold">{label}</span>
        {hint && <span className="block text-soft">{hint}</span>}
      </span>
    </label>
  )
}
