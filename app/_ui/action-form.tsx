'use client'

import { type ReactNode, useActionState, useId, useState } from 'react'
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
  doneHere = false,
}: {
  action: Action<R>
  children: ReactNode
  done?: ReactNode
  label?: string
  className?: string
  /** What it does is done on the device itself and wants no network. */
  doneHere?: boolean
}) {
  const [state, send] = useActionState(action, emptyForm as FormState<R>)
  const prefix = useId()
  const [isCutOff, setCutOff] = useState(false)
  return (
    <FormContext value={{ prefix, state }}>
      <form
        action={send}
        aria-label={label}
        className={className}
        noValidate
        onSubmit={(event) => {
          // Sent without a network it would end on a page of the browser's, with everything typed lost.
          const cutOff = !doneHere && !navigator.onLine
          if (cutOff) event.preventDefault()
          setCutOff(cutOff)
        }}
      >
        {isCutOff && (
          <p role="alert" className="border-l-8 border-plum bg-plum-wash p-3 font-semibold text-ink">
            No network: nothing was sent, and what you typed stays here. Try again once there is one.
          </p>
        )}
        <FormMessage done={done} />
        <div key={state.turn} className="contents">
          {children}
        </div>
      </form>
    </FormContext>
  )
}
