import { uuidv7 } from 'uuidv7'
import type { JobToDo, WorkShown } from '../../../../../lib/shop/read-bench'
import { formatInstant } from '../../../../_ui/formats'
import { CallMark } from '../../../../_ui/marks'
import { Notice } from '../../../../_ui/notes'
import { expectedWords } from './bench-words'
import { StartForm } from './start-form'
import { Cautions, StepsAndParts } from './work-shown'

/** Jobs as a technician needs them: hours, steps, parts and cautions, and no prices. */
export function ToDo({
  jobs,
  above,
  bike,
  zone,
  mayStart,
}: {
  jobs: readonly JobToDo[]
  /** What stands before these on the page. */
  above: readonly WorkShown[]
  bike: string
  zone: string
  mayStart: boolean
}) {
  return (
    <ul className="flex flex-col">
      {jobs.map((job, no) => (
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
            <StepsAndParts work={job} />
            <Cautions work={job} above={[...above, ...jobs.slice(0, no)]} />
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
