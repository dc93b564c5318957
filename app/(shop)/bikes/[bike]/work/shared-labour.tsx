import type { SavingShown } from '../../../../../lib/shop/savings-shown'
import { Disclosure } from '../../../../_ui/disclosure'
import { countOf, formatHours } from '../../../../_ui/formats'
import { estimateWords } from './work-words'

/** Steps that several jobs need and that are done once: "Tank off once, for 3 jobs: saves 1.2 h". */
export function SharedLabour({ savings, currency }: { savings: readonly SavingShown[]; currency: string }) {
  return (
    <>
      <Savings savings={savings.slice(0, shownAtFirst)} currency={currency} />
      {savings.length > shownAtFirst && (
        <Disclosure summary={countOf(savings.length - shownAtFirst, 'more step')}>
          <Savings savings={savings.slice(shownAtFirst)} currency={currency} />
        </Disclosure>
      )}
    </>
  )
}

/** Those that save most stand first. */
const shownAtFirst = 4

function Savings({ savings, currency }: { savings: readonly SavingShown[]; currency: string }) {
  return (
    <ul className="flex flex-col">
      {savings.map((saving) => (
        <li key={saving.title} className="border-b border-rule py-2 first:pt-0 last:border-0 last:pb-0">
          <p>
            <strong>
              {saving.title} once, for {jobsSaid(saving)}:
            </strong>{' '}
            saves {formatHours(saving.hours)}, {estimateWords(saving.costMinor, currency)}
          </p>
          <p className="text-soft">{namesSaid(saving)}</p>
        </li>
      ))}
    </ul>
  )
}

function jobsSaid({ certain, perhaps }: SavingShown): string {
  if (certain.length === 0) return `${countOf(perhaps.length, 'job')} that may be needed`
  const sure = countOf(certain.length, 'job')
  return perhaps.length === 0 ? sure : `${sure} and ${perhaps.length} that may be needed`
}

/** The jobs that are to be done; those that only may be are counted above and named among the jobs. */
function namesSaid({ certain, perhaps }: SavingShown): string {
  return (certain.length === 0 ? perhaps : certain).join('; ')
}
