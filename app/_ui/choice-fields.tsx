'use client'

import type { ReactNode } from 'react'
import { type Choice, FieldNotes, type FieldProps } from './field'
import { describedBy, useFormField } from './form-context'

const columnClasses = {
  1: 'grid-cols-1',
  2: 'grid-cols-1 sm:grid-cols-2',
  3: 'grid-cols-2 sm:grid-cols-3',
} as const
type Columns = keyof typeof columnClasses

/** One of a few: every choice is a tile big enough for a glove. */
export function RadioField({
  columns = 1,
  choices,
  ...props
}: FieldProps & { choices: readonly Choice[]; columns?: Columns }) {
  const { name, defaultValue } = props
  const { id, typed } = useFormField(name, defaultValue)
  return (
    <ChoiceGroup {...props} role="radiogroup">
      <div className={`grid gap-2 ${columnClasses[columns]}`}>
        {choices.map((choice, index) => (
          <ChoiceTile key={choice.value} choice={choice}>
            <input
              id={index === 0 ? id : undefined}
              type="radio"
              name={name}
              value={choice.value}
              defaultChecked={typed === choice.value}
            />
          </ChoiceTile>
        ))}
      </div>
    </ChoiceGroup>
  )
}

/** Any of a few; `name` ends in `[]` and arrives as a list. */
export function CheckGroup({
  columns = 1,
  choices,
  chosen = [],
  ...props
}: Omit<FieldProps, 'defaultValue'> & {
  choices: readonly Choice[]
  chosen?: readonly string[]
  columns?: Columns
}) {
  const { id, typed, cameBack } = useFormField(props.name)
  const ticked = cameBack ? typed.split('\n') : chosen
  return (
    <ChoiceGroup {...props} role="group">
      <div className={`grid gap-2 ${columnClasses[columns]}`}>
        {choices.map((choice, index) => (
          <ChoiceTile key={choice.value} choice={choice}>
            <input
              id={index === 0 ? id : undefined}
              type="checkbox"
              name={props.name}
              value={choice.value}
              defaultChecked={ticked.includes(choice.value)}
            />
          </ChoiceTile>
        ))}
      </div>
    </ChoiceGroup>
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
  const described = describedBy(field.id, {
    hint: false,
    theirs: field.theirs !== null,
    error: field.error !== null,
  })
  return (
    <div className="flex flex-col gap-1">
      <label className="tile">
        <input
          id={field.id}
          type="checkbox"
          name={name}
          value="yes"
          defaultChecked={field.cameBack ? field.sent : defaultChecked}
          aria-invalid={field.error !== null}
          aria-describedby={described}
        />
        <span>
          <span className="font-semibold">{label}</span>
          {hint && <span className="block text-soft">{hint}</span>}
        </span>
      </label>
      <FieldNotes name={name} />
    </div>
  )
}

function ChoiceGroup({
  name,
  label,
  hint,
  required,
  role,
  children,
}: FieldProps & { role: 'group' | 'radiogroup'; children: ReactNode }) {
  const { id, error, theirs } = useFormField(name)
  return (
    <fieldset
      role={role}
      aria-required={role === 'radiogroup' ? required : undefined}
      aria-invalid={role === 'radiogroup' ? error !== null : undefined}
      aria-describedby={describedBy(id, {
        hint: Boolean(hint),
        theirs: theirs !== null,
        error: error !== null,
      })}
      className="flex flex-col gap-1"
    >
      <legend className="mb-1 font-semibold">
        {label}
        {!required && <span className="font-normal text-soft"> (may be left empty)</span>}
      </legend>
      {hint && (
        <p id={`${id}-hint`} className="text-soft">
          {hint}
        </p>
      )}
      {children}
      <FieldNotes name={name} />
    </fieldset>
  )
}

function ChoiceTile({ choice, children }: { choice: Choice; children: ReactNode }) {
  return (
    <label className="tile">
      {children}
      <span className="min-w-0">
        <span className="font-semibold">{choice.label}</span>
        {choice.hint && <span className="block text-soft">{choice.hint}</span>}
      </span>
    </label>
  )
}
