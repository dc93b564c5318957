'use client'

import { useId, useState } from 'react'
import { Disclosure } from '../../../../_ui/disclosure'
import { skipReasons } from './round-words'

/** Not done, and why: it counts as not checked, never as good. */
export function SkipCheck({ onSkip }: { onSkip: (because: string) => void }) {
  /** Counted up to draw the fold anew, shut, once a reason was given. */
  const [turn, setTurn] = useState(0)
  const [own, setOwn] = useState('')
  const [problem, setProblem] = useState(false)
  const id = useId()

  function skip(because: string) {
    setTurn(turn + 1)
    setOwn('')
    setProblem(false)
    onSkip(because)
  }

  return (
    <Disclosure key={turn} summary={<span className="font-semibold">Not checked, because …</span>}>
      <div className="grid gap-2 sm:grid-cols-2">
        {skipReasons.map((because) => (
          <button key={because} type="button" className="btn-quiet" onClick={() => skip(because)}>
            {because}
          </button>
        ))}
      </div>
      <form
        className="mt-3 flex flex-wrap items-end gap-2"
        onSubmit={(event) => {
          event.preventDefault()
          if (own.trim() === '') setProblem(true)
          else skip(own.trim())
        }}
      >
        <label htmlFor={id} className="flex min-w-0 grow flex-col gap-1">
          <span className="font-semibold">Another reason</span>
          <input
            id={id}
            value={own}
            maxLength={200}
            autoComplete="off"
            aria-invalid={problem}
            aria-describedby={problem ? `${id}-problem` : undefined}
            onChange={(event) => setOwn(event.target.value)}
            className="field-box"
          />
          {problem && (
            <span id={`${id}-problem`} className="font-semibold text-plum">
              Say why, in a few words.
            </span>
          )}
        </label>
        <button type="submit" className="btn-quiet">
          Leave it out
        </button>
      </form>
    </Disclosure>
  )
}
