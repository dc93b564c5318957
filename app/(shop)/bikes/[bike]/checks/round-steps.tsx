import type { Round } from '../../../../../lib/core/checks/catalogue'
import type { SeenRound } from './as-seen-here'
import { roundWords } from './round-words'
import { shutWords } from './shut-words'

/** The four rounds in their order, each with how far it has come and whether it is shut. */
export function RoundSteps({
  rounds,
  current,
  onOpen,
}: {
  rounds: readonly SeenRound[]
  current: Round
  onOpen: (round: Round) => void
}) {
  return (
    <nav aria-label="Rounds">
      <ol className="grid grid-cols-2 gap-2 sm:grid-cols-4">
        {rounds.map(({ round, open, needs, progress }, index) => (
          <li key={round}>
            <button
              type="button"
              aria-current={round === current ? 'step' : undefined}
              onClick={() => onOpen(round)}
              className="flex h-full min-h-16 w-full cursor-pointer flex-col rounded-sheet border-2 border-rule bg-sheet
                px-3 py-2 text-left hover:border-edge aria-[current=step]:border-ink
                aria-[current=step]:border-b-8"
            >
              <span className="flex items-center justify-between gap-2">
                <span className="font-serif text-lg font-semibold">
                  {index + 1}. {roundWords[round].name}
                </span>
                {!open && <Padlock />}
              </span>
              <span className="text-soft">{open ? leftWords(progress) : shutWords({ needs, progress })}</span>
            </button>
          </li>
        ))}
      </ol>
    </nav>
  )
}

/** How much of a round waits. */
export function leftWords({ open, applicable }: SeenRound['progress']): string {
  if (applicable === 0) return 'nothing to check'
  return open === 0 ? `all ${applicable} done` : `${open} of ${applicable} to do`
}

export function Padlock() {
  return (
    <svg aria-hidden="true" viewBox="0 0 24 24" width="24" height="24" className="shrink-0 text-plum">
      <path d="M7 11V7a5 5 0 0 1 10 0v4" fill="none" stroke="currentColor" strokeWidth="2.6" />
      <rect x="4" y="11" width="16" height="11" fill="currentColor" />
    </svg>
  )
}
