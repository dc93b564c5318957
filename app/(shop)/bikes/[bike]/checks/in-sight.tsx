import type { ReactNode } from 'react'
import type { SeenRound } from './as-seen-here'
import { Padlock } from './round-steps'
import { roundWords } from './round-words'

/**
 * What stays in sight while the page is scrolled: how much is left here, which rounds are shut, and what was recorded
 * last. On a screen too low for it, as one enlarged four times, it scrolls away like everything else.
 */
export function InSight({
  left,
  rounds,
  children,
}: {
  left: string
  rounds: readonly SeenRound[]
  children: ReactNode
}) {
  const shut = rounds.filter(({ open }) => !open).map(({ round }) => roundWords[round].name)
  return (
    <div className="in-sight flex flex-col gap-1 bg-paper py-1">
      <p className="flex flex-wrap items-center justify-between gap-x-4 border-b-2 border-ink">
        <strong>{left}</strong>
        {shut.length > 0 && (
          <span className="flex items-center gap-1">
            <Padlock />
            {shut.join(' and ')} shut
          </span>
        )}
      </p>
      {children}
    </div>
  )
}
