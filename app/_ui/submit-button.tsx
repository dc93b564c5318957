'use client'

import type { ReactNode } from 'react'
import { useFormStatus } from 'react-dom'

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
  look?: 'main' | 'quiet'
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
      className={look === 'main' ? 'btn' : 'btn-quiet'}
    >
      {status.pending ? pending : children}
    </button>
  )
}
