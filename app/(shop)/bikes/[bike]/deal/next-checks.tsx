import Link from 'next/link'
import type { Desk } from '../../../../../lib/shop/read-deal'
import { Fact } from '../../../../_ui/fact'
import { countOf, formatEstimate, formatMoney, formatShare } from '../../../../_ui/formats'
import { Sheet } from '../../../../_ui/sheet'
import { roundWords } from '../checks/round-words'

/** Which check next: safety for the round that is about to be entered, then what an answer is worth a minute. */
export function NextChecks({
  desk: { nextChecks, firstNeeds },
  viewingNo,
  currency,
  addressOf,
}: {
  desk: Pick<Desk, 'nextChecks' | 'firstNeeds'>
  viewingNo: number
  currency: string
  /** Away from the shop: where on the same page a check is. */
  addressOf?: (check: string) => string
}) {
  if (nextChecks === null || (nextChecks.length === 0 && !firstNeeds)) return null
  const checks = `/bikes/${viewingNo}/checks`
  return (
    <Sheet
      title="Which check next"
      sub="What an answer is worth to the decision and in the talk about the price, a minute."
    >
      {firstNeeds && (
        <p className="mb-4 max-w-prose">
          <strong>First, for safety:</strong> the{' '}
          {roundWords[firstNeeds.round as keyof typeof roundWords].name.toLowerCase()} round stays shut until{' '}
          {countOf(firstNeeds.titles.length, 'check is', 'checks are')} done and good, from “
          {firstNeeds.titles[0]}” on.{' '}
          {!addressOf && <Link href={`${checks}?round=${firstNeeds.round}`}>Do them</Link>}
        </p>
      )}
      <ol className="flex flex-col">
        {nextChecks.map((one) => (
          <li key={one.check} className="border-b border-rule py-4 first:pt-0 last:border-0 last:pb-0">
            <h3>
              {addressOf ? (
                <a href={addressOf(one.check)}>{one.title}</a>
              ) : (
                <Link href={`${checks}?round=${one.round}&check=${one.check}`}>{one.title}</Link>
              )}
            </h3>
            <p className="max-w-prose">
              {one.cause === null
                ? `It looks for “${one.looksFor}”, there ${formatShare(one.chance)} of the time, and takes `
                : `It tells whether “${one.cause}” is what cures “${one.looksFor}”, as it does ${formatShare(one.chance)} of the time, and takes `}
              {minutesWords(one.minutes)}. Worth {formatEstimate(one.valueMinor, currency)}.
            </p>
            <dl className="mt-2 grid grid-cols-2 gap-4 sm:grid-cols-4">
              <Fact label="Walk away, if clean" value={priceOr(one.ifClean, currency)} strong />
              <Fact label="Walk away, if found" value={priceOr(one.ifFound, currency)} strong />
            </dl>
          </li>
        ))}
      </ol>
    </Sheet>
  )
}

function priceOr(minor: number | null, currency: string): string {
  return minor === null ? 'no price' : formatMoney(minor, currency)
}

function minutesWords(minutes: number): string {
  return minutes < 1 ? 'less than a minute' : countOf(Math.round(minutes), 'minute')
}
