'use client'

import type { HTMLInputTypeAttribute, ReactNode } from 'react'
import { described, useFormField } from './form-context'

export type FieldProps = {
  name: string
  label: ReactNode
  hint?: ReactNode
  defaultValue?: string
  required?: boolean
}

/** A field of one line. It owns its label, hint and message and keeps what was typed. */
export function Field({
  name,
  label,
  hint,
  defaultValue,
  required,
  type = 'text',
  inputMode,
  autoComplete = 'off',
  suggestions,
  unit,
  maxLength,
}: FieldProps & {
  type?: HTMLInputTypeAttribute
  inputMode?: 'text' | 'decimal' | 'numeric' | 'tel' | 'email'
  autoComplete?: string
  /** Offered while typing; anything else may be typed too. */
  suggestions?: readonly string[]
  /** Stands behind the box: mm, miles, %. */
  unit?: ReactNode
  maxLength?: number
}) {
  const field = useFormField(name, defaultValue)
  const list = suggestions ? `${field.id}-list` : undefined
  return (
    <FieldFrame name={name} label={label} hint={hint} required={required} id={field.id}>
      <span className="flex items-center gap-2">
        <input
          id={field.id}
          name={name}
          type={type}
          inputMode={inputMode}
          autoComplete={autoComplete}
          list={list}
          maxLength={maxLength}
          defaultValue={field.typed}
          aria-required={required}
          aria-invalid={field.error !== null}
          aria-describedby={described(field, hint)}
          className="field-box min-w-0"
        />
        {unit && <span className="shrink-0 text-soft">{unit}</span>}
      </span>
      {suggestions && (
        <datalist id={list}>
          {suggestions.map((value) => (
            <option key={value} value={value} />
          ))}
        </datalist>
      )}
    </FieldFrame>
  )
}

/** Several lines of text. */
export function TextArea({
  name,
  label,
  hint,
  defaultValue,
  required,
  rows = 4,
}: FieldProps & { rows?: number }) {
  const field = useFormField(name, defaultValue)
  return (
    <FieldFrame name={name} label={label} hint={hint} required={required} id={field.id}>
      <textarea
        id={field.id}
        name={name}
        rows={rows}
        defaultValue={field.typed}
        aria-required={required}
        aria-invalid={field.error !== null}
        aria-describedby={described(field, hint)}
        className="field-box"
      />
    </FieldFrame>
  )
}

export type Choice = { value: string; label: string; hint?: string }

/** A choice from a list, where the choices are many or short. */
export function SelectField({
  name,
  label,
  hint,
  defaultValue = '',
  required,
  choices,
  empty,
  onChoose,
}: FieldProps & {
  choices: readonly Choice[]
  /** The first line, which chooses nothing. */
  empty?: string
  onChoose?: (value: string) => void
}) {
  const field = useFormField(name, defaultValue)
  return (
    <FieldFrame name={name} label={label} hint={hint} required={required} id={field.id}>
      <select
        id={field.id}
        name={name}
        defaultValue={field.typed}
        onChange={(event) => onChoose?.(event.target.value)}
        aria-required={required}
        aria-invalid={field.error !== null}
        aria-describedby={described(field, hint)}
        className="field-box"
      >
        {empty !== undefined && <option value="">{empty}</option>}
        {choices.map((choice) => (
          <option key={choice.value} value={choice.value}>
            {choice.label}
          </option>
        ))}
      </select>
    </FieldFrame>
  )
}

/** Label above, hint, what is stored now, and the message, in this order around any box. */
export function FieldFrame({
  name,
  label,
  hint,
  required,
  id,
  children,
}: Pick<FieldProps, 'name' | 'label' | 'hint' | 'required'> & { id: string; children: ReactNode }) {
  return (
    <div className="flex flex-col gap-1">
      <label htmlFor={id} className="font-semibold">
        <LabelText label={label} required={required} />
      </label>
      <Hint id={id} hint={hint} />
      {children}
      <FieldNotes name={name} />
    </div>
  )
}

export function LabelText({ label, required }: Pick<FieldProps, 'label' | 'required'>) {
  return (
    <>
      {label}
      {!required && <span className="font-normal text-soft"> (optional)</span>}
    </>
  )
}

export function Hint({ id, hint }: { id: string; hint: ReactNode }) {
  if (!hint) return null
  return (
    <p id={`${id}-hint`} className="text-soft">
      {hint}
    </p>
  )
}

/** What is stored now and the message, under a field or a group. */
export function FieldNotes({ name }: { name: string }) {
  const { id, error, theirs } = useFormField(name)
  return (
    <>
      {theirs !== null && (
        <p id={`${id}-theirs`} className="border-l-4 border-ochre bg-ochre-wash px-2 py-1">
          Stored now: <strong>{theirs === '' ? 'nothing' : theirs}</strong>
        </p>
      )}
      {error !== null && (
        <p id={`${id}-error`} className="flex gap-2 font-semibold text-plum">
          <span aria-hidden="true">▸</span>
          {error}
        </p>
      )}
    </>
  )
}
