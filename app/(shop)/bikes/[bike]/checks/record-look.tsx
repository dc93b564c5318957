import type { CheckShown } from '../../../../../lib/shop/read-sheet'
import type { Said } from './recording'

type Look = Extract<CheckShown, { sort: 'look' }>

/** The answers as tiles: a tap records. */
export function LookTiles({ check, onRecord }: { check: Look; onRecord: (said: Said) => void }) {
  return (
    <fieldset>
      <legend className="mb-2 font-semibold">What is it like?</legend>
      <div className="grid gap-3 sm:grid-cols-2">
        {check.answers.map(({ key, label }) => (
          <button
            key={key}
            type="button"
            onClick={() => onRecord({ kind: 'answer', value: key })}
            className="min-h-20 cursor-pointer rounded-sheet border-2 border-edge bg-sheet px-4 py-3 text-left text-lg
              font-semibold hover:border-ink active:bg-wash"
          >
            {label}
          </button>
        ))}
      </div>
    </fieldset>
  )
}
