import type { OptionalJob } from '../../../../../lib/core/board/scope-of-work'
import type { Desk } from '../../../../../lib/shop/read-deal'
import { ActionForm } from '../../../../_ui/action-form'
import { countOf, formatEstimate, formatMoney } from '../../../../_ui/formats'
import { HiddenField } from '../../../../_ui/hidden-field'
import { Sheet } from '../../../../_ui/sheet'
import { SubmitButton } from '../../../../_ui/submit-button'
import { Word } from '../../../../_ui/word'
import { followScopeAction } from './actions'

/** The optional jobs, with what each brings and costs given what is open anyway. */
export function ScopeList({
  scope,
  bike,
  currency,
  benchHourPriceMinor,
}: {
  scope: NonNullable<Desk['scope']>
  bike: string
  currency: string
  benchHourPriceMinor: number
}) {
  if (scope.jobs.length === 0) return null
  const toFollow = scope.jobs.filter(({ pays, decided }) => pays && decided === null)
  return (
    <Sheet
      title="Optional work"
      sub={
        <>
          Which of it pays, together with what is open anyway and with the{' '}
          <Word name="bench hour’s price">bench hour’s price</Word> of{' '}
          {formatMoney(benchHourPriceMinor, currency)}.
        </>
      }
    >
      <div className="overflow-x-auto">
        <table className="ledger">
          <thead>
            <tr>
              <th scope="col">Job</th>
              <th scope="col" className="num">
                Brings
              </th>
              <th scope="col" className="num">
                Costs
              </th>
              <th scope="col">Do it?</th>
            </tr>
          </thead>
          <tbody>
            {scope.jobs.map((job) => (
              <tr key={job.job}>
                <th scope="row">
                  {job.title}
                  <span className="block text-sm font-normal text-soft">{aboutJob(job)}</span>
                </th>
                <td className="num">{formatEstimate(job.uplift, currency)}</td>
                <td className="num">{formatEstimate(job.cost, currency)}</td>
                <td>{verdictOf(job, currency)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {toFollow.length > 0 && (
        <ActionForm action={followScopeAction} label="Take in what pays" className="no-print mt-4">
          <HiddenField name="bike" value={bike} />
          <div>
            <SubmitButton look="quiet">
              Take in {countOf(toFollow.length, 'job')} that pay{toFollow.length === 1 ? 's' : ''}
            </SubmitButton>
          </div>
        </ActionForm>
      )}
    </Sheet>
  )
}

function aboutJob({ cures, opens, daysSaved }: OptionalJob): string {
  const cure = `For: ${cures.join(', ')}.`
  const open = opens.length > 0 ? ` Opens: ${opens.join(', ')}.` : ' Opens nothing that is not open anyway.'
  const days = daysSaved > 0 ? ` Sells ${countOf(Math.round(daysSaved), 'day')} sooner.` : ''
  return cure + open + days
}

function verdictOf({ pays, shortBy, decided }: OptionalJob, currency: string): string {
  const says = pays
    ? 'Yes, it pays'
    : shortBy === null
      ? 'No'
      : `No, short by ${formatEstimate(shortBy, currency)}`
  if (decided === 'in') return pays ? 'Taken in' : `Taken in by a person. ${says}`
  if (decided === 'out') return pays ? `Left out by a person. ${says}` : 'Left out'
  return says
}
