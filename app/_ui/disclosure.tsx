import type { ReactNode, Ref } from 'react'

/** What is there on demand: a line that opens, with Enter or a tap, without a script. */
export function Disclosure({
  summary,
  open = false,
  children,
  ref,
  onToggle,
}: {
  summary: ReactNode
  open?: boolean
  children: ReactNode
  ref?: Ref<HTMLDetailsElement>
  onToggle?: () => void
}) {
  return (
    <details ref={ref} open={open} onToggle={onToggle}>
      <summary className="tap flex w-full list-none gap-3 [&::-webkit-details-marker]:hidden">
        <svg
          aria-hidden="true"
          viewBox="0 0 12 12"
          width="12"
          height="12"
          className="shrink-0 text-accent print:hidden [details[open]>summary>&]:rotate-90"
        >
          <path d="M3 1l6 5-6 5" fill="none" stroke="currentColor" strokeWidth="2.2" />
        </svg>
        <span className="min-w-0">{summary}</span>
      </summary>
      <div className="ml-1.5 border-l-2 border-rule py-2 pl-4">{children}</div>
    </details>
  )
}
