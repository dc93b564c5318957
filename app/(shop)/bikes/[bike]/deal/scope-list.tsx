import type { OptionalJob } from '../../../../../lib/core/board/scope-of-work'
import type { Desk } from '../../../../../lib/shop/read-deal'
import { ActionForm } from '../../../../_ui/action-form'
import { Fact } from '../../../../_ui/fact'
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
      <ul className="flex flex-col">
        {scope.jobs.map((job) => (
          <li
            key={job.job}
            className="grid gap-x-8 gap-y-2 border-b border-rule py-3 first:pt-0 last:border-0 md:grid-cols-2 print:grid-cols-2"
          >
            <div>
              <h3>{job.title}</h3>
              <p className="text-sm text-soft">{aboutJob(job)}</p>
            </div>
            <dl className="grid grid-cols-[auto_auto_1fr] gap-x-6">
              <Fact label="Brings" value={formatEstimate(job.uplift, currency)} />
              <Fact label="Costs" value={formatEstimate(job.cost, currency)} />
              <Fact label="Do it?" value={verdictOf(job, currency)} strong />
            </dl>
          </li>
        ))}
      </ul>
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
      : // Less than half of what is rounded to would be written as nothing.
        shortBy < 500
        ? 'No, but hardly short'
        : `No, short by ${formatEstimate(shortBy, currency)}`
  if (decided === 'in') return pays ? 'Taken in' : `Taken in by a person. ${says}`
  if (decided === 'out') return pays ? `Left out by a person. ${says}` : 'Left out'
  return says
}
