import type { Metadata } from 'next'
import Link from 'next/link'
import { uuidv7 } from 'uuidv7'
import { type PricesNoted, readPrices } from '../../../../../lib/shop/read-comparables'
import { found, openPage } from '../../../../../lib/web/pages'
import { ActionForm } from '../../../../_ui/action-form'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { Disclosure } from '../../../../_ui/disclosure'
import { Fact } from '../../../../_ui/fact'
import { countOf, formatDay, formatEstimate, formatMoney, formatNumber } from '../../../../_ui/formats'
import { HiddenField, VersionField } from '../../../../_ui/hidden-field'
import { EmptyState, Notice } from '../../../../_ui/notes'
import { PageHead } from '../../../../_ui/page-head'
import { Sheet } from '../../../../_ui/sheet'
import { SubmitButton } from '../../../../_ui/submit-button'
import { Word } from '../../../../_ui/word'
import { BikeNav } from '../../_ui/bike-nav'
import { noteComparableAction, reckonWithNotedAction } from './actions'
import { PriceFields } from './price-form'
import { PriceList } from './price-list'
import { PricePicture } from './price-picture'
import { PriceTable } from './price-table'

export const metadata: Metadata = { title: 'Prices noted' }

export default async function PricesPage({ params }: { params: Promise<{ bike: string }> }) {
  const context = await openPage('/bikes/[bike]/prices')
  const { bike: viewingNo } = await params
  const prices = await found(readPrices(context, viewingNo))
  const { reckoned, notes, currency } = prices
  const model = `${prices.make} ${prices.model}`
  return (
    <main id="main" className="page">
      <PageHead
        title={bikeName(prices)}
        sub={numbersOf(prices)}
        figure={mainFigure(prices)}
        next={nextStep(prices)}
      />
      <BikeNav viewingNo={prices.viewingNo} current="prices" who={context.who} />
      {prices.typedSale && <TypedCounts prices={prices} />}
      {reckoned ? (
        <Sheet
          title="What the noted prices come to"
          sub="The price of this bike with everything right, by what others of its kind are sold for."
        >
          <div className="flex flex-col gap-4">
            <PricePicture reckoned={reckoned} notes={notes} currency={currency} />
            {reckoned.says.map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
            <HeldAs prices={prices} />
          </div>
        </Sheet>
      ) : (
        <EmptyState
          title={notes.length > 0 ? 'None of the noted prices counts' : 'No price is noted yet'}
          action={
            <a href="#note" className="btn-quiet">
              Note a price
            </a>
          }
        >
          {notes.length > 0
            ? 'The shop’s settings give their markets no weight.'
            : `What a ${model} is offered for or went for, at a dealer’s, privately or at an auction: three or four are enough to begin with.`}
        </EmptyState>
      )}
      {notes.length > 0 && (
        <Sheet title={<Word name="comparable">Prices noted</Word>} sub="Those that count most stand first.">
          <PriceList prices={prices} />
        </Sheet>
      )}
      <div className="no-print flex flex-col gap-6">
        <Sheet id="note" title="Note a price" sub={`Of another ${model}, or of a bike much like this one.`}>
          <ActionForm
            action={noteComparableAction}
            label="Note a price"
            done="Written down. It counts from now on."
          >
            <HiddenField name="id" value={uuidv7()} />
            <HiddenField name="bike" value={prices.id} />
            <PriceFields typed={atFirst(prices)} currency={currency} />
            <div>
              <SubmitButton>Note this price</SubmitButton>
            </div>
          </ActionForm>
        </Sheet>
        <Sheet title="As a table" sub="For a program for tables: prices out, and many in at once.">
          <p>
            <a className="tap" href={`/api/v1/prices?bike=${prices.viewingNo}`} download>
              Give the noted prices away as a table (CSV)
            </a>
          </p>
          <Disclosure summary="Take prices in from a table">
            <PriceTable bike={prices.id} />
          </Disclosure>
        </Sheet>
      </div>
      {prices.restsOnStartingValues && notes.length > 0 && (
        <Notice title="Rests on starting values">
          How much is paid of what is asked, what markets and seasons do, and how fast a note grows old are
          still the invented figures the program began with. A manager can set them.
        </Notice>
      )}
    </main>
  )
}

function mainFigure({ sale: { points, basis, noted }, currency }: PricesNoted) {
  const label = 'Likely sale price'
  if (!points) return { label, value: 'not known', note: 'it needs noted prices, or one typed' }
  const write = basis === 'typed' ? formatMoney : formatEstimate
  const from = basis === 'typed' ? 'as typed' : `by ${countOf(noted, 'noted price')}`
  return {
    label,
    value: write(points.likely, currency),
    note: `${write(points.low, currency)} to ${write(points.high, currency)}, ${from}`,
  }
}

const beforeBuying: readonly string[] = ['viewing', 'offered']

/** Another price while few are noted; then what it is all for. */
function nextStep({ viewingNo, stage, reckoned, notes }: PricesNoted) {
  if (!reckoned || reckoned.widenedBy > 0) {
    return { href: '#note', label: notes.length > 0 ? 'Note another price' : 'Note a price' }
  }
  const deal = `/bikes/${viewingNo}/deal`
  return beforeBuying.includes(stage)
    ? { href: `${deal}#offer`, label: 'Make an offer' }
    : { href: deal, label: 'See the deal' }
}

/** Which of the two counts while both are there, and the way from one to the other. */
function TypedCounts({ prices }: { prices: PricesNoted }) {
  const { id, viewingNo, version, currency, typedSale, reckoned, notes } = prices
  if (!typedSale) return null
  const words = (points: { low: number; likely: number; high: number }, write: typeof formatMoney) =>
    `${write(points.likely, currency)} (${write(points.low, currency)} to ${write(points.high, currency)})`
  return (
    <Sheet title="The typed price counts" sub="What a person typed on the bike stands before what was noted.">
      <div className="flex flex-col gap-4">
        <dl className="grid gap-4 sm:grid-cols-2">
          <Fact label="Typed on the bike: counts" value={words(typedSale, formatMoney)} strong />
          <Fact
            label="By the noted prices: does not count now"
            value={reckoned ? words(reckoned.sale, formatEstimate) : 'nothing noted yet'}
          />
        </dl>
        <div className="no-print flex flex-wrap items-center gap-4">
          {notes.length > 0 && (
            <ActionForm action={reckonWithNotedAction} label="Reckon with the noted prices">
              <HiddenField name="bike" value={id} />
              <VersionField version={version} />
              <SubmitButton look="quiet">Reckon with the noted prices</SubmitButton>
            </ActionForm>
          )}
          <Link className="tap" href={`/bikes/${viewingNo}/edit#sale`}>
            Change the typed price
          </Link>
        </div>
      </div>
    </Sheet>
  )
}

function HeldAs({ prices }: { prices: PricesNoted }) {
  const { reckoned, conditionWhenSold, readyOn, sale, viewingNo } = prices
  if (!reckoned) return null
  const { factor } = reckoned.season
  const season =
    factor === 1
      ? 'a month that leaves prices as they are'
      : `a month that brings ${formatNumber(factor)} of the usual`
  return (
    <p className="text-soft">
      The notes are held against this bike as {conditionWhenSold}, ready about {formatDay(readyOn)}, {season}.
      {reckoned.widenedBy === 0 && ` They count like ${formatNumber(reckoned.counted, 1)} equal ones.`}
      {sale.basis === 'noted' && (
        <>
          {' '}
          <Link href={`/bikes/${viewingNo}/edit#sale`}>Type a sale price instead</Link>
        </>
      )}
    </p>
  )
}

/** A new note begins as an advert of today, in the unit of the bike's clock. */
function atFirst({ today, distanceUnit, year }: PricesNoted): Record<string, string> {
  return {
    asked: 'asked',
    market: '',
    lastSeenOn: today,
    distanceUnit,
    condition: 'not known',
    year: year?.toString() ?? '',
  }
}
