import type { DealShown } from '../../../../../lib/shop/read-deal'
import { priceWords } from '../../../../_ui/bike-name'
import { Fact } from '../../../../_ui/fact'
import { formatEstimate, formatMoney, formatShare } from '../../../../_ui/formats'
import { Sheet } from '../../../../_ui/sheet'
import { SpreadStrip } from '../../../../_ui/spread-strip'

type Deal = NonNullable<DealShown['deal']>

/** What the price asked, offered or paid leaves: the margin with its spread, and the chances. */
export function PriceLeaves({
  deal,
  at,
  currency,
}: {
  deal: Deal
  at: NonNullable<Deal['atPrice']>
  currency: string
}) {
  return (
    <Sheet
      title={`${priceWords[at.basis]} ${formatMoney(at.priceMinor, currency)}`}
      sub="What that price leaves, once the bike is put right and sold."
    >
      <SpreadStrip
        spread={{ low: at.marginLow, middle: at.marginMean, high: at.marginHigh, shape: deal.marginShape }}
        title="Margin"
        zero
        format={(minor) => formatEstimate(minor, currency)}
      />
      <dl className="mt-4 grid grid-cols-2 gap-4 sm:grid-cols-3">
        <Fact label="Expected margin" value={formatEstimate(at.marginMean, currency)} strong />
        <Fact
          label={`Chance of a loss, at most ${formatShare(deal.maxChanceOfLoss)} wanted`}
          value={formatShare(at.chanceOfLoss)}
          strong
        />
        <Fact
          label={`Chance of ${formatMoney(deal.targetMinor, currency)} or more`}
          value={formatShare(at.chanceOfTarget)}
          strong
        />
      </dl>
    </Sheet>
  )
}
