import type { EntryState } from '../../../../lib/shop/read-catalogue'
import { stateWords } from './words'

/** Whose values these are: a dashed box for those the shop started with, a full one for its own. */
export function StateMark({ state, note }: { state: EntryState; note?: string }) {
  return (
    <span className="inline-flex items-center gap-2 font-semibold">
      <svg aria-hidden="true" viewBox="0 0 16 16" width="16" height="16" className="shrink-0">
        <rect
          x="1.5"
          y="1.5"
          width="13"
          height="13"
          fill={state === 'changed' || state === 'own' ? 'currentColor' : 'none'}
          stroke="currentColor"
          strokeWidth="2"
          strokeDasharray={state === 'starting' ? '3 2' : undefined}
        />
        {state === 'out of use' && <path d="M2 14 14 2" stroke="currentColor" strokeWidth="2" />}
      </svg>
      <span>
        {stateWords[state]}
        {note && <span className="font-normal text-soft"> {note}</span>}
      </span>
    </span>
  )
}
