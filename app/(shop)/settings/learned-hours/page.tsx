import type { Metadata } from 'next'
import { type HoursShown, type LearnedHoursPage, readLearnedHours } from '../../../../lib/shop/learned-hours'
import { openPage } from '../../../../lib/web/pages'
import { ActionForm } from '../../../_ui/action-form'
import { countOf, formatDay, formatHours, formatNumber, formatShare } from '../../../_ui/formats'
import { HiddenField, VersionField } from '../../../_ui/hidden-field'
import { PageHead } from '../../../_ui/page-head'
import { Sheet } from '../../../_ui/sheet'
import { SubNav } from '../../../_ui/sub-nav'
import { SubmitButton } from '../../../_ui/submit-button'
import { TableHeads } from '../../../_ui/table-heads'
import { settingsEntries } from '../entries'
import { acceptHoursAction, revertHoursAction } from './actions'
import { InsideBars } from './inside-bars'

export const metadata: Metadata = { title: 'Learned hours' }

/** What jobs done here took beside what was expected: offered here, and never taken by itself. */
export default async function LearnedHours() {
  const context = await openPage('/settings/learned-hours')
  const page = await readLearnedHours(context)
  const { version, priorJobs, leastJobs, offered, accepted, tooFew } = page
  return (
    <main id="main" className="page">
      <PageHead
        title="Learned hours"
        sub={
          'The clocks of the bench say how long jobs take here. Hours change only when you accept them, under a ' +
          'new number of the figures.'
        }
        figure={{ label: 'jobs to look at', value: offered.length }}
      />
      <SubNav label="Settings" entries={settingsEntries} current="/settings/learned-hours" />
      <HowGood page={page} />
      <Sheet
        title="Took other than expected"
        sub={`Offered from ${countOf(leastJobs, 'time')} done on; the hours of the catalogue weigh as much as ${countOf(priorJobs, 'job')}. A step that several jobs of a bike share is counted at the first of them.`}
      >
        {offered.length === 0 ? (
          <p>
            Nothing new to accept.
            {tooFew > 0 &&
              ` ${countOf(tooFew, 'job was', 'jobs were')} done fewer than ${leastJobs} times so far.`}
          </p>
        ) : (
          <ul className="flex flex-col">
            {offered.map((one) => (
              <Row key={one.job} one={one}>
                <ActionForm action={acceptHoursAction} label={`Accept the hours of ${one.title}`}>
                  <VersionField version={version} />
                  <HiddenField name="job" value={one.job} />
                  <HiddenField name="seen" value={one.times} />
                  <SubmitButton look="quiet">
                    Accept {factorWords(one.learned)}
                    <span className="sr-only"> for {one.title.toLowerCase()}</span>
                  </SubmitButton>
                </ActionForm>
              </Row>
            ))}
          </ul>
        )}
      </Sheet>
      {accepted.length > 0 && (
        <Sheet title="In force" sub="The jobs’ own hours of the catalogue are multiplied by these.">
          <ul className="flex flex-col">
            {accepted.map((one) => (
              <Row key={one.job} one={one} until={one.until}>
                <ActionForm action={revertHoursAction} label={`Hours of the catalogue for ${one.title}`}>
                  <VersionField version={version} />
                  <HiddenField name="job" value={one.job} />
                  <SubmitButton look="quiet">
                    Back to the catalogue<span className="sr-only"> for {one.title.toLowerCase()}</span>
                  </SubmitButton>
                </ActionForm>
              </Row>
            ))}
          </ul>
        </Sheet>
      )}
    </main>
  )
}

function HowGood({ page: { jobs, inside, months } }: { page: LearnedHoursPage }) {
  if (jobs === 0)
    return (
      <Sheet title="How good the ranges were">
        <p>No job with a clock was finished yet. Start and finish jobs on the bench page of a bike.</p>
      </Sheet>
    )
  return (
    <Sheet
      title="How good the ranges were"
      sub="Each job has a range that eight of ten are expected to fall into. Fewer say that the ranges are too narrow, more that they are too wide."
    >
      <InsideBars jobs={jobs} inside={inside} />
      <table className="mt-4 w-full text-left">
        <caption className="sr-only">By month</caption>
        <TableHeads heads={['Month', 'Jobs', 'In their range', 'Off by (score, h)']} />
        <tbody>
          {months.map(({ month, jobs, inside, crps }) => (
            <tr key={month} className="border-b border-rule">
              <th scope="row" className="py-1 pr-3 font-normal">
                {monthWords(month)}
              </th>
              <td className="py-1 pr-3">{jobs}</td>
              <td className="py-1 pr-3">
                {inside}, {formatShare(inside / jobs)}
              </td>
              <td className="py-1">{formatNumber(crps, 2)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="mt-2 text-soft">
        The score weighs the whole spread against what came (continuous ranked probability score); smaller is
        better.
      </p>
    </Sheet>
  )
}

function Row({
  one: { title, times, expected, took, inForce },
  until,
  children,
}: {
  one: HoursShown
  until?: string
  children: React.ReactNode
}) {
  return (
    <li className="flex flex-wrap items-center justify-between gap-3 border-b border-rule py-3 last:border-0">
      <p className="min-w-0">
        <span className="font-semibold">{title}</span>
        <span className="block">
          done {countOf(times, 'time')}: expected {formatHours(expected)}, took {formatHours(took)}
          {inForce !== 1 && `, in force ${factorWords(inForce)}`}
          {until && ` since ${formatDay(until)}`}
        </span>
      </p>
      {children}
    </li>
  )
}

function factorWords(factor: number): string {
  return `${formatNumber(factor, 2)} times`
}

function monthWords(month: string): string {
  return new Intl.DateTimeFormat('en-GB', { month: 'long', year: 'numeric', timeZone: 'UTC' }).format(
    new Date(`${month}-01T00:00:00Z`),
  )
}
