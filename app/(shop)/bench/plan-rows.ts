import { momentOf } from '../../../lib/core/plan/working-time'
import type { PlanPage } from '../../../lib/shop/read-plan'
import { bikeName } from '../../_ui/bike-name'
import type { PlanBar, PlanRow } from '../../_ui/plan-bars'
import { daysShown, momentWords, placeIn, taskWords } from './plan-words'

/** Working days in the picture. */
const shown = 10

/** People and lifts as rows of bars. What lies beyond the days shown is left out; what begins within is cut. */
export function rowsOfPlan(plan: PlanPage): {
  rows: PlanRow[]
  days: { from: number; day: string }[]
  now: number | null
} {
  const { today, week, people, bikes, lifts, startsOn } = plan
  const days = daysShown({ today, weekdays: week.weekdays }, shown)
  const place = placeIn(days, week)
  const tasks = bikes.flatMap((bike) => bike.tasks.map((task) => ({ ...task, name: bikeName(bike) })))
  const cut = (bar: PlanBar) => (bar.to > bar.from ? [bar] : [])
  const rowOf = (label: string, own: typeof tasks): PlanRow => ({
    label,
    bars: own.flatMap((task) =>
      cut({
        id: task.id,
        from: place(task.from),
        to: place(task.to),
        text: String(task.viewingNo),
        says: `${task.name}: ${taskWords(task)}, ${momentWords(task.from, today)} to ${momentWords(task.to, today)}`,
        look: task.person === null ? 'wait' : task.isPinned ? 'settled' : 'work',
      }),
    ),
  })
  const numbers = new Map(bikes.map((bike) => [bike.id, bike]))
  return {
    days: days.map((day, at) => ({ day, from: at / days.length })),
    now: days[0] === today ? place(plan.now) : null,
    rows: [
      ...people.map(({ id, name }) =>
        rowOf(
          name,
          tasks.filter(({ person }) => person === id),
        ),
      ),
      ...lifts.map(
        (stays, no): PlanRow => ({
          label: `Lift ${no + 1}`,
          bars: stays.flatMap(({ bike, from, to }) => {
            const on = numbers.get(bike)
            if (!on) return []
            const [begin, end] = [momentOf(startsOn, from), momentOf(startsOn, to)]
            return cut({
              id: `${bike}-${from}`,
              from: place(begin),
              to: place(end),
              text: String(on.viewingNo),
              says: `${bikeName(on)} on lift ${no + 1}, ${momentWords(begin, today)} to ${momentWords(end, today)}`,
              look: 'work',
            })
          }),
        }),
      ),
      ...(tasks.some(({ person }) => person === null)
        ? [
            rowOf(
              'By the clock',
              tasks.filter(({ person }) => person === null),
            ),
          ]
        : []),
    ],
  }
}
