import type { ThreePrices } from '../../../../../lib/core/deal/three-prices'
import { formatMoney, formatShare } from '../../../../_ui/formats'
import { Word } from '../../../../_ui/word'

/** The three figures of a talk about a price, large: they are read at arm's length with the seller beside one. */
export function ThreePricesShown({
  prices,
  currency,
  shares,
  note,
}: {
  prices: ThreePrices
  currency: string
  /** What the walk-away price is held against: what is asked, or offered. */
  note: string | null
  shares: { open: number; aim: number }
}) {
  return (
    <section aria-label="Three prices" className="border-y border-rule py-4">
      <dl className="grid grid-cols-[1fr_1fr_auto] items-start gap-x-4 sm:grid-cols-3">
        <Price label="Open at" minor={prices.open} currency={currency} />
        <Price label="Aim for" minor={prices.aim} currency={currency} />
        <div>
          <dt className="text-soft max-sm:text-sm">
            <Word name="walk-away price">Walk away above</Word>
          </dt>
          <dd>
            <span className="total inline-block text-3xl leading-tight font-semibold sm:text-5xl">
              {formatMoney(prices.walkAway, currency)}
            </span>
            {note && <span className="mt-1 block text-soft">{note}</span>}
          </dd>
        </div>
      </dl>
      <p className="mt-2 text-sm text-soft">
        Open and aim are {formatShare(shares.open)} and {formatShare(shares.aim)} of the walk-away price, in
        whole tens, and never above what is asked: the shop’s own setting.
      </p>
    </section>
  )
}

function Price({ label, minor, currency }: { label: string; minor: number; currency: string }) {
  return (
    <div>
      <dt className="text-soft max-sm:text-sm">{label}</dt>
      <dd className="text-3xl leading-tight font-semibold sm:text-5xl">{formatMoney(minor, currency)}</dd>
    </div>
  )
}
