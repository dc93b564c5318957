import type { ReactNode } from 'react'

export type FigureProps = {
  label: ReactNode
  value: ReactNode
  note?: ReactNode
  size?: 'main' | 'large' | 'plain'
}

const sizes = {
  main: 'total text-4xl font-semibold sm:text-5xl',
  large: 'text-3xl font-semibold',
  plain: 'text-xl font-semibold',
} as const

/** A number with its name above it; the main one of a page is underlined twice, like the sum of a ledger. */
export function Figure({ label, value, note, size = 'large' }: FigureProps) {
  return (
    <div className="flex flex-col">
      <span className="text-soft">{label}</span>
      <span className={`self-start leading-tight ${sizes[size]}`}>{value}</span>
      {note && <span className="mt-1 text-soft">{note}</span>}
    </div>
  )
}
