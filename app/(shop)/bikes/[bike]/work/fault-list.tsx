import type { FaultShown, UnseenFault } from '../../../../../lib/shop/read-work'
import { Disclosure } from '../../../../_ui/disclosure'
import { countOf, formatShare } from '../../../../_ui/formats'
import { CallMark } from '../../../../_ui/marks'
import type { Deciding } from './decide-form'
import { DecisionNotes } from './decision-notes'
import { FaultForms } from './fault-forms'
import { Why } from './why'
import { estimateWords, shutIsNotPrinted } from './work-words'

type Around = { deciding: Deciding; viewingNo: number; zone: string }

/** Faults that are there, each opening to what says so. */
export function FaultList({ faults, ...around }: { faults: readonly FaultShown[] } & Around) {
  if (faults.length === 0) return null
  return (
    <ul className="flex flex-col">
      {faults.map((fault) => (
        <li key={fault.key} className="border-b border-rule py-4 first:pt-0 last:border-0 last:pb-0">
          <FaultEntry fault={fault} {...around} />
        </li>
      ))}
    </ul>
  )
}

function FaultEntry({ fault, deciding, viewingNo, zone }: { fault: FaultShown } & Around) {
  const { key, title, means, call, own, why, decisions, alternatives, oneOf, rechecks } = fault
  return (
    <article id={`fault-${key}`}>
      <div className="flex flex-wrap items-center gap-x-3 gap-y-1">
        <CallMark call={call} />
        <h3>{title}</h3>
      </div>
      {!own && <p className="mt-1 max-w-prose">{means}</p>}
      <DecisionNotes decisions={decisions} zone={zone} />
      <div className={shutIsNotPrinted}>
        <Disclosure summary={<span className="font-semibold">Why</span>}>
          <Why why={why} viewingNo={viewingNo} zone={zone} />
          {rechecks.length > 0 && (
            <p className="mt-3">
              <strong>Proved cured by:</strong> {rechecks.join('; ')}.
            </p>
          )}
          <FaultForms fault={{ key, title, call, own, alternatives, oneOf }} deciding={deciding} />
        </Disclosure>
      </div>
    </article>
  )
}

/** Faults that no check has settled yet: what each is expected to cost is in the estimate already. */
export function UnseenFaults({ unseen, currency }: { unseen: readonly UnseenFault[]; currency: string }) {
  const total = unseen.reduce((sum, { expectedMinor }) => sum + expectedMinor, 0)
  return (
    <Disclosure
      summary={
        <>
          <span className="font-semibold">{countOf(unseen.length, 'fault')} nobody has ruled out</span>
          <span className="block text-soft">
            {estimateWords(total, currency)} expected in all, already counted
          </span>
        </>
      }
    >
      <table className="ledger">
        <caption>
          The chance that each is there, and what that adds on average. Checking settles it either way.
        </caption>
        <thead>
          <tr>
            <th scope="col">Fault</th>
            <th scope="col" className="num">
              Chance
            </th>
            <th scope="col" className="num">
              Expected
            </th>
          </tr>
        </thead>
        <tbody>
          {unseen.map(({ key, title, chance, chanceSays, expectedMinor }) => (
            <tr key={key}>
              <th scope="row">
                {title}
                <span className="block font-normal text-soft first-letter:uppercase">{chanceSays}</span>
              </th>
              <td className="num">{formatShare(chance)}</td>
              <td className="num">{estimateWords(expectedMinor, currency)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Disclosure>
  )
}
