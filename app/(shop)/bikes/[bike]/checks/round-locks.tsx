'use client'

import type { SeenRound } from './as-seen-here'
import { Padlock } from './round-steps'
import { roundWords } from './round-words'
import { type OpenCheck, ShutBy } from './shut-by'

/** Why a round is shut and what opens it. Said before anything of the round, and never in the way of recording. */
export function RoundLocks({
  round,
  bike,
  mayClear,
  zone,
  onOpen,
}: {
  round: SeenRound
  bike: { id: string; viewingNo: number }
  mayClear: boolean
  zone: string
  onOpen: OpenCheck
}) {
  const { open, locks, needs } = round
  if (open && locks.length + needs.length === 0) return null
  const name = roundWords[round.round].name.toLowerCase()
  const head = open ? `The ${name} round is open for now` : `The ${name} round is shut`
  return (
    <section aria-label={head} className="flex flex-col gap-3 border-2 border-plum bg-plum-wash p-4">
      <div>
        <h2 className="flex items-center gap-2">
          {!open && <Padlock />}
          {head}
        </h2>
        {!open && (
          <p>
            Do not go on with it. What was seen can still be written down; how to do each check is held back.
          </p>
        )}
      </div>
      <ShutBy
        shut={round}
        shutHere={round.shutHere}
        bike={bike}
        mayClear={mayClear}
        zone={zone}
        onOpen={onOpen}
      />
    </section>
  )
}
