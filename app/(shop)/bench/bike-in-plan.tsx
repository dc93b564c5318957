import Link from 'next/link'
import { uuidv7 } from 'uuidv7'
import type { BikePlannedWithMoney, PlanPage, TaskShown } from '../../../lib/shop/read-plan'
import { ActionForm } from '../../_ui/action-form'
import { bikeName, numbersOf } from '../../_ui/bike-name'
import { Disclosure } from '../../_ui/disclosure'
import { Fact } from '../../_ui/fact'
import { Field, SelectField } from '../../_ui/field'
import { formatDay, formatMoney, formatShare } from '../../_ui/formats'
import { HiddenField } from '../../_ui/hidden-field'
import { StageMark } from '../../_ui/marks'
import { SubmitButton } from '../../_ui/submit-button'
import { TableHeads } from '../../_ui/table-heads'
import { pinTaskAction, promiseDayAction, unpinTaskAction } from './actions'
import { clock, momentWords, smallMoney, taskWords, whySays } from './plan-words'

/** One bike of the plan: when it is ready and why then; its tasks open below, with what a manager may settle. */
export function BikeInPlan({
  bike,
  plan,
  maySettle,
}: {
  bike: BikePlannedWithMoney
  plan: PlanPage
  maySettle: boolean
}) {
  const { today, currency, startsOn } = plan
  const { viewingNo, ready, promisedBy, promise, chanceOfDue, dayPriceMinor, standsMinor, tasks } = bike
  const why = whySays(bike.why, {
    startsOn,
    today,
    person: (id) => plan.people.find((one) => one.id === id)?.name ?? 'somebody',
    bike: (id) => {
      const other = plan.bikes.find((one) => one.id === id)
      return other ? bikeName(other) : 'another bike'
    },
    job: (key) => tasks.find(({ task }) => task === `job:${key}`)?.title ?? 'a job',
  })
  return (
    <article className="grid gap-x-6 gap-y-3 md:grid-cols-[minmax(0,1fr)_minmax(0,1.8fr)]">
      <div className="flex min-w-0 flex-col items-start gap-1">
        <h3 className="text-lg">
          <Link href={`/bikes/${viewingNo}/bench`} className="tap">
            {bikeName(bike)}
          </Link>
        </h3>
        <p className="text-soft">{numbersOf(bike)}</p>
        <StageMark stage={bike.stage} />
      </div>
      <div className="flex min-w-0 flex-col gap-3">
        <dl className="grid grid-cols-2 gap-x-4 gap-y-2 sm:grid-cols-4">
          <Fact label="Ready by the plan" value={momentWords(ready, today)} />
          <Fact
            label="Safe to promise"
            value={promisedBy ? momentWords(promisedBy, today) : 'beyond the plan'}
          />
          {promise.day ? (
            <Fact
              label={`Promised for ${formatDay(promise.day)}`}
              value={chanceOfDue === null ? '\u2013' : `${formatShare(chanceOfDue)} sure`}
            />
          ) : (
            <Fact label="Promised" value="nothing" />
          )}
          <Fact
            label={`Stands at ${formatMoney(Math.round(dayPriceMinor), currency)} a day`}
            value={smallMoney(standsMinor, currency)}
          />
        </dl>
        <p>{why}</p>
        <div className="print:hidden">
          <Disclosure summary={`Its ${tasks.length === 1 ? 'one task' : `${tasks.length} tasks`}`}>
            <TaskTable tasks={tasks} today={today} />
            {maySettle && (
              <div className="no-print mt-4 grid gap-6 lg:grid-cols-2">
                <PromiseForm bike={bike} />
                <PinForm bike={bike} plan={plan} />
              </div>
            )}
          </Disclosure>
        </div>
      </div>
    </article>
  )
}

function TaskTable({ tasks, today }: { tasks: readonly TaskShown[]; today: string }) {
  return (
    <table className="w-full table-fixed text-left [overflow-wrap:anywhere] max-sm:text-sm">
      <TableHeads heads={['Task', 'Who', 'From', 'To']} />
      <tbody>
        {tasks.map((task) => (
          <tr key={task.id} className="border-b border-rule align-top">
            <th scope="row" className="py-1 pr-3 font-normal">
              {taskWords(task)}
              {task.isPinned && <span className="block font-semibold">settled by hand</span>}
              {task.nobodyAble && (
                <span className="block text-soft">Nobody at the bench does this kind of work.</span>
              )}
            </th>
            <td className="py-1 pr-3">{task.who ?? 'by the clock'}</td>
            <td className="py-1 pr-3">{momentWords(task.from, today)}</td>
            <td className="py-1">{momentWords(task.to, today)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function PromiseForm({ bike: { id, promise } }: { bike: BikePlannedWithMoney }) {
  return (
    <ActionForm action={promiseDayAction} label="Promise a day" done="Noted. It comes before all else now.">
      <HiddenField name="bike" value={id} />
      <HiddenField name="version" value={promise.version} />
      <Field
        name="day"
        type="date"
        label="Promised to be ready by"
        hint="A promised bike comes before all else. Empty takes the promise back."
        defaultValue={promise.day ?? ''}
      />
      <Field name="note" label="To whom, for what" defaultValue={promise.note} />
      <div>
        <SubmitButton look="quiet">Save the promise</SubmitButton>
      </div>
    </ActionForm>
  )
}

function PinForm({ bike: { id, tasks }, plan }: { bike: BikePlannedWithMoney; plan: PlanPage }) {
  const own = tasks.filter(({ person }) => person !== null)
  const [first] = own
  if (!first) return null
  return (
    <ActionForm
      action={pinTaskAction}
      label="Settle a task"
      done="Settled. The plan is made around it; above stands what that costs."
    >
      <HiddenField name="id" value={uuidv7()} />
      <HiddenField name="bike" value={id} />
      <SelectField
        name="task"
        label="Task"
        defaultValue={first.task}
        choices={own.map((task) => ({ value: task.task, label: taskWords(task) }))}
      />
      <div className="grid grid-cols-2 gap-3">
        <Field name="day" type="date" label="Begins on" defaultValue={first.from.day} required />
        <Field name="at" label="At" defaultValue={clock(first.from.minute)} required />
      </div>
      <SelectField
        name="doer"
        label="Done by"
        defaultValue=""
        choices={[
          { value: '', label: 'Whoever the plan finds' },
          ...plan.people.map(({ id, name }) => ({ value: id, label: name })),
        ]}
      />
      <div>
        <SubmitButton look="quiet">Settle this</SubmitButton>
      </div>
    </ActionForm>
  )
}

/** Lets the plan move a task again. */
export function LetMove({ bike, task, title }: { bike: string; task: string; title: string }) {
  return (
    <ActionForm action={unpinTaskAction} label={`Let ${title} move`}>
      <HiddenField name="bike" value={bike} />
      <HiddenField name="task" value={task} />
      <SubmitButton look="quiet">Let it move</SubmitButton>
    </ActionForm>
  )
}
