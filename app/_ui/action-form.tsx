'use client'

import { type ReactNode, useActionState, useId } from 'react'
import { emptyForm, type FormState } from '../../lib/web/form-state'
import { FormContext } from './form-context'
import { FormMessage } from './form-message'

type Action<R> = (before: FormState<R>, form: FormData) => Promise<FormState<R>>

/**
 * A form around a Server Action made by a form door. Fields inside keep what was typed and show their own
 * messages; the form is drawn anew after each answer, because a browser's own reset would empty it. It also
 * works before or without scripts. `done` is said where the deed went through and the page stays.
 */
export function ActionForm<R>({
  action,
  children,
  done,
  label,
  className = 'flex flex-col gap-5',
}: {
  action: Action<R>
  children: ReactNode
  done?: ReactNode
  label?: string
  className?: string
}) {
  const [state, send] = useActionState(action, emptyForm as FormState<R>)
  const prefix = useId()
  return (
    <FormContext value={{ prefix, state }}>
      <form action={send} aria-label={label} className={className} noValidate>
        <FormMessage done={done} />
        <div key={state.turn} className="contents">
          {children}
        </div>
      </form>
    </FormContext>
  )
}
