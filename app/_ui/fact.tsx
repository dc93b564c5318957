import type { ReactNode } from 'react'

/** A small figure with its name above it, inside a `<dl>`. */
export function Fact({
  label,
  value,
  strong = false,
}: {
  label: ReactNode
  value: ReactNode
  strong?: boolean
}) {
  return (
    <div>
      <dt className="text-sm text-soft">{label}</dt>
      <dd className={strong ? 'text-lg font-semibold' : ''}>{value}</dd>
    </div>
  )
}
