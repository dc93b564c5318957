import type { ThreePrices } from '../../../../../lib/core/deal/three-prices'
import { formatMoney, formatShare } from '../../../../_ui/formats'
import { Word } from '../../../../_ui/word'

/** The three figures of a talk about a price, large: they are read at arm's length with the seller beside one. */
export function ThreePricesShown({
  prices,
  currency,
  shares,
}: {
  prices: ThreePrices
  currency: string
  shares: { open: number; aim: number }
}) {
  return (
    <section aria-label="Three prices" className="border-y border-rule py-4">
      <dl className="grid grid-cols-3 gap-4">
        <Price label="Open at" minor={prices.open} currency={currency} />
        <Price label="Aim for" minor={prices.aim} currency={currency} />
        <div>
          <dt>
            <Word name="walk-away price">Walk away above</Word>
          </dt>
          <dd className="text-2xl font-semibold sm:text-4xl">{formatMoney(prices.walkAway, currency)}</dd>
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
      <dt>{label}</dt>
      <dd className="text-2xl font-semibold sm:text-4xl">{formatMoney(minor, currency)}</dd>
    </div>
  )
}
