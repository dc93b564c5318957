import type { Metadata } from 'next'
import Link from 'next/link'
import type { ThreePoint } from '../../../../lib/core/quantity/three-point'
import { typedMoney } from '../../../../lib/core/quantity/typed-money'
import { type JobShown, readJobs } from '../../../../lib/shop/change-job'
import { openPage } from '../../../../lib/web/pages'
import { ActionForm } from '../../../_ui/action-form'
import { Disclosure } from '../../../_ui/disclosure'
import { PartFields, ThreeFields } from '../../../_ui/figure-fields'
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
export default async function Jobs({
  searchParams,
}: {
  searchParams: Promise<Record<string, string | string[] | undefined>>
}) {
  const { store } = await openPage('/settings/jobs')
  const { currency, jobs } = await readJobs(store)
  const asked = (await searchParams).search
  const search = (typeof asked === 'string' ? asked : '').trim().slice(0, 80)
  const found = jobs.filter(({ title }) => title.toLowerCase().includes(search.toLowerCase()))
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
        next={{ href: '/settings/catalogue/jobs/new', label: 'Add a job' }}
      >
        <Link href="/settings/catalogue/jobs/table" className="tap">
          Jobs as a table
        </Link>
      </PageHead>
      <SubNav label="Settings" entries={settingsEntries} current="/settings/jobs" />
      <FindJobs search={search} />
      <Sheet
        title="Hours and prices"
        sub="Costs, not what a customer would be charged. What is not marked as set here is an invented starting value."
      >
        {found.length === 0 && <p role="status">No job has these words. Search for less.</p>}
        <ul className="flex flex-col">
          {found.map((job) => (
            <li key={job.key} className="border-b border-rule last:border-0">
              <JobEntry job={job} currency={currency} />
            </li>
          ))}
        </ul>
      </Sheet>
    </main>
  )
}

/** A plain form that changes the address, so that it works before and without scripts. */
function FindJobs({ search }: { search: string }) {
  return (
    <search>
      <form
        action="/settings/jobs"
        aria-label="Find jobs"
        className="no-print grid items-end gap-3 sm:grid-cols-[1fr_auto]"
      >
        <label className="flex flex-col gap-1 font-semibold">
          Find
          <input
            type="search"
            name="search"
            defaultValue={search}
            maxLength={80}
            placeholder="Words of its title"
            className="field-box font-normal"
          />
        </label>
        <button type="submit" className="btn-quiet">
          Show
        </button>
      </form>
    </search>
  )
}

function JobEntry({ job, currency }: { job: JobShown; currency: string }) {
  const { key, title, hours, parts, outsideWork, operations, source, version } = job
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
        <PartFields name="parts" parts={parts} currency={currency} />
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
      <Link href={`/settings/catalogue/jobs/${key}`} className="tap">
        All of this job, and what was changed
      </Link>
    </Disclosure>
  )
}

function threeOf(value: ThreePoint | number, write: (value: number) => string): string {
  return typeof value === 'number' ? write(value) : `${write(value.low)} to ${write(value.high)}`
}

function mostOf(value: ThreePoint | number): number {
  return typeof value === 'number' ? value : value.high
}
