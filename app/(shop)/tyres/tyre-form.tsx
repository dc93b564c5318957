import type { ReactNode } from 'react'
import type { ReadOff, TyreRead } from '../../../lib/shop/read-tyres'

/** A plain form that changes the address, so that it works without scripts and a tyre can be linked to. */
export function TyreForm({ tyre: { asked, size, date, sheet } }: { tyre: TyreRead }) {
  return (
    <form
      action="/tyres"
      aria-label="What stands on the side wall"
      className="no-print grid items-start gap-4 sm:grid-cols-2 lg:grid-cols-3"
    >
      <TypedOff
        name="marking"
        label="Size, load and speed"
        hint="Such as 190/50 ZR17 (73W)."
        typed={asked.marking}
        read={size}
        most={80}
      />
      <TypedOff
        name="code"
        label="Date code"
        hint="Four digits, or three before 2000."
        typed={asked.code}
        read={date}
        most={20}
        inputMode="numeric"
      />
      <TypedOff
        name="sheet"
        label={
          <>
            What the model’s sheet asks for <span className="font-normal text-soft">(optional)</span>
          </>
        }
        hint="To compare size, load and speed."
        typed={asked.sheet}
        read={sheet}
        most={80}
      />
      <button type="submit" className="btn sm:col-span-full sm:justify-self-start">
        Read it
      </button>
    </form>
  )
}

function TypedOff({
  name,
  label,
  hint,
  typed,
  read,
  most,
  inputMode,
}: {
  name: string
  label: ReactNode
  hint: string
  typed: string
  read: ReadOff<unknown>
  most: number
  inputMode?: 'numeric'
}) {
  const id = `tyre-${name}`
  const wrong = read.kind === 'unreadable' ? read : null
  return (
    <div className="flex flex-col gap-1">
      <label htmlFor={id} className="font-semibold">
        {label}
      </label>
      <p id={`${id}-hint`} className="text-soft">
        {hint}
      </p>
      <input
        id={id}
        name={name}
        defaultValue={typed}
        maxLength={most}
        inputMode={inputMode}
        autoComplete="off"
        autoCapitalize="characters"
        spellCheck={false}
        aria-invalid={wrong !== null}
        aria-describedby={wrong ? `${id}-error ${id}-hint` : `${id}-hint`}
        className="field-box min-w-0"
      />
      {wrong && (
        <p id={`${id}-error`} role="alert" className="flex gap-2 font-semibold text-plum">
          <span aria-hidden="true">▸</span>
          <span>
            {wrong.says} {wrong.hint}
          </span>
        </p>
      )}
    </div>
  )
}
