import type { ReactNode } from 'react'
import type { WorkJob } from '../../../../../lib/shop/read-work'
import { Disclosure } from '../../../../_ui/disclosure'
import { Fact } from '../../../../_ui/fact'
import { formatDayOf, formatHours, formatMoney, formatNumber, formatShare } from '../../../../_ui/formats'
import { CallMark } from '../../../../_ui/marks'
import { Caution } from '../../../../_ui/notes'
import type { Deciding } from './decide-form'
import { DecisionNotes } from './decision-notes'
import { JobForms } from './job-forms'
import { estimateWords, rangeOf, shutIsNotPrinted } from './work-words'

type Around = { deciding: Deciding; zone: string }

export function JobList({ jobs, ...around }: { jobs: readonly WorkJob[] } & Around) {
  return (
    <ul className="flex flex-col">
      {jobs.map((job) => (
        <li key={job.key} className="border-b border-rule py-4 first:pt-0 last:border-0 last:pb-0">
          <JobEntry job={job} {...around} />
        </li>
      ))}
    </ul>
  )
}

function JobEntry({ job, deciding, zone }: { job: WorkJob } & Around) {
  const { key, title, call, chance, certain, faults, adds, added, changed, own, decisions } = job
  const { currency } = deciding
  return (
    <article id={`job-${key}`}>
      <div className="flex flex-wrap items-start justify-between gap-x-6 gap-y-2">
        <div className="min-w-0">
          <div className="flex flex-wrap items-center gap-x-3 gap-y-1">
            <CallMark call={call} />
            <h3>{title}</h3>
            {own ? <Tag>own</Tag> : added && <Tag>added</Tag>}
            {changed && <Tag>changed here</Tag>}
            {!certain && <Tag>{formatShare(chance)} likely</Tag>}
          </div>
          {faults.length > 0 && <p className="mt-1 text-soft">For: {faultsOf(job)}</p>}
        </div>
        {adds && (
          <dl className="sm:text-right">
            <Fact
              label="Adds on average"
              value={`${formatHours(adds.hoursMean)}, ${estimateWords(adds.costMean, currency)}`}
              strong
            />
          </dl>
        )}
      </div>
      <DecisionNotes decisions={decisions} zone={zone} />
      <div className={shutIsNotPrinted}>
        <Disclosure summary={<span className="font-semibold">Hours and parts</span>}>
          <WhatItTakes job={job} currency={currency} zone={zone} />
          <JobForms
            job={{
              key,
              title,
              hours: job.hours,
              parts: job.parts,
              outsideWork: job.outsideWork,
              own,
              usual: job.usual,
            }}
            deciding={deciding}
          />
        </Disclosure>
      </div>
    </article>
  )
}

function faultsOf({ faults, certain }: WorkJob): string {
  return faults
    .map(({ title, chance, does, share }) => {
      const likely = chance * (share ?? 1)
      const about = does === 'finds-cause' ? `finds the cause of: ${title}` : title
      return certain || likely === 1 ? about : `${about} (${formatShare(likely)})`
    })
    .join(', ')
}

function WhatItTakes({ job, currency, zone }: { job: WorkJob; currency: string; zone: string }) {
  const { hours, parts, outsideWork, operations, cautions, asked } = job
  const money = (minor: number) => formatMoney(minor, currency)
  const outside = rangeOf(outsideWork, money)
  return (
    <div className="flex flex-col gap-3">
      <p>
        <strong>Hours of its own:</strong> {rangeOf(hours, formatHours)}.
        {operations.length > 0 && (
          <>
            {' '}
            <strong>Shared steps:</strong> {operations.join(', ')}.
          </>
        )}
      </p>
      {parts.length > 0 ? (
        <table className="ledger">
          <caption>Parts, at what they cost the shop</caption>
          <thead>
            <tr>
              <th scope="col">Part</th>
              <th scope="col" className="num">
                Each
              </th>
            </tr>
          </thead>
          <tbody>
            {parts.map(({ name, qty, unitCost }) => (
              <tr key={name}>
                <th scope="row">
                  {name}
                  {qty !== 1 && ` × ${formatNumber(qty)}`}
                </th>
                <td className="num">{rangeOf(unitCost, money)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ) : (
        <p>No parts.</p>
      )}
      {asked.length > 0 && <Asked asked={asked} currency={currency} zone={zone} />}
      {outside !== money(0) && (
        <p>
          <strong>Paid to somebody else:</strong> {outside}.
        </p>
      )}
      {cautions.map(({ title, says }) => (
        <Caution key={title} title={title}>
          {says}
        </Caution>
      ))}
    </div>
  )
}

/** Prices that somebody gave, with who and when: they stand in the estimate in place of those above. */
function Asked({ asked, currency, zone }: { asked: WorkJob['asked']; currency: string; zone: string }) {
  return (
    <div>
      <p>
        <strong>Asked outside,</strong> and in the estimate in place of the figures here:
      </p>
      <ul>
        {asked.map(({ what, qty, minor, of, isSpent, at }) => (
          <li key={`${what} ${at}`}>
            {what}
            {qty !== 1 && ` × ${formatNumber(qty)}`}
            {minor === null ? ', off the shelf' : ` at ${formatMoney(minor, currency)}`}
            {of && `, ${of}`}, {formatDayOf(at, zone)}
            {isSpent && '; it is spent by now, or was the shop’s own'}.
          </li>
        ))}
      </ul>
    </div>
  )
}

function Tag({ children }: { children: ReactNode }) {
  return <span className="rounded-sheet border border-edge px-2 text-sm font-semibold">{children}</span>
}
