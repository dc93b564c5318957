import type { ReactNode } from 'react'

/**
 * What narrows a list: sent by address, so that a view can be kept and shared, and works without a script. On a
 * phone the words stand beside the button and the choices beside one another, so that the list begins in sight.
 */
export function FindForm({
  action,
  label,
  columns,
  words,
  children,
}: {
  action: string
  label: string
  /** Classes that set the columns of its fields from a tablet on. */
  columns: string
  /** The field for the words to look for, where there is one. */
  words?: ReactNode
  children: ReactNode
}) {
  return (
    <search>
      <form
        action={action}
        aria-label={label}
        className={`no-print flex flex-wrap items-end gap-3 sm:grid ${columns}`}
      >
        {words}
        {children}
        <button type="submit" className={`btn-quiet ${words ? 'max-sm:order-1' : 'max-sm:order-3'}`}>
          Show
        </button>
      </form>
    </search>
  )
}

/** The words to look for. */
export function FindWords({ typed, example }: { typed: string; example: string }) {
  return (
    <label className="flex min-w-0 grow basis-40 flex-col gap-1 font-semibold">
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
    <label className="flex min-w-32 flex-1 flex-col gap-1 font-semibold max-sm:order-2">
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
