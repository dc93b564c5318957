import type { Metadata } from 'next'
import { uuidv7 } from 'uuidv7'
import { restingOnStartingValues } from '../../../../lib/core/board/starting-figures'
import { skills } from '../../../../lib/core/plan/bike-tasks'
import { hoursTyped, readBenchPeople, readTimesOff, type WorkShown } from '../../../../lib/shop/bench-people'
import { readShopFacts } from '../../../../lib/shop/facts'
import { typedMinute } from '../../../../lib/shop/fields'
import { typedFigures } from '../../../../lib/shop/figures'
import { openPage } from '../../../../lib/web/pages'
import { ActionForm } from '../../../_ui/action-form'
import { CheckField, CheckGroup } from '../../../_ui/choice-fields'
import { Disclosure } from '../../../_ui/disclosure'
import { Field, SelectField } from '../../../_ui/field'
import { countOf, formatDay } from '../../../_ui/formats'
import { HiddenField } from '../../../_ui/hidden-field'
import { PageHead } from '../../../_ui/page-head'
import { Sheet } from '../../../_ui/sheet'
import { SubNav } from '../../../_ui/sub-nav'
import { SubmitButton } from '../../../_ui/submit-button'
import { settingsEntries } from '../entries'
import { FigureForm } from '../figure-form'
import { noteTimeOffAction, setPersonWorkAction, withdrawTimeOffAction } from './actions'

export const metadata: Metadata = { title: 'Bench' }

const skillWords: Record<(typeof skills)[number], string> = {
  fuel: 'Fuel, carburettors, injection',
  brakes: 'Brakes',
  chassis: 'Wheels, tyres, steering, frame, final drive',
  engine: 'Engine and gearbox',
  electrics: 'Electrics',
  looks: 'Panels, seat, paint',
}
const skillChoices = skills.map((value) => ({ value, label: skillWords[value] }))

const weekdayChoices = [
  { value: '1', label: 'Monday' },
  { value: '2', label: 'Tuesday' },
  { value: '3', label: 'Wednesday' },
  { value: '4', label: 'Thursday' },
  { value: '5', label: 'Friday' },
  { value: '6', label: 'Saturday' },
  { value: '0', label: 'Sunday' },
]

/** Who works at the bench, when, on how many lifts: what the bench plan is made from. */
export default async function BenchSettings() {
  const { store, now } = await openPage('/settings/bench')
  const shop = await readShopFacts(store.db, now)
  const [people, times, { version }] = await Promise.all([
    readBenchPeople(store.db, shop.figures),
    readTimesOff(store.db, shop.today),
    store.db.shop.findFirstOrThrow({ select: { version: true } }),
  ])
  const typed = typedFigures(shop.figures, ['bench'])
  const at = (name: string) => typed[`figures.bench.${name}`] ?? ''
  const atBench = people.filter((one) => one.atBench)
  return (
    <main id="main" className="page">
      <PageHead
        title="Bench"
        sub="Who works on the bikes, when, and on how many lifts. The bench plan is made from it."
        figure={{ label: 'at the bench', value: atBench.length }}
        next={{ href: '/bench', label: 'See the bench plan' }}
      />
      <SubNav label="Settings" entries={settingsEntries} current="/settings/bench" />
      <div className="grid items-start gap-6 lg:grid-cols-2">
        <div className="flex flex-col gap-6">
          <Sheet
            title="People"
            sub="Technicians work at the bench where nothing else is said, in the shop’s hours and at every kind of work."
          >
            <ul className="flex flex-col">
              {people.map((one) => (
                <PersonEntry key={one.person} work={one} />
              ))}
            </ul>
          </Sheet>
          <Sheet title="Time off" sub="Holidays, closed days, blocks for customers’ own work.">
            {times.length > 0 && (
              <ul className="mb-6 flex flex-col">
                {times.map(({ id, name, what, fromDay, toDay, fromMinute, toMinute }) => (
                  <li
                    key={id}
                    className="flex flex-wrap items-center justify-between gap-3 border-b border-rule py-3 last:border-0"
                  >
                    <p>
                      <span className="font-semibold">
                        {name ?? 'The whole shop'}: {what}
                      </span>
                      <span className="block text-soft">
                        {formatDay(fromDay)}
                        {toDay !== fromDay && ` to ${formatDay(toDay)}`}
                        {(fromMinute !== null || toMinute !== null) &&
                          `, ${typedMinute(fromMinute ?? 0)} to ${typedMinute(toMinute ?? 24 * 60)}`}
                      </span>
                    </p>
                    <ActionForm action={withdrawTimeOffAction} label={`Take back ${what}`}>
                      <HiddenField name="id" value={id} />
                      <SubmitButton look="quiet">It is worked after all</SubmitButton>
                    </ActionForm>
                  </li>
                ))}
              </ul>
            )}
            <ActionForm
              action={noteTimeOffAction}
              label="Note a time off"
              done="Noted. The plan keeps it free."
            >
              <HiddenField name="id" value={uuidv7()} />
              <Field name="what" label="What it is" hint="Holiday, or a customer’s own bike." required />
              <SelectField
                name="person"
                label="For whom"
                defaultValue=""
                choices={[
                  { value: '', label: 'The whole shop' },
                  ...people.map(({ person, name }) => ({ value: person, label: name })),
                ]}
              />
              <div className="grid grid-cols-2 gap-3">
                <Field name="fromDay" type="date" label="First day" required />
                <Field name="toDay" type="date" label="Last day" hint="Empty for one day." />
                <Field name="from" label="From" hint="Empty for whole days." />
                <Field name="to" label="To" />
              </div>
              <div>
                <SubmitButton>Note this</SubmitButton>
              </div>
            </ActionForm>
          </Sheet>
        </div>
        <FigureForm
          title="Hours and lifts"
          sub="Where somebody has hours of their own, those hold."
          version={version}
          resting={restingOnStartingValues(shop.figures).includes('bench')}
        >
          <Field
            name="figures.bench.lifts"
            label="Lifts"
            inputMode="numeric"
            defaultValue={at('lifts')}
            required
          />
          <CheckGroup
            name="figures.bench.weekdays[]"
            label="Days of work"
            columns={2}
            choices={weekdayChoices}
            chosen={at('weekdays[]').split('\n')}
            required
          />
          <div className="grid grid-cols-2 gap-3">
            <Field name="figures.bench.from" label="Work begins" defaultValue={at('from')} required />
            <Field name="figures.bench.to" label="Work ends" defaultValue={at('to')} required />
          </div>
          <Field
            name="figures.bench.atTheBike"
            label="Part of that time spent at a bike"
            hint="Five and a half to six hours of eight are common: 70 to 75 per cent."
            unit="%"
            inputMode="decimal"
            defaultValue={at('atTheBike')}
            required
          />
          <Field
            name="figures.bench.orderDays"
            label="Days until parts come that are not ordered yet"
            unit="days"
            inputMode="decimal"
            defaultValue={at('orderDays')}
            required
          />
          <Field
            name="figures.bench.awayDays"
            label="Days that work given to others is away"
            hint="Where nobody has said a day."
            unit="days"
            inputMode="decimal"
            defaultValue={at('awayDays')}
            required
          />
        </FigureForm>
      </div>
    </main>
  )
}

function PersonEntry({ work }: { work: WorkShown }) {
  const { person, name, version, atBench, skills: own, pace, weekdays, fromMinute, toMinute, ownHours } = work
  return (
    <li className="border-b border-rule last:border-0">
      <Disclosure
        summary={
          <>
            <span className="font-semibold">{name}</span>{' '}
            <span className="text-soft">
              {atBench
                ? `${hoursTyped(work)}, ${own ? countOf(own.length, 'kind of work', 'kinds of work') : 'every kind of work'}${pace === 1 ? '' : `, ${pace} times as long`}`
                : 'not at the bench'}
            </span>
          </>
        }
      >
        <ActionForm
          action={setPersonWorkAction}
          label={`${name} at the bench`}
          done="Saved. The plan follows."
        >
          <HiddenField name="person" value={person} />
          <HiddenField name="version" value={version} />
          <CheckField name="atBench" label="Works at the bench" defaultChecked={atBench} />
          <CheckGroup
            name="skills[]"
            label="Kinds of work"
            hint="None ticked stands for every kind."
            choices={skillChoices}
            chosen={own ?? []}
          />
          <Field
            name="pace"
            label="Times as long as the hours say"
            hint="1 is as the hours say, 1.2 a fifth slower."
            inputMode="decimal"
            defaultValue={String(pace)}
          />
          <CheckGroup
            name="weekdays[]"
            label="Days of work"
            hint="None ticked stands for the shop’s days."
            columns={2}
            choices={weekdayChoices}
            chosen={ownHours ? weekdays.map(String) : []}
          />
          <div className="grid grid-cols-2 gap-3">
            <Field
              name="from"
              label="Begins"
              hint="Empty for the shop’s hours."
              defaultValue={ownHours ? typedMinute(fromMinute) : ''}
            />
            <Field name="to" label="Ends" defaultValue={ownHours ? typedMinute(toMinute) : ''} />
          </div>
          <div>
            <SubmitButton look="quiet">Save</SubmitButton>
          </div>
        </ActionForm>
      </Disclosure>
    </li>
  )
}
