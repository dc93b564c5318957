import type { Metadata } from 'next'
import Link from 'next/link'
import type { MoneyLack } from '../../../../lib/core/checks/money-gate'
import { readDistanceTold } from '../../../../lib/shop/distances'
import type { DistanceTold } from '../../../../lib/shop/distances-of'
import { moneyLacksOf } from '../../../../lib/shop/identity'
import {
  type BikeForBench,
  type BikeForMoney,
  readBikeForBench,
  readBikeForMoney,
} from '../../../../lib/shop/read-bike'
import { type OnRecord, readOnRecord } from '../../../../lib/shop/read-identity'
import { type OpenQuestion, readOpenQuestions } from '../../../../lib/shop/read-questions'
import { type ReadyShown, readReady } from '../../../../lib/shop/ready'
import { mayDo } from '../../../../lib/shop/who-may'
import { found, openPage, type SignedContext } from '../../../../lib/web/pages'
import { bikeName, numbersOf } from '../../../_ui/bike-name'
import { distanceWords } from '../../../_ui/distance-words'
import { Fact } from '../../../_ui/fact'
import type { FigureProps } from '../../../_ui/figure'
import { countOf, formatDay, formatEstimate, formatMoney } from '../../../_ui/formats'
import { CallMark, StageMark } from '../../../_ui/marks'
import { PageHead } from '../../../_ui/page-head'
import { Sheet } from '../../../_ui/sheet'
import { Word } from '../../../_ui/word'
import { kindWords } from '../_ui/bike-form'
import { BikeNav } from '../_ui/bike-nav'
import { AnswerQuestion } from './bench/answer-question'
import { Padlock } from './checks/round-steps'
import { roundWords } from './checks/round-words'
import { FrameNumber } from './frame-number'
import { Photos } from './photos'
import { ReadyPanel } from './ready-panel'
import { StageForms } from './stage-forms'

export const metadata: Metadata = { title: 'Bike' }

export default async function BikePage({ params }: { params: Promise<{ bike: string }> }) {
  const context = await openPage('/bikes/[bike]')
  const { bike: number } = await params
  if (!mayDo(context.who.roles, 'money:see')) {
    const bike = await found(readBikeForBench(context, number))
    const [ready, known] = await Promise.all([readReady(context, bike.id), readKnown(context, bike.id)])
    return <ForBench bike={bike} ready={ready} known={known} context={context} />
  }
  const bike = await found(readBikeForMoney(context, number))
  const { db } = context.store
  const [ready, questions, known, lacks] = await Promise.all([
    readReady(context, bike.id),
    readOpenQuestions(db, { bikeId: bike.id }),
    readKnown(context, bike.id),
    moneyLacksOf(db, { bikeId: bike.id, now: context.now }),
  ])
  const read = { bike, ready, questions, known, lacks, context }
  return <ForMoney {...read} />
}

function ForBench({
  bike,
  ready,
  known,
  context,
}: {
  bike: BikeForBench
  ready: ReadyShown | null
  known: Known
  context: SignedContext
}) {
  const { progress } = bike
  return (
    <main id="main" className="page bench">
      <Head
        bike={bike}
        figure={{
          label: 'Checks done',
          value: `${progress.done} of ${progress.applicable}`,
          note: progress.skipped > 0 ? `${progress.skipped} not checked, with a reason` : undefined,
        }}
        next={
          nextAtViewing(bike) ??
          nextAtBench(bike) ??
          nextCheck(bike) ?? { href: `/bikes/${bike.viewingNo}/checks`, label: 'Look at the checks' }
        }
      />
      <BikeNav viewingNo={bike.viewingNo} current="bike" who={context.who} />
      <Faults bike={bike} />
      <Rounds bike={bike} />
      {ready && <ReadyPanel ready={ready} roles={context.who.roles} />}
      <PhotoSheet bike={bike} person={context.who.personId} />
      <Facts bike={bike} known={known} />
    </main>
  )
}

function ForMoney({
  bike,
  ready,
  questions,
  known,
  lacks,
  context,
}: {
  bike: BikeForMoney
  ready: ReadyShown | null
  questions: readonly OpenQuestion[]
  known: Known
  lacks: readonly MoneyLack[]
  context: SignedContext
}) {
  const { currency } = bike
  // Beside a bike just taken in the camera is wanted next.
  const photosFirst = bike.stage === 'viewing' && isUntouched(bike)
  return (
    <main id="main" className="page">
      {beforeBuying.includes(bike.stage) && lacks.some(({ never }) => never) ? (
        <Head
          bike={bike}
          figure={{ label: 'Before money is paid', value: 'May never be bought' }}
          next={{ href: `/bikes/${bike.viewingNo}/identity`, label: 'See why' }}
        />
      ) : (
        <Head bike={bike} figure={moneyFigure(bike)} next={nextOfDealer(bike)} />
      )}
      <BikeNav viewingNo={bike.viewingNo} current="bike" who={context.who} />
      {bike.stage !== 'passed up' && <p className="max-w-prose text-lg">{bike.row.holdUp}</p>}
      {photosFirst && <PhotoSheet bike={bike} person={context.who.personId} />}
      <StageForms bike={bike} lacks={lacks} roles={context.who.roles} />
      {questions.map((question) => (
        <Sheet key={question.id} id="question" title="Waits for your decision">
          <AnswerQuestion
            question={question}
            currency={currency}
            zone={bike.zone}
            mayAnswer={mayDo(context.who.roles, 'question:answer')}
          />
        </Sheet>
      ))}
      <div className="grid items-start gap-6 lg:grid-cols-2">
        <Faults bike={bike} />
        <Rounds bike={bike} />
      </div>
      {ready && <ReadyPanel ready={ready} roles={context.who.roles} />}
      {!photosFirst && <PhotoSheet bike={bike} person={context.who.personId} />}
      <Sheet
        title="Money and seller"
        aside={
          <Link href={`/bikes/${bike.viewingNo}/edit`} className="tap no-print">
            Correct this
          </Link>
        }
      >
        <dl className="grid grid-cols-2 gap-4 sm:grid-cols-4">
          <Fact
            label="Asked"
            value={bike.askingMinor === null ? 'not noted' : formatMoney(bike.askingMinor, currency)}
          />
          <Fact
            label="Should sell for"
            value={
              bike.sale
                ? `${formatMoney(bike.sale.likely, currency)} (${formatMoney(bike.sale.low, currency)} to ${formatMoney(bike.sale.high, currency)})`
                : 'not noted'
            }
          />
          <Fact label="Seller" value={bike.sellerName ?? 'not noted'} />
          <Fact label="Reached" value={bike.sellerContact ?? 'not noted'} />
          {bike.purchase && (
            <Fact
              label={`Paid on ${formatDay(bike.purchase.day)}`}
              value={formatMoney(bike.purchase.priceMinor, currency)}
            />
          )}
          {bike.purchase && (
            <Fact
              label="Spent so far on parts and outside work"
              value={formatMoney(bike.spent.sumMinor, currency)}
            />
          )}
          {bike.offers.map((offer) => (
            <Fact
              key={offer.id}
              label={`Offered, valid until ${formatDay(offer.validUntil)}`}
              value={formatMoney(offer.priceMinor, currency)}
            />
          ))}
        </dl>
        {bike.notes && <p className="mt-4 max-w-prose whitespace-pre-line">{bike.notes}</p>}
      </Sheet>
      <Facts bike={bike} known={known} />
    </main>
  )
}

function Head({
  bike,
  figure,
  next,
}: {
  bike: BikeForBench
  figure: Omit<FigureProps, 'size'>
  next: { href: string; label: string }
}) {
  return (
    <PageHead title={bikeName(bike)} sub={numbersOf(bike)} figure={figure} next={next}>
      <StageMark stage={bike.stage} />
    </PageHead>
  )
}

const beforeBuying: readonly string[] = ['viewing', 'offered']

/** While it is not ours the price that may be paid, after that what it leaves. */
function moneyFigure({ row, sale, stage, currency }: BikeForMoney): Omit<FigureProps, 'size'> {
  if (beforeBuying.includes(stage) || stage === 'passed up') {
    const label = <Word name="walk-away price">Walk away above</Word>
    if (sale === null) return { label, value: 'not known', note: 'it needs a sale price' }
    if (row.walkAway !== null) return { label, value: formatMoney(row.walkAway, currency) }
    return { label, value: 'no price', note: 'none keeps the rule as things stand' }
  }
  const label = <Word name="margin">Expected margin</Word>
  return {
    label,
    value: row.marginMean === null ? 'not known' : formatEstimate(row.marginMean, currency),
  }
}

function nextCheck({ viewingNo, rounds }: BikeForBench): { href: string; label: string } | null {
  const next = rounds.find(({ open, progress }) => open && progress.open > 0)
  if (!next) return null
  const { round, progress } = next
  const started = progress.open < progress.applicable
  return {
    href: `/bikes/${viewingNo}/checks?round=${round}`,
    label: `${started ? 'Go on with' : 'Start'} the ${roundWords[round].name.toLowerCase()} round`,
  }
}

/** At a viewing there is little time: what says most in the least of it comes first. */
function nextAtViewing(bike: BikeForBench): { href: string; label: string } | null {
  return bike.stage === 'viewing' && isUntouched(bike) ? shortRoundOf(bike) : null
}

/** Once it is on the bench, work leads. */
function nextAtBench({ stage, viewingNo }: BikeForBench): { href: string; label: string } | null {
  const atBench = stage === 'on the bench' || stage === 'waiting for a decision'
  return atBench ? { href: `/bikes/${viewingNo}/bench`, label: 'Look at the bench' } : null
}

function shortRoundOf({ viewingNo }: BikeForBench): { href: string; label: string } {
  return { href: `/bikes/${viewingNo}/checks/short`, label: 'Start the short round' }
}

function nextOfDealer(bike: BikeForMoney): { href: string; label: string } {
  const at = `/bikes/${bike.viewingNo}`
  if (beforeBuying.includes(bike.stage)) {
    if (isUntouched(bike)) return shortRoundOf(bike)
    if (bike.sale === null) return { href: `${at}/prices#note`, label: 'Note prices of similar bikes' }
    return { href: `${at}/deal`, label: 'Look at the deal' }
  }
  if (bike.stage === 'waiting for a decision') return { href: '#question', label: 'Answer the question' }
  if (bike.stage === 'on the bench') return { href: `${at}/bench`, label: 'Look at the bench' }
  if (bike.stage === 'passed up') return { href: '/board', label: 'Back to the board' }
  return { href: `${at}/work`, label: 'Look at the work' }
}

function isUntouched({ progress }: BikeForBench): boolean {
  return progress.open === progress.applicable
}

function PhotoSheet({ bike, person }: { bike: BikeForBench; person: string }) {
  return (
    <div className={bike.photos.length === 0 ? 'no-print' : undefined}>
      <Sheet
        id="photos"
        title="Photos"
        aside={
          <Link href={`/bikes/${bike.viewingNo}/photos`} className="tap no-print">
            Large, and to mark
          </Link>
        }
      >
        <Photos bike={bike.id} person={person} zone={bike.zone} photos={bike.photos} />
      </Sheet>
    </div>
  )
}

function Faults({ bike }: { bike: BikeForBench }) {
  return (
    <Sheet title="What is wrong" sub="As far as it has been checked.">
      {bike.faults.length === 0 ? (
        <p>Nothing found so far.</p>
      ) : (
        <ul className="flex flex-col gap-2">
          {bike.faults.map(({ key, title, call }) => (
            <li key={key} className="grid grid-cols-[6rem_minmax(0,1fr)] items-center gap-2">
              <CallMark call={call} />
              <span className="flex flex-wrap items-center justify-between gap-x-3">
                {title}
                <Link
                  href={`/bikes/${bike.viewingNo}/photos?fault=${key}`}
                  className="tap no-print min-w-(--target) justify-end"
                >
                  Photo<span className="sr-only"> of {title}</span>
                </Link>
              </span>
            </li>
          ))}
        </ul>
      )}
    </Sheet>
  )
}

function Rounds({ bike }: { bike: BikeForBench }) {
  return (
    <Sheet title="Rounds">
      <ul className="flex flex-col">
        {bike.rounds.map(({ round, open, progress }) => (
          <li key={round} className="border-b border-rule py-1 last:border-0">
            <Link
              href={`/bikes/${bike.viewingNo}/checks?round=${round}`}
              className="tap flex w-full flex-wrap justify-between gap-x-4 no-underline"
            >
              <span className="font-semibold underline underline-offset-3 print:no-underline">
                {roundWords[round].name}
              </span>
              <span className="inline-flex items-center gap-2 text-soft">
                {progress.open === 0 ? 'Done' : `${countOf(progress.open, 'check')} to do`}
                {!open && ', shut'}
                {!open && <Padlock />}
              </span>
            </Link>
          </li>
        ))}
      </ul>
    </Sheet>
  )
}

/** What is known of a bike from papers and registers. */
type Known = { distance: DistanceTold; onRecord: readonly OnRecord[] }

async function readKnown({ store }: SignedContext, bikeId: string): Promise<Known> {
  const [distance, onRecord] = await Promise.all([
    readDistanceTold(store.db, bikeId),
    readOnRecord(store.db, bikeId),
  ])
  return { distance, onRecord }
}

const recordWords = { 'write-off': 'Write-off on record', recall: 'Recall on record' } as const

function Facts({ bike, known }: { bike: BikeForBench; known: Known }) {
  const { year, kind } = bike
  return (
    <Sheet
      title="The bike"
      id="the-bike"
      aside={
        <Link href={`/bikes/${bike.viewingNo}/tag`} className="tap no-print">
          Tag with its square code
        </Link>
      }
    >
      <dl className="grid grid-cols-2 gap-4 sm:grid-cols-4">
        <Fact label="Year" value={year ?? 'unknown'} />
        <Fact label="Registration" value={bike.registration ?? 'not noted'} />
        <Fact label="Distance on the clock" value={distanceWords(known.distance)} />
        {known.onRecord.map(({ register, day }) => (
          <Fact key={register} label={recordWords[register]} value={`asked on ${formatDay(day)}`} />
        ))}
        <Fact label="Kind" value={kindWords(kind)} wide />
      </dl>
      <FrameNumber frame={bike.frame} />
    </Sheet>
  )
}
