import { cookies, headers } from 'next/headers'
import type { z } from 'zod'
import type { Context, Deed } from '../shop/deed'
import { markDoor } from './door-mark'
import { type FormState, inputOf, refusedForm, typedIn } from './form-state'
import { contextOf } from './request-context'
import { isSameOrigin } from './same-origin'
import { schemeHeader } from './scheme'

export type FormAction<R> = (before: FormState<R>, form: FormData) => Promise<FormState<R>>

type Door<R> = {
  /** The input the deed reads, where the plain fields of the form are not it. */
  input?: (form: FormData) => unknown | Promise<unknown>
  /** Names of fields that never come back to the page. */
  secrets?: readonly string[]
  /** After the deed is done: cookies, and usually a redirect. */
  after?: (answer: R, context: Context, form: FormData) => Promise<void>
}

/**
 * The door for forms: makes a Server Action of a deed. It checks where the request comes from, finds out who
 * asks, runs the deed, and answers what the form shows. Server Actions themselves let requests without an
 * Origin header through; this door does not.
 */
export function formDoor<S extends z.ZodType, R>(deed: Deed<S, R>, door: Door<R> = {}): FormAction<R> {
  const { input = inputOf, secrets = [], after } = door
  const action: FormAction<R> = async (before, form) => {
    const asked = await headers()
    const jar = await cookies()
    const typed = typedIn(form, secrets)
    if (
      !isSameOrigin({
        method: 'POST',
        ...originFacts((name) => asked.get(name)),
      })
    ) {
      return refusedForm(before, typed, {
        kind: 'not-allowed',
        message: 'This form was sent from somewhere else. Load the page again.',
        fields: {},
      })
    }
    const context = await contextOf((name) => jar.get(name)?.value)
    const result = await deed(await input(form), context)
    if (!result.ok) return refusedForm(before, typed, result.refusal)
    if (after) await after(result.answer, context, form)
    return {
      typed: {},
      fields: {},
      message: null,
      theirs: null,
      answer: result.answer,
      turn: before.turn + 1,
    }
  }
  return markDoor(action, deed.verb)
}

/** The headers that tell where a request comes from. */
export function originFacts(header: (name: string) => string | null) {
  return {
    host: header('host'),
    scheme: header(schemeHeader),
    origin: header('origin'),
    secFetchSite: header('sec-fetch-site'),
    referer: header('referer'),
  }
}
