import type { LeftShown } from '../../../../../lib/shop/read-work'
import { Fact } from '../../../../_ui/fact'
import { formatHours } from '../../../../_ui/formats'
import { CallMark } from '../../../../_ui/marks'
import type { Deciding } from './decide-form'
import { DoItForm } from './do-it-form'
import { estimateWords, gainWords } from './work-words'

/** Faults that no job in the estimate cures: what each takes off, and what putting it right would change. */
export function LeftList({ left, deciding }: { left: readonly LeftShown[]; deciding: Deciding }) {
  const { currency } = deciding
  return (
    <ul className="flex flex-col">
      {left.map(({ key, title, call, saleOffMinor, doing }) => (
        <li key={key} className="border-b border-rule py-4 first:pt-0 last:border-0 last:pb-0">
          <div className="flex flex-wrap items-center gap-x-3 gap-y-1">
            <CallMark call={call} />
            <h3>{title}</h3>
          </div>
          <dl className="mt-2 grid grid-cols-2 gap-x-6 gap-y-2 sm:grid-cols-4">
            <Fact label="Takes off the sale price" value={estimateWords(saleOffMinor, currency)} />
            {doing && (
              <>
                <Fact label="Doing it costs" value={estimateWords(doing.costMeanMinor, currency)} />
                <Fact label="Bench hours" value={formatHours(doing.hoursMean)} />
                <Fact
                  label="Gain from doing it"
                  value={
                    doing.gainMinor === null
                      ? 'not known without a sale price'
                      : gainWords(doing.gainMinor, currency)
                  }
                  strong
                />
              </>
            )}
          </dl>
          {doing && <DoItForm job={doing.job} title={doing.title} deciding={deciding} />}
        </li>
      ))}
    </ul>
  )
}
