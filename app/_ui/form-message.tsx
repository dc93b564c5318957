'use client'

import { type ReactNode, useContext, useEffect, useRef } from 'react'
import { FormContext, idOfField } from './form-context'

/** What became of a form that was sent: it takes the focus, names each field to look at and leads there. */
export function FormMessage({ done }: { done?: ReactNode }) {
  const { prefix, state } = useContext(FormContext)
  const box = useRef<HTMLDivElement>(null)
  const { turn } = state

  useEffect(() => {
    if (turn > 0) box.current?.focus()
  }, [turn])

  if (turn === 0) return null
  if (state.message === null) {
    return done ? (
      <div ref={box} tabIndex={-1} role="status" className="border-l-8 border-blue bg-blue-wash p-3">
        {done}
      </div>
    ) : null
  }
  const fields = Object.entries(state.fields)
  const theirs = Object.keys(state.theirs ?? {}).filter((name) => name !== 'version')
  return (
    <div ref={box} tabIndex={-1} role="alert" className="border-l-8 border-plum bg-plum-wash p-3">
      {fields.length !== 1 && <p className="font-semibold">{state.message}</p>}
      {fields.length > 0 && (
        <ul className="flex flex-col">
          {fields.map(([name, message]) => (
            <li key={name}>
              {name === '' ? (
                message
              ) : (
                <a className="tap" href={`#${idOfField(prefix, name)}`}>
                  {message}
                </a>
              )}
            </li>
          ))}
        </ul>
      )}
      {theirs.length > 0 && (
        <p className="mt-1">
          Where it differs, what is stored now stands under the field. Saving again puts yours in its place.
        </p>
      )}
    </div>
  )
}
