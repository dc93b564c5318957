'use client'

import { type ReactNode, useId } from 'react'

/** One of a few that changes what the page does next, at a tap; each is a tile big enough for a glove. */
export function TapChoice<T extends string>({
  label,
  choices,
  chosen,
  onChoose,
  quiet = false,
}: {
  label: ReactNode
  choices: readonly { value: T; label: ReactNode; note?: ReactNode }[]
  chosen: T | null
  onChoose: (value: T) => void
  /** The label is only for readers, where the choices speak for themselves. */
  quiet?: boolean
}) {
  const name = useId()
  return (
    <fieldset className="flex flex-col gap-1">
      <legend className={quiet ? 'sr-only' : 'mb-1 font-semibold'}>{label}</legend>
      <div className="flex flex-wrap gap-2">
        {choices.map(({ value, label: words, note }) => (
          <label key={value} className="tile grow basis-32 items-center">
            <input
              type="radio"
              name={name}
              value={value}
              checked={chosen === value}
              onChange={() => onChoose(value)}
            />
            <span className="min-w-0">
              <span className="font-semibold">{words}</span>
              {note && <span className="block text-soft">{note}</span>}
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  )
}
