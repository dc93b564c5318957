import type { Bench } from '../../../../../lib/shop/read-bench'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { formatDay, formatHours } from '../../../../_ui/formats'
import { expectedWords, minutesWords, stopRule } from './bench-words'
import { stepsAndPartsWords } from './work-shown'

/** The job card for paper: what to do, when to stop and ask, and boxes for a pencil. No prices. */
export function JobCard({ bench }: { bench: Bench }) {
  const { openStates, underWay, toDo, questions } = bench
  const all = [...(bench.law ? [bench.law] : []), ...[...underWay, ...toDo].flatMap((job) => job.cautions)]
  const cautions = new Map(all.map((caution) => [caution.title, caution]))
  const waiting = questions.find(({ answered }) => answered === null)
  return (
    <div className="hidden flex-col gap-4 print:flex">
      <header>
        <p className="text-2xl font-semibold">Job card: {bikeName(bench)}</p>
        <p>
          {numbersOf(bench)}. As of {formatDay(bench.today)}.
        </p>
      </header>
      {waiting && (
        <p className="border-2 border-ink p-2 font-semibold">Waits for a decision: {waiting.asks}</p>
      )}
      {openStates.map(({ id, tag, putBack, job }) => (
        <p key={id} className="border-4 border-ink p-2">
          <strong>{tag}</strong> {job && `For ${job}. `}Put back: {putBack} ☐
        </p>
      ))}
      {underWay.length > 0 && (
        <table className="ledger">
          <caption>
            <strong>Under way</strong>
          </caption>
          <tbody>
            {underWay.map((run) => (
              <tr key={run.id}>
                <th scope="row">{run.title}</th>
                <td>{stepsAndPartsWords(run)}</td>
                <td>{minutesWords(run.minutes)} so far</td>
                <td>{stopRule(run) ?? 'No budget on the card.'}</td>
                <td className="num">done ☐</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <table className="ledger">
        <caption>
          <strong>To do</strong>
        </caption>
        <thead>
          <tr>
            <th scope="col">Job</th>
            <th scope="col">Steps and parts</th>
            <th scope="col">Hours</th>
            <th scope="col">Stop and ask</th>
            <th scope="col">Minutes</th>
            <th scope="col">Done</th>
          </tr>
        </thead>
        <tbody>
          {toDo.map((job) => (
            <tr key={job.key}>
              <th scope="row">
                {job.title}
                {job.faults.length > 0 && <span className="block text-sm">For: {job.faults.join(', ')}</span>}
              </th>
              <td>{stepsAndPartsWords(job)}</td>
              <td className="whitespace-nowrap">{expectedWords(job.hours)}</td>
              <td>
                above {formatHours(job.hours.high)}, or on finding
                <br />
                ………………
              </td>
              <td className="num">……</td>
              <td className="num">☐</td>
            </tr>
          ))}
        </tbody>
      </table>
      {[...cautions.values()].map(({ title, says }) => (
        <p key={title}>
          <strong>Caution, {title}:</strong> {says}
        </p>
      ))}
    </div>
  )
}
