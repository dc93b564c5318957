import type { PlanPage } from '../../../lib/shop/read-plan'
import { bikeName } from '../../_ui/bike-name'
import { TableHeads } from '../../_ui/table-heads'
import { clock, dayWords, taskWords } from './plan-words'

/** The plan on paper: what everybody does, in order, day by day. */
export function PrintedList({ plan: { people, bikes, today } }: { plan: PlanPage }) {
  const tasks = bikes
    .flatMap((bike) => bike.tasks.map((task) => ({ ...task, name: bikeName(bike) })))
    .sort((a, b) => a.start - b.start || a.end - b.end)
  const rows = [
    ...people.map(({ id, name }) => ({ name, own: tasks.filter(({ person }) => person === id) })),
    { name: 'By the clock', own: tasks.filter(({ person }) => person === null) },
  ].filter(({ own }) => own.length > 0)
  return (
    <section className="hidden flex-col gap-4 print:flex" aria-label="The plan as a list">
      {rows.map(({ name, own }) => (
        <table key={name} className="w-full text-left text-sm">
          <caption className="text-left font-serif text-lg font-semibold">{name}</caption>
          <TableHeads
            heads={[
              { label: 'Day', width: 'w-24' },
              { label: 'Time', width: 'w-28' },
              'Task',
              { label: 'Bike', width: 'w-48' },
            ]}
          />
          <tbody>
            {own.map((task, no) => (
              <tr key={task.id} className="break-inside-avoid border-b border-rule align-top">
                <td className="pr-2">
                  {own[no - 1]?.from.day === task.from.day ? '' : dayWords(task.from.day, today)}
                </td>
                <td className="pr-2">
                  {clock(task.from.minute)} to{' '}
                  {task.to.day === task.from.day
                    ? clock(task.to.minute)
                    : `${dayWords(task.to.day, today)}, ${clock(task.to.minute)}`}
                </td>
                <td className="pr-2">{taskWords(task)}</td>
                <td>
                  {task.name} ({task.viewingNo})
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      ))}
    </section>
  )
}
