import type { ReactNode } from 'react'

/** What narrows a list: sent by address, so that a view can be kept and shared, and works without a script. */
export function FindForm({
  action,
  label,
  columns,
  children,
}: {
  action: string
  label: string
  /** Classes that set the columns of its fields. */
  columns: string
  children: ReactNode
}) {
  return (
    <search>
      <form action={action} aria-label={label} className={`no-print grid items-end gap-3 ${columns}`}>
        {children}
        <button type="submit" className="btn-quiet">
          Show
        </button>
      </form>
    </search>
  )
}

/** The words to look for. */
export function FindWords({ typed, example }: { typed: string; example: string }) {
  return (
    <label className="flex flex-col gap-1 font-semibold">
      Find
      <input
        type="search"
        name="search"
        defaultValue={typed}
        maxLength={80}
        placeholder={example}
        className="field-box font-normal"
      />
    </label>
  )
}

/** One choice out of a list. */
export function FindChoice({
  name,
  label,
  chosen,
  choices,
}: {
  name: string
  label: string
  chosen: string
  choices: readonly { value: string; label: string }[]
}) {
  return (
    <label className="flex flex-col gap-1 font-semibold">
      {label}
      <select name={name} defaultValue={chosen} className="field-box font-normal">
        {choices.map(({ value, label: words }) => (
          <option key={value} value={value}>
            {words}
          </option>
        ))}
      </select>
    </label>
  )
}
