import type { Metadata } from 'next'
import type { ThreePoint } from '../../../../lib/core/quantity/three-point'
import { typedMoney } from '../../../../lib/core/quantity/typed-money'
import { type JobShown, readJobs } from '../../../../lib/shop/change-job'
import { openPage } from '../../../../lib/web/pages'
import { ActionForm } from '../../../_ui/action-form'
import { Disclosure } from '../../../_ui/disclosure'
import { Field } from '../../../_ui/field'
import { countOf, formatHours, formatMoney } from '../../../_ui/formats'
import { HiddenField, VersionField } from '../../../_ui/hidden-field'
import { PageHead } from '../../../_ui/page-head'
import { Sheet } from '../../../_ui/sheet'
import { SubNav } from '../../../_ui/sub-nav'
import { SubmitButton } from '../../../_ui/submit-button'
import { Word } from '../../../_ui/word'
import { settingsEntries } from '../entries'
import { changeJobAction } from './actions'

export const metadata: Metadata = { title: 'Jobs' }

/** Hours and prices of every job, for all bikes. */
export default async function Jobs() {
  const { store } = await openPage('/settings/jobs')
  const { currency, jobs } = await readJobs(store)
  const resting = jobs.filter((job) => job.source.kind === 'starting value').length
  return (
    <main id="main" className="page">
      <PageHead
        title="Jobs"
        sub={
          <>
            What each <Word name="job" /> takes, for every bike. Labour that jobs share (tank off, wheel out)
            is counted once on a bike and is not in these hours.
          </>
        }
        figure={{ label: 'Still on starting values', value: `${resting} of ${jobs.length}` }}
      />
      <SubNav label="Settings" entries={settingsEntries} current="/settings/jobs" />
      <Sheet
        title="Hours and prices"
        sub="Costs, not what a customer would be charged. What is not marked as set here is an invented starting value."
      >
        <ul className="flex flex-col">
          {jobs.map((job) => (
            <li key={job.key} className="border-b border-rule last:border-0">
              <JobEntry job={job} currency={currency} />
            </li>
          ))}
        </ul>
      </Sheet>
    </main>
  )
}

function JobEntry({ job, currency }: { job: JobShown; currency: string }) {
  const { key, title, hours, parts, outsideWork, operations, source, version } = job
  const lines = [...parts, { name: '', qty: 1, unitCost: 0 }]
  return (
    <Disclosure
      summary={
        <>
          <span className="font-semibold">{title}</span>{' '}
          <span className="text-soft">
            {threeOf(hours, formatHours)} · {countOf(parts.length, 'part')}
            {mostOf(outsideWork) > 0 &&
              ` · outside ${threeOf(outsideWork, (minor) => formatMoney(minor, currency))}`}
            {source.kind === 'shop' && ' · set here'}
          </span>
        </>
      }
    >
      <ActionForm action={changeJobAction} label={title} done="Saved. It holds for every bike from now on.">
        <HiddenField name="key" value={key} />
        <VersionField version={version} />
        {operations.length > 0 && (
          <p className="text-soft">Also needs, counted apart: {operations.join(', ').toLowerCase()}.</p>
        )}
        <ThreeFields name="hours" legend="Hours of its own" value={hours} write={String} unit="h" />
        {lines.map((part, index) => (
          <fieldset key={part.name} className="flex flex-col gap-3 border-l-4 border-rule pl-3">
            <legend className="font-semibold">{part.name || 'One more part'}</legend>
            <div className="grid gap-3 sm:grid-cols-[1fr_6rem]">
              <Field
                name={`parts.${index}.name`}
                label="Part"
                hint={part.name ? 'Empty takes it away.' : undefined}
                defaultValue={part.name}
                maxLength={200}
              />
              <Field
                name={`parts.${index}.qty`}
                label="How many"
                required
                inputMode="decimal"
                defaultValue={String(part.qty)}
              />
            </div>
            <ThreeFields
              name={`parts.${index}.unitCost`}
              legend="Price of one"
              value={part.unitCost}
              write={typedMoney}
              unit={currency}
            />
          </fieldset>
        ))}
        <ThreeFields
          name="outsideWork"
          legend="Paid to somebody else"
          value={outsideWork}
          write={typedMoney}
          unit={currency}
        />
        <div className="pb-4">
          <SubmitButton>Save {title.toLowerCase()}</SubmitButton>
        </div>
      </ActionForm>
    </Disclosure>
  )
}

function ThreeFields({
  name,
  legend,
  value,
  write,
  unit,
}: {
  name: string
  legend: string
  value: ThreePoint | number
  write: (value: number) => string
  unit: string
}) {
  const three = typeof value === 'number' ? { low: value, likely: value, high: value } : value
  return (
    <fieldset className="flex flex-col gap-1">
      <legend className="mb-1 font-semibold">{legend}</legend>
      <div className="grid gap-3 sm:grid-cols-3">
        {(['low', 'likely', 'high'] as const).map((point) => (
          <Field
            key={point}
            name={`${name}.${point}`}
            label={point}
            required
            inputMode="decimal"
            defaultValue={write(three[point])}
            unit={unit}
          />
        ))}
      </div>
    </fieldset>
  )
}

function threeOf(value: ThreePoint | number, write: (value: number) => string): string {
  return typeof value === 'number' ? write(value) : `${write(value.low)} to ${write(value.high)}`
}

function mostOf(value: ThreePoint | number): number {
  return typeof value === 'number' ? value : value.high
}
