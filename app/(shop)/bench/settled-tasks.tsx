import { uuidv7 } from 'uuidv7'
import { addDays } from '../../../lib/core/quantity/days'
import type { PlanPage } from '../../../lib/shop/read-plan'
import { ActionForm } from '../../_ui/action-form'
import { bikeName } from '../../_ui/bike-name'
import { HiddenField } from '../../_ui/hidden-field'
import { Sheet } from '../../_ui/sheet'
import { SubmitButton } from '../../_ui/submit-button'
import { pinTaskAction } from './actions'
import { LetMove } from './bike-in-plan'
import { clock, daysShown, momentWords } from './plan-words'

/** What a manager settled by hand, each to be moved by a working day or left to the plan again. */
export function SettledTasks({ plan, maySettle }: { plan: PlanPage; maySettle: boolean }) {
  const { pins, today, people, bikes, week } = plan
  if (pins.length === 0) return null
  return (
    <Sheet title="Settled by hand" sub="The plan is made around these.">
      <ul className="flex flex-col">
        {pins.map(({ bike, task, title, from, doer }) => {
          const on = bikes.find(({ id }) => id === bike)
          const who = people.find(({ id }) => id === doer)
          const move = { bike, task, title, at: clock(from.minute), doer: doer ?? '' }
          const before = dayBefore(from.day, week.weekdays)
          return (
            <li
              key={`${bike}/${task}`}
              className="flex flex-wrap items-center justify-between gap-3 border-b border-rule py-3 last:border-0"
            >
              <p>
                <span className="font-semibold">
                  {on ? bikeName(on) : 'A bike'}: {title}
                </span>
                <span className="block text-soft">
                  {momentWords(from, today)}
                  {who && `, ${who.name}`}
                </span>
              </p>
              {maySettle && (
                <div className="no-print flex flex-wrap gap-2">
                  {before >= today && <MoveTo {...move} day={before} label="A day earlier" />}
                  <MoveTo {...move} day={dayAfter(from.day, week.weekdays)} label="A day later" />
                  <LetMove bike={bike} task={task} title={title} />
                </div>
              )}
            </li>
          )
        })}
      </ul>
    </Sheet>
  )
}

function MoveTo({
  label,
  title,
  ...pin
}: { label: string; title: string } & Record<'bike' | 'task' | 'day' | 'at' | 'doer', string>) {
  return (
    <ActionForm action={pinTaskAction} label={`${title}: ${label.toLowerCase()}`}>
      <HiddenField name="id" value={uuidv7()} />
      {Object.entries(pin).map(([name, value]) => (
        <HiddenField key={name} name={name} value={value} />
      ))}
      <SubmitButton look="quiet">{label}</SubmitButton>
    </ActionForm>
  )
}

function dayAfter(day: string, weekdays: readonly number[]): string {
  return daysShown({ today: addDays(day, 1), weekdays }, 1)[0] ?? addDays(day, 1)
}

function dayBefore(day: string, weekdays: readonly number[]): string {
  for (let back = 1; back < 8; back += 1) {
    const other = addDays(day, -back)
    if (weekdays.includes(new Date(`${other}T00:00:00Z`).getUTCDay())) return other
  }
  return addDays(day, -1)
}
