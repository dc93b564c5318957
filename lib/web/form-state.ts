import type { FieldMessages, PlainRefusal } from '../shop/refusal'

/** What a form shows after it was sent: what was typed stays, messages stand at their fields. */
export type FormState<R = unknown> = {
  typed: Record<string, string>
  fields: FieldMessages
  message: string | null
  theirs: Record<string, string> | null
  /** Set once the deed is done and the page stays. */
  answer: R | null
  /** Counts the answers, so that a form can be drawn anew after each. */
  turn: number
}

export const emptyForm: FormState<never> = {
  typed: {},
  fields: {},
  message: null,
  theirs: null,
  answer: null,
  turn: 0,
}

/**
 * What a form sent, as text by field name; the values of a list (`roles[]`) a line each. Files are left out,
 * secrets never come back.
 */
export function typedIn(form: FormData, secrets: readonly string[]): Record<string, string> {
  const typed: Record<string, string> = {}
  for (const [name, value] of form) {
    if (typeof value !== 'string' || name.startsWith('$') || secrets.includes(name)) continue
    const before = name.endsWith('[]') ? typed[name] : undefined
    typed[name] = before === undefined ? value : `${before}\n${value}`
  }
  return typed
}

/**
 * The fields of a form as the plain object a schema reads: `kind.cooling` makes an object, `roles[]` a list.
 * Fields that React adds for itself are left out.
 */
export function inputOf(form: FormData): Record<string, unknown> {
  const input: Record<string, unknown> = {}
  for (const [name, value] of form) {
    if (name.startsWith('$') || typeof value !== 'string') continue
    const isList = name.endsWith('[]')
    const path = (isList ? name.slice(0, -2) : name).split('.')
    const last = path.pop() ?? name
    let at = input
    for (const key of path) {
      if (typeof at[key] !== 'object' || at[key] === null) at[key] = {}
      at = at[key] as Record<string, unknown>
    }
    const before = at[last]
    at[last] = isList ? [...(Array.isArray(before) ? before : []), value] : value
  }
  return input
}

export function refusedForm<R>(
  before: FormState<R>,
  typed: Record<string, string>,
  refusal: PlainRefusal,
): FormState<R> {
  return {
    typed,
    fields: refusal.fields,
    message: refusal.message,
    theirs: refusal.theirs ?? null,
    answer: null,
    turn: before.turn + 1,
  }
}
