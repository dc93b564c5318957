import { uuidv7 } from 'uuidv7'
import type { JobToDo } from '../../../../../lib/shop/read-bench'
import { formatInstant, formatNumber } from '../../../../_ui/formats'
import { CallMark } from '../../../../_ui/marks'
import { Caution, Notice } from '../../../../_ui/notes'
import { expectedWords } from './bench-words'
import { StartForm } from './start-form'

/** Jobs as a technician needs them: hours, steps, parts and cautions, and no prices. */
export function ToDo({
  jobs,
  bike,
  zone,
  mayStart,
}: {
  jobs: readonly JobToDo[]
  bike: string
  zone: string
  mayStart: boolean
}) {
  return (
    <ul className="flex flex-col">
      {jobs.map((job) => (
        <li
          key={job.key}
          id={`job-${job.key}`}
          className="border-b border-rule py-4 first:pt-0 last:border-0 last:pb-0"
        >
          <article className="flex flex-col gap-2">
            <div className="flex flex-wrap items-center justify-between gap-x-6 gap-y-1">
              <div className="flex min-w-0 flex-wrap items-center gap-x-3 gap-y-1">
                <CallMark call={job.call} />
                <h3>{job.title}</h3>
              </div>
              <p className="font-semibold">{expectedWords(job.hours)}</p>
            </div>
            {job.faults.length > 0 && <p className="text-soft">For: {job.faults.join(', ')}</p>}
            {job.stoppedAt && (
              <Notice>
                The manager stopped this on {formatInstant(job.stoppedAt, zone)}. Ask before it is begun
                again.
              </Notice>
            )}
            <Steps job={job} />
            {job.cautions.map(({ title, says }) => (
              <Caution key={title} title={title}>
                {says}
              </Caution>
            ))}
            {mayStart && (
              <div className="no-print">
                <StartForm
                  job={{ key: job.key, title: job.title, hours: job.hours, opens: job.opens }}
                  bike={bike}
                  nextId={uuidv7()}
                />
              </div>
            )}
          </article>
        </li>
      ))}
    </ul>
  )
}

function Steps({ job: { steps, parts } }: { job: JobToDo }) {
  return (
    <>
      {steps.length > 0 && (
        <p>
          <strong>Steps:</strong>{' '}
          {steps
            .map(({ title, sharedWith }) =>
              sharedWith.length > 0 ? `${title} (also for ${sharedWith.join(', ')})` : title,
            )
            .join('; ')}
          .
        </p>
      )}
      <p>
        <strong>Parts:</strong> {parts.length > 0 ? partsWords(parts) : 'none'}.
      </p>
    </>
  )
}

export function partsWords(parts: JobToDo['parts']): string {
  return parts.map(({ name, qty }) => (qty === 1 ? name : `${name} × ${formatNumber(qty)}`)).join(', ')
}
