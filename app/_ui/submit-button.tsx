'use client'

import type { ReactNode } from 'react'
import { useFormStatus } from 'react-dom'

const looks = {
  main: 'btn',
  quiet: 'btn-quiet',
  plain: 'tap cursor-pointer px-2 font-semibold text-accent underline underline-offset-4',
} as const

/** Sends its form; while that is under way it says so and a second press does nothing. */
export function SubmitButton({
  children,
  pending = 'Saving …',
  look = 'main',
  name,
  value,
}: {
  children: ReactNode
  pending?: string
  look?: keyof typeof looks
  name?: string
  value?: string
}) {
  const status = useFormStatus()
  return (
    <button
      type="submit"
      name={name}
      value={value}
      aria-disabled={status.pending}
      onClick={(event) => {
        if (status.pending) event.preventDefault()
      }}
      className={looks[look]}
    >
      {status.pending ? pending : children}
    </button>
  )
}
