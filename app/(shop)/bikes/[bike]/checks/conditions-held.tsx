import { type Condition, conditions } from '../../../../../lib/core/checks/catalogue'
import type { SeenCheck } from './as-seen-here'
import { conditionSaid, excludes } from './round-words'

/** What holds for the round, said once; it goes with every reading and answer that asks for it. */
export function ConditionsHeld({
  checks,
  holding,
  onChange,
}: {
  checks: readonly SeenCheck[]
  holding: readonly Condition[]
  onChange: (holding: readonly Condition[]) => void
}) {
  const asked = conditions.filter((condition) =>
    checks.some(({ check }) => check.conditions?.includes(condition)),
  )
  if (asked.length === 0) return null
  const toggle = (condition: Condition, holds: boolean) => {
    const others = holding.filter((one) => one !== condition && one !== excludes[condition])
    onChange(holds ? [...others, condition] : others)
  }
  return (
    <fieldset className="flex flex-col gap-1">
      <legend className="mb-1 font-semibold">
        True right now?{' '}
        <span className="font-normal text-soft">It goes with the readings and answers that ask for it.</span>
      </legend>
      <div className="flex flex-wrap gap-2">
        {asked.map((condition) => (
          <label key={condition} className="tile grow basis-40 items-center">
            <input
              type="checkbox"
              checked={holding.includes(condition)}
              onChange={(event) => toggle(condition, event.target.checked)}
            />
            <span className="font-semibold">{conditionSaid[condition]}</span>
          </label>
        ))}
      </div>
    </fieldset>
  )
}
