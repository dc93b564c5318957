import type { Metadata } from 'next'
import Link from 'next/link'
import { readJobs } from '../../../../lib/shop/change-job'
import { openPage } from '../../../../lib/web/pages'
import { FindForm, FindWords } from '../../../_ui/find-form'
import { PageHead } from '../../../_ui/page-head'
import { Sheet } from '../../../_ui/sheet'
import { SubNav } from '../../../_ui/sub-nav'
import { Word } from '../../../_ui/word'
import { settingsEntries } from '../entries'
import { JobEntry } from './job-entry'

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
      <FindForm action="/settings/jobs" label="Find jobs" columns="sm:grid-cols-[1fr_auto]">
        <FindWords typed={search} example="Words of its title" />
      </FindForm>
      <Sheet
        title="Hours and prices"
        sub="Costs, not what a customer would be charged. What is not marked as set here is an invented starting value."
      >
        {found.length === 0 && <p role="status">No job has these words. Search for less.</p>}
        <ul className="flex flex-col">
          {found.map((job) => (
            <li
              key={job.key}
              className="grid gap-x-4 border-b border-rule last:border-0 sm:grid-cols-[1fr_auto]"
            >
              <JobEntry job={job} currency={currency} />
              <Link
                href={`/settings/catalogue/jobs/${job.key}`}
                aria-label={`All of it: ${job.title}`}
                className="tap self-start"
              >
                All of it
              </Link>
            </li>
          ))}
        </ul>
      </Sheet>
    </main>
  )
}
