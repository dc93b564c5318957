'use client'

import Link from 'next/link'
import type { BoardLine } from '../../../lib/shop/read-board'
import { bikeName, numbersOf, priceWords } from '../../_ui/bike-name'
import { Fact } from '../../_ui/fact'
import { formatEstimate, formatMoney, formatShare } from '../../_ui/formats'
import { CallMark, StageMark } from '../../_ui/marks'
import { SpreadLine } from '../../_ui/spread-strip'
import { RowStateMark } from '../row-state-mark'

type Props = {
  lines: readonly BoardLine[]
  currency: string
  domain: readonly [number, number]
  by: string
}

/**
 * The ranked bikes. A client component fed with plain rows: as server components each row would be sent twice.
 * On a desk the figures stand in columns; on a phone each bike is a card that keeps its place number.
 */
export function BoardList({ lines, currency, domain, by }: Props) {
  return (
    <ol
      className="flex flex-col border-t-2 border-ink"
      aria-label={`Bikes, ordered by ${by.replaceAll('-', ' ')}`}
    >
      {lines.map((line) => (
        <li key={line.id} className="border-b border-rule py-4">
          <BoardEntry line={line} currency={currency} domain={domain} by={by} />
        </li>
      ))}
    </ol>
  )
}

function BoardEntry({ line, currency, domain, by }: Omit<Props, 'lines'> & { line: BoardLine }) {
  const { place, viewingNo, stockNo, stage } = line
  return (
    <article className="grid gap-x-6 gap-y-3 md:grid-cols-[2.5rem_minmax(0,1.1fr)_minmax(0,1.4fr)]">
      <span className="font-serif text-2xl font-semibold leading-8 max-md:hidden" aria-hidden="true">
        {place}
      </span>
      <div className="flex min-w-0 flex-col items-start gap-1">
        <h2 className="text-lg">
          <span className="md:sr-only">{place}. </span>
          <Link href={`/bikes/${viewingNo}`} className="tap">
            {bikeName(line)}
          </Link>
        </h2>
        <p className="text-soft">{numbersOf({ viewingNo, stockNo, registration: line.registration })}</p>
        <StageMark stage={stage} />
        <p className="mt-1 flex flex-wrap gap-2">
          {line.stops > 0 && <CallMark call="stop" count={line.stops} />}
          {line.musts > 0 && <CallMark call="must" count={line.musts} />}
        </p>
      </div>
      <div className="flex min-w-0 flex-col gap-2">
        <RowStateMark state={line.state} />
        {line.state !== 'first' && <Figures line={line} currency={currency} domain={domain} by={by} />}
      </div>
    </article>
  )
}

function Figures({ line, currency, domain, by }: Omit<Props, 'lines'> & { line: BoardLine }) {
  const money = (minor: number) => formatEstimate(minor, currency)
  const { daysToReady, daysToSold } = line
  return (
    <>
      <MarginSpread line={line} currency={currency} domain={domain} />
      <dl className="grid grid-cols-2 gap-x-4 gap-y-1 sm:grid-cols-3">
        <Fact label="Margin" value={orDash(line.marginMean, money)} strong={by === 'margin'} />
        <Fact
          label="Gain from going on"
          value={orDash(line.gainFromGoingOn, money)}
          strong={by === 'gain-from-going-on'}
        />
        <Fact
          label="Left after its keep"
          value={orDash(line.leftAfterKeep, money)}
          strong={by === 'left-after-its-keep'}
        />
        <Fact
          label="Chance of loss"
          value={orDash(line.chanceOfLoss, formatShare)}
          strong={by === 'chance-of-loss'}
        />
        <Fact
          label="Days to sold"
          value={
            <>
              {orDash(daysToSold, wholeDays)}
              {daysToReady !== null && (
                <span className="text-base font-normal text-soft"> (ready in {wholeDays(daysToReady)})</span>
              )}
            </>
          }
          strong={by === 'days-to-sold'}
        />
        {by === 'gain-per-bench-hour' ? (
          <Fact label="Gain per bench hour" value={orDash(line.gainPerBenchHour, money)} strong />
        ) : line.stockNo === null && by !== 'margin-per-bench-hour' ? (
          <Fact
            label="Walk away above"
            value={orDash(line.walkAway, (minor) => formatMoney(minor, currency))}
          />
        ) : (
          <Fact
            label="Per bench hour"
            value={orDash(line.marginPerBenchHour, money)}
            strong={by === 'margin-per-bench-hour'}
          />
        )}
      </dl>
      <p>
        {line.price && (
          <span className="text-soft">
            {priceWords[line.price.basis]} {formatMoney(line.price.amountMinor, currency)}.{' '}
          </span>
        )}
        {line.holdUp}
      </p>
    </>
  )
}

function wholeDays(days: number): string {
  return String(Math.round(days))
}

function MarginSpread({
  line,
  currency,
  domain,
}: {
  line: BoardLine
  currency: string
  domain: readonly [number, number]
}) {
  const { marginLow, marginMean, marginHigh } = line
  if (marginLow === null || marginMean === null || marginHigh === null) {
    return (
      <p className="text-soft">No margin yet: it needs a sale price and a price asked, offered or paid.</p>
    )
  }
  return (
    <SpreadLine
      spread={{ low: marginLow, middle: marginMean, high: marginHigh }}
      title="Margin"
      zero
      domain={domain}
      format={(minor) => formatEstimate(minor, currency)}
    />
  )
}

function orDash(value: number | null, format: (value: number) => string): string {
  return value === null ? '\u2013' : format(value)
}
