'use client'

import { createContext, type ReactNode, useContext } from 'react'
import { emptyForm, type FormState } from '../../lib/web/form-state'

export type FormFacts = {
  /** Before every id of the form, so that two forms on a page may have fields of one name. */
  prefix: string
  state: FormState<unknown>
}

export const FormContext = createContext<FormFacts>({ prefix: 'form', state: emptyForm })

/** What a field of this name shows: kept text, message, what is stored now, and the ids that tie them. */
export function useFormField(name: string, defaultValue = '') {
  const { prefix, state } = useContext(FormContext)
  const id = idOfField(prefix, name)
  const key = name.replace(/\[\]$/, '')
  const typed = state.typed[name] ?? defaultValue
  const stored = state.theirs?.[key] ?? null
  return {
    id,
    typed,
    /** True once the form has come back refused: then a box that was not sent was not ticked. */
    cameBack: state.answer === null && state.turn > 0,
    sent: name in state.typed,
    error: state.fields[key] ?? null,
    /** What is stored now, where it is not what was typed; a list with commas between. */
    theirs: stored === typed.replaceAll('\n', ', ') ? null : stored,
  }
}

export function idOfField(prefix: string, name: string): string {
  return `${prefix}-${name.replace(/\[\]$/, '')}`
}

/** The ids that describe a field, in reading order; undefined where there are none. */
export function described(
  field: { id: string; error: string | null; theirs: string | null },
  hint: ReactNode,
): string | undefined {
  const { id, error, theirs } = field
  const ids = [hint && `${id}-hint`, theirs !== null && `${id}-theirs`, error !== null && `${id}-error`]
  return ids.filter(Boolean).join(' ') || undefined
}
