import type { RowState } from '../../lib/shop/derived'

const says = {
  again: 'Figures from before: being worked out again.',
  first: 'Being worked out.',
  failed: 'Figures from before: they could not be worked out again. Open the bike to try once more.',
} as const satisfies Record<Exclude<RowState, 'now'>, string>

/** How far the figures of a bike can be trusted; nothing where they are of now. */
export function RowStateMark({ state }: { state: RowState }) {
  if (state === 'now') return null
  return (
    <p className="flex items-start gap-2 font-semibold">
      <svg
        aria-hidden="true"
        viewBox="0 0 20 20"
        width="20"
        height="20"
        className="mt-0.5 shrink-0 text-accent"
      >
        <circle
          cx="10"
          cy="10"
          r="8"
          fill="none"
          stroke="currentColor"
          strokeWidth="2"
          strokeDasharray="3 2.5"
        />
        <path d="M10 5.5V10l3.2 2" fill="none" stroke="currentColor" strokeWidth="2" />
      </svg>
      {says[state]}
    </p>
  )
}
