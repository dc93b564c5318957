import type { ReactNode } from 'react'

/** A small figure with its name above it, inside a `<dl>`. */
export function Fact({
  label,
  value,
  strong = false,
  wide = false,
}: {
  label: ReactNode
  value: ReactNode
  strong?: boolean
  /** Over all columns of a grid: for a sentence. */
  wide?: boolean
}) {
  return (
    <div className={wide ? 'col-span-full' : undefined}>
      <dt className="text-sm text-soft">{label}</dt>
      <dd className={strong ? 'text-lg font-semibold' : ''}>{value}</dd>
    </div>
  )
}
