import type { Condition } from '../../../../../lib/core/checks/catalogue'
import type { CheckShown } from '../../../../../lib/shop/read-sheet'
import { conditionSaid } from './round-words'

/** What must hold for the reading or answer to be judged and is not said yet: each a tap away. */
export function Lacking({
  check,
  holding,
  onHold,
}: {
  check: CheckShown
  holding: readonly Condition[]
  onHold: (condition: Condition) => void
}) {
  const lacking = (check.conditions ?? []).filter((condition) => !holding.includes(condition))
  if (lacking.length === 0) return null
  const what = check.sort === 'look' ? 'answer' : 'reading'
  return (
    <fieldset className="border-l-8 border-ochre bg-ochre-wash p-3">
      <legend className="sr-only">What must hold</legend>
      <p>Judged only if this holds; otherwise the {what} is kept and not judged.</p>
      <div className="mt-2 flex flex-wrap gap-2">
        {lacking.map((condition) => (
          <button key={condition} type="button" className="btn-quiet" onClick={() => onHold(condition)}>
            {conditionSaid[condition]}: yes
          </button>
        ))}
      </div>
    </fieldset>
  )
}
