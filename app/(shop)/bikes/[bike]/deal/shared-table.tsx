import Link from 'next/link'
import type { SavingShown } from '../../../../../lib/shop/savings-shown'
import { countOf, formatEstimate, formatHours } from '../../../../_ui/formats'
import { Sheet } from '../../../../_ui/sheet'

/** So many of each stand in the table: on a phone no more columns can be told apart. */
const most = { steps: 6, jobs: 6 }

/**
 * Which steps of labour are done once for which jobs: steps down, jobs across by number, named below. Those that save
 * most and the jobs that share most come first.
 */
export function SharedTable({
  savings,
  currency,
  viewingNo,
}: {
  savings: readonly SavingShown[]
  currency: string
  viewingNo: number
}) {
  const steps = savings.slice(0, most.steps)
  if (steps.length === 0) return null
  const all = jobsOf(steps)
  const jobs = all.slice(0, most.jobs)
  const perhaps = new Set(steps.flatMap((step) => step.perhaps))
  const moreJobs = all.length - jobs.length
  const moreSteps = savings.length - steps.length
  return (
    <Sheet title="Shared labour" sub="Steps that several jobs need are done once and counted once.">
      <table className="ledger">
        <caption className="sr-only">Steps of labour, the jobs that need each, and the hours saved</caption>
        <thead>
          <tr>
            <th scope="col">Step</th>
            {jobs.map((job, place) => (
              <th key={job} scope="col" className="w-7 px-0.5 text-center">
                {place + 1}
                <span className="sr-only">: {job}</span>
              </th>
            ))}
            <th scope="col" className="num">
              Saves
            </th>
          </tr>
        </thead>
        <tbody>
          {steps.map((step) => (
            <tr key={step.title}>
              <th scope="row">{step.title}</th>
              {jobs.map((job) => (
                <td key={job} className="px-0.5 text-center">
                  <Cell step={step} job={job} />
                </td>
              ))}
              <td className="num">
                {formatHours(step.hours)}
                <span className="block text-sm text-soft">{formatEstimate(step.costMinor, currency)}</span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <ol className="mt-3 list-decimal pl-6">
        {jobs.map((job) => (
          <li key={job}>
            {job}
            {perhaps.has(job) && <span className="text-soft"> (may be needed)</span>}
          </li>
        ))}
      </ol>
      {(moreJobs > 0 || moreSteps > 0) && (
        <p className="mt-2 text-soft">
          {[moreJobs > 0 && countOf(moreJobs, 'more job'), moreSteps > 0 && countOf(moreSteps, 'more step')]
            .filter(Boolean)
            .join(' and ')}{' '}
          on <Link href={`/bikes/${viewingNo}/work`}>the page of the work</Link>.
        </p>
      )}
    </Sheet>
  )
}

function Cell({ step, job }: { step: SavingShown; job: string }) {
  const sure = step.certain.includes(job)
  if (!sure && !step.perhaps.includes(job)) return <span className="sr-only">no</span>
  return (
    <>
      <svg aria-hidden="true" viewBox="0 0 16 16" width="16" height="16" className="mx-auto text-accent">
        <circle
          cx="8"
          cy="8"
          r="5.5"
          fill={sure ? 'currentColor' : 'none'}
          stroke="currentColor"
          strokeWidth="2"
        />
      </svg>
      <span className="sr-only">{sure ? 'needs it' : 'may need it'}</span>
    </>
  )
}

/** The jobs of these steps: certain ones first, then by how many of the steps they need. */
function jobsOf(steps: readonly SavingShown[]): string[] {
  const certain = new Set(steps.flatMap((step) => step.certain))
  const counts = new Map<string, number>()
  for (const job of steps.flatMap((step) => [...step.certain, ...step.perhaps]))
    counts.set(job, (counts.get(job) ?? 0) + 1)
  return [...counts.entries()]
    .sort(([a, nA], [b, nB]) => Number(certain.has(b)) - Number(certain.has(a)) || nB - nA)
    .map(([job]) => job)
}
