import type { Metadata } from 'next'
import Link from 'next/link'
import type { ReactNode } from 'react'
import { uuidv7 } from 'uuidv7'
import type { MarginSteps } from '../../../../../lib/core/deal/steps'
import { type DealShown, readDeal } from '../../../../../lib/shop/read-deal'
import { mayDo } from '../../../../../lib/shop/who-may'
import { found, openPage } from '../../../../../lib/web/pages'
import { bikeName, numbersOf, priceWords } from '../../../../_ui/bike-name'
import { countOf, formatEstimate, formatMoney } from '../../../../_ui/formats'
import { StageMark } from '../../../../_ui/marks'
import { type MoneyStep, MoneySteps } from '../../../../_ui/money-steps'
import { EmptyState, Notice } from '../../../../_ui/notes'
import { PageHead } from '../../../../_ui/page-head'
import { Sheet } from '../../../../_ui/sheet'
import { SpreadStrip } from '../../../../_ui/spread-strip'
import { Word } from '../../../../_ui/word'
import { BikeNav } from '../../_ui/bike-nav'
import { OfferForm } from '../stage-forms'
import { CareSheet } from './care-bars'
import { NextChecks } from './next-checks'
import { PriceLeaves } from './price-leaves'
import { ScopeList } from './scope-list'
import { SharedTable } from './shared-table'
import { Swings } from './swings'
import { ThreePricesShown } from './three-prices'
import { WaysOutSheet } from './ways-out'
import { WhatIfDesk } from './what-if'

export const metadata: Metadata = { title: 'Deal' }

const beforeBuying: readonly string[] = ['viewing', 'offered']

export default async function DealPage({ params }: { params: Promise<{ bike: string }> }) {
  const context = await openPage('/bikes/[bike]/deal')
  const { bike: viewingNo } = await params
  const bike = await found(readDeal(context, viewingNo))
  const { deal } = bike
  const at = `/bikes/${bike.viewingNo}`
  return (
    <main id="main" className="page">
      <PageHead
        title={bikeName(bike)}
        sub={numbersOf(bike)}
        figure={deal ? mainFigure(bike, deal) : undefined}
        next={nextStep(bike, at)}
      >
        <StageMark stage={bike.stage} />
      </PageHead>
      <BikeNav viewingNo={bike.viewingNo} current="deal" who={context.who} />
      {deal ? (
        <Reckoned bike={bike} deal={deal} mayChangeFigures={mayDo(context.who.roles, 'figures:change')} />
      ) : (
        <EmptyState
          title="What should it sell for?"
          action={
            <div className="flex flex-wrap gap-4">
              <Link href={`${at}/prices#note`} className="btn">
                Note prices of similar bikes
              </Link>
              <Link href={`${at}/edit#sale`} className="btn-quiet">
                Say what it should sell for
              </Link>
            </div>
          }
        >
          With prices noted of similar bikes, or with a low, a likely and a high sale price typed for this one
          with everything right, the most that may be paid for it stands here.
        </EmptyState>
      )}
    </main>
  )
}

type Deal = NonNullable<DealShown['deal']>

/** Before it is bought the main figure stands among its three, below. */
function mainFigure({ currency, stage, desk }: DealShown, deal: Deal) {
  if (deal.atPrice?.basis === 'paid') {
    return {
      label: <Word name="margin">Expected margin</Word>,
      value: formatEstimate(deal.atPrice.marginMean, currency),
      note: `having paid ${formatMoney(deal.atPrice.priceMinor, currency)}`,
    }
  }
  const label = <Word name="walk-away price">Walk away above</Word>
  if (deal.walkAway === null) {
    return { label, value: 'no price', note: 'none keeps the rule as things stand' }
  }
  if (beforeBuying.includes(stage) && desk?.prices) return undefined
  return { label, value: formatMoney(deal.walkAway, currency) }
}

function nextStep({ deal, stage }: DealShown, at: string): { href: string; label: string } | undefined {
  if (!deal) return undefined
  if (!beforeBuying.includes(stage)) return { href: `${at}/work`, label: 'Look at the work' }
  if (!deal.atPrice) return { href: `${at}/edit#seller`, label: 'Note the asking price' }
  return { href: '#offer', label: 'Make an offer' }
}

function Reckoned({
  bike,
  deal,
  mayChangeFigures,
}: {
  bike: DealShown
  deal: Deal
  mayChangeFigures: boolean
}) {
  const { currency, desk, viewingNo } = bike
  const viewed = beforeBuying.includes(bike.stage)
  const waysOut = desk?.waysOut && (
    <WaysOutSheet waysOut={desk.waysOut} otherWays={desk.otherWays} bike={bike.id} currency={currency} />
  )
  const care = desk && <CareSheet care={desk.care} />
  return (
    <>
      {desk?.prices && viewed && (
        <ThreePricesShown
          prices={desk.prices}
          currency={currency}
          shares={{ open: desk.openShare, aim: desk.aimShare }}
          note={
            deal.atPrice &&
            `${priceWords[deal.atPrice.basis].toLowerCase()} ${formatMoney(deal.atPrice.priceMinor, currency)}`
          }
        />
      )}
      <div className="flex max-w-prose flex-col gap-1">
        <p className="text-lg">{deal.holdUp}</p>
        <SaleBasis bike={bike} />
      </div>
      {/* What is paid for asks only what it can still become; what is viewed asks for its price first. */}
      {!viewed && waysOut}
      {viewed && <Reasons bike={bike} deal={deal} />}
      <AtPrice bike={bike} deal={deal} under={viewed ? care : <Cost bike={bike} deal={deal} />} />
      {viewed && desk && <NextChecks desk={desk} viewingNo={viewingNo} currency={currency} />}
      {desk?.scope && (
        <ScopeList
          scope={desk.scope}
          bike={bike.id}
          currency={currency}
          benchHourPriceMinor={desk.benchHourPriceMinor}
        />
      )}
      <div className="grid items-start gap-6 empty:hidden lg:grid-cols-2 lg:[&>:only-child]:col-span-2">
        {!viewed && care}
        {desk && <SharedTable savings={desk.savings} currency={currency} viewingNo={viewingNo} />}
      </div>
      {!viewed && desk && <NextChecks desk={desk} viewingNo={viewingNo} currency={currency} />}
      {viewed && waysOut}
      {desk && (
        <div className="no-print">
          <Sheet title="What if" sub="Tried out here; nothing is stored unless you keep one by name.">
            <WhatIfDesk
              input={desk.dealInput}
              addable={desk.addable}
              jobTitles={desk.jobTitles}
              currency={currency}
              benchHourPriceMinor={desk.benchHourPriceMinor}
              kept={desk.kept}
              bike={bike.id}
              zone={bike.zone}
              freshIds={[uuidv7(), uuidv7()]}
            />
          </Sheet>
        </div>
      )}
      {viewed && (
        <div className="no-print">
          <Sheet
            title="Offer"
            id="offer"
            sub="Written down with all it rests on, so that it can be worked out again."
          >
            <OfferForm bike={bike} currency={currency} today={bike.today} />
          </Sheet>
        </div>
      )}
      {bike.resting.length > 0 && (
        <Notice title="Rests on starting values">
          {countOf(bike.resting.length, 'figure')} behind this page {bike.resting.length === 1 ? 'is' : 'are'}{' '}
          still the invented ones the program began with, as are hours and prices of jobs nobody here has set.{' '}
          {mayChangeFigures ? <Link href="/settings">Set your own</Link> : 'A manager can set them.'}
        </Notice>
      )}
    </>
  )
}

/** Why the walk-away price is what it is: what moves it most, and what the work may cost. */
function Reasons({ bike, deal }: { bike: DealShown; deal: Deal }) {
  return (
    <div className="grid items-start gap-6 lg:grid-cols-2">
      <Sheet
        title="What moves the walk-away price"
        sub="One input at a time at its bad and at its good end, each reached one time in ten; the rest as it is."
      >
        <Swings swings={deal.swings.slice(0, 3)} currency={bike.currency} />
      </Sheet>
      <Cost bike={bike} deal={deal} />
    </div>
  )
}

function Cost({ bike: { desk, currency, viewingNo }, deal }: { bike: DealShown; deal: Deal }) {
  if (!desk) return null
  return (
    <Sheet
      title="What putting it right costs"
      sub="Parts, labour and outside work, what is not checked among it."
    >
      <SpreadStrip spread={desk.cost} title="Cost" format={(minor) => formatEstimate(minor, currency)} />
      {deal.checksOpen > 0 && (
        <p className="mt-4">
          {countOf(deal.checksOpen, 'check')} without a verdict: what may hide there is expected to cost{' '}
          {formatEstimate(deal.unseenCostMean, currency)}, and it is in these figures.{' '}
          <Link href={`/bikes/${viewingNo}/checks`}>Go on checking</Link>
        </p>
      )}
    </Sheet>
  )
}

/** What the price asked, offered or paid leaves. */
function AtPrice({
  bike: { currency },
  deal,
  under,
}: {
  bike: DealShown
  deal: Deal
  /** What stands beside the steps as well, below the spread. */
  under: ReactNode
}) {
  const { atPrice, steps } = deal
  if (!atPrice || !steps)
    return (
      <>
        <Notice title="No price yet">
          Without a price asked or offered only the walk-away price can be told, not what the bike leaves.
        </Notice>
        {under}
      </>
    )
  return (
    <div className="grid items-start gap-6 lg:grid-cols-2">
      <div className="flex flex-col gap-6">
        <PriceLeaves deal={deal} at={atPrice} currency={currency} />
        {under}
      </div>
      <Sheet title="From sale price to margin" sub="On average, step by step.">
        <MoneySteps
          steps={stepsShown(steps, atPrice.basis)}
          currency={currency}
          caption="From sale price to margin"
        />
      </Sheet>
    </div>
  )
}

/** What the sale price rests on, and the way to the prices noted. */
function SaleBasis({ bike: { viewingNo, sale, currency } }: { bike: DealShown }) {
  if (!sale.points) return null
  const at = `/bikes/${viewingNo}/prices`
  return (
    <p>
      Likely sale price{' '}
      <strong>
        {sale.basis === 'typed'
          ? formatMoney(sale.points.likely, currency)
          : formatEstimate(sale.points.likely, currency)}
      </strong>
      , {sale.basis === 'typed' ? 'as typed.' : `by ${countOf(sale.noted, 'noted price')}.`}{' '}
      <Link href={at}>
        {sale.basis === 'typed' && sale.noted === 0
          ? 'Note prices of similar bikes'
          : `See ${countOf(sale.noted, 'noted price')}`}
      </Link>
    </p>
  )
}

function stepsShown(steps: MarginSteps, basis: keyof typeof priceWords): MoneyStep[] {
  const less = (label: string, minor: number): MoneyStep =>
    minor < 0 ? { label, minor: -minor, part: 'more' } : { label, minor, part: 'less' }
  const between = [
    less('Faults left as they are', steps.leftFaults),
    { ...less(`Price ${priceWords[basis].toLowerCase()}`, steps.price), exact: true },
    less('Work done so far', steps.spent),
    less(steps.spent > 0 ? 'Parts and labour to come' : 'Parts and labour', steps.work),
    less('Costs of every bike', steps.standing),
    less('Kept for after the sale', steps.reserve),
    less('Days until sold', steps.days),
    less(steps.tax < 0 ? 'Tax paid back' : 'Tax', steps.tax),
  ]
  return [
    { label: 'Sale price', minor: steps.sale, part: 'start' },
    // Less than half of what is rounded to is written as nothing, so it is not written.
    ...between.filter(({ minor }) => Math.abs(minor) >= 500),
    { label: 'Margin', minor: steps.margin, part: 'result' },
  ]
}
