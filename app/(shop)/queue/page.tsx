import type { Metadata } from 'next'
import Link from 'next/link'
import { type QueueLine, readQueue } from '../../../lib/shop/read-board'
import { readOpenQuestions, readUnderWay } from '../../../lib/shop/read-questions'
import { mayDo } from '../../../lib/shop/who-may'
import { openPage } from '../../../lib/web/pages'
import { bikeName, numbersOf } from '../../_ui/bike-name'
import { Fact } from '../../_ui/fact'
import { countOf, formatEstimate, formatHours, formatMoney } from '../../_ui/formats'
import { CallMark, StageMark } from '../../_ui/marks'
import { EmptyState } from '../../_ui/notes'
import { PageHead } from '../../_ui/page-head'
import { Sheet } from '../../_ui/sheet'
import { Word } from '../../_ui/word'
import { AnswerQuestion } from '../bikes/[bike]/bench/answer-question'
import { minutesWords } from '../bikes/[bike]/bench/bench-words'
import { ComingFigures } from '../coming-figures'
import { RowStateMark } from '../row-state-mark'

export const metadata: Metadata = { title: 'Queue' }

export default async function QueuePage() {
  const { store, now, who } = await openPage('/queue')
  const [{ lines, hours, currency, zone, comingCount }, questions, underWay] = await Promise.all([
    readQueue(store, now),
    readOpenQuestions(store.db),
    readUnderWay(store, now),
  ])
  const first = lines[0]
  return (
    <main id="main" className="page">
      <PageHead
        title="Queue"
        sub={
          <>
            Bikes the shop owns, by the <Word name="gain from going on" /> for each <Word name="bench hour" />{' '}
            they still take.
          </>
        }
        figure={
          first && { label: 'Waiting at the bench', value: formatHours(hours), note: 'expected, all bikes' }
        }
        next={
          questions.length > 0
            ? { href: '#questions', label: `Answer ${countOf(questions.length, 'question')}` }
            : first && {
                href: `/bikes/${first.viewingNo}/work`,
                label: `Work on ${first.make} ${first.model}`,
              }
        }
      />
      {questions.length > 0 && (
        <Sheet id="questions" title="Questions from the bench" sub="Each of these bikes waits.">
          <ul className="flex flex-col gap-8">
            {questions.map((question) => (
              <li key={question.id}>
                <h3>
                  <Link href={`/bikes/${question.bike.viewingNo}#question`} className="tap">
                    {bikeName(question.bike)}
                  </Link>
                </h3>
                <AnswerQuestion
                  question={question}
                  currency={currency}
                  zone={zone}
                  mayAnswer={mayDo(who.roles, 'question:answer')}
                />
              </li>
            ))}
          </ul>
        </Sheet>
      )}
      {underWay.length > 0 && (
        <Sheet title="Under way">
          <ul className="flex flex-col">
            {underWay.map(({ id, title, paused, minutes, budgetHours, atIt, bike }) => (
              <li key={id} className="border-b border-rule last:border-0">
                <Link
                  href={`/bikes/${bike.viewingNo}/bench`}
                  className="tap flex w-full flex-wrap justify-between gap-x-4"
                >
                  <span className="font-semibold">
                    {bikeName(bike)}: {title}
                  </span>
                  <span>
                    {minutesWords(minutes)}
                    {budgetHours !== null && ` of ${formatHours(budgetHours)}`}
                    {paused ? ', paused' : `, ${atIt.join(', ')}`}
                  </span>
                </Link>
              </li>
            ))}
          </ul>
        </Sheet>
      )}
      <ComingFigures count={comingCount} />
      {first ? (
        <ol className="flex flex-col border-t-2 border-ink" aria-label="Bikes to put right">
          {lines.map((line) => (
            <li key={line.id} className="border-b border-rule py-4">
              <QueueEntry line={line} currency={currency} />
            </li>
          ))}
        </ol>
      ) : (
        <EmptyState
          title="No bike is waiting for work."
          action={
            <Link href="/board" className="btn">
              Look at the board
            </Link>
          }
        >
          A bike stands here from the day it is bought until it is ready.
        </EmptyState>
      )}
    </main>
  )
}

function perHourWords(minor: number | null, currency: string): string {
  return minor === null ? '\u2013' : formatEstimate(minor, currency)
}

function QueueEntry({ line, currency }: { line: QueueLine; currency: string }) {
  const { place, viewingNo, stockNo, registration, stage, stops, musts, openChecks } = line
  return (
    <article className="grid gap-x-6 gap-y-3 md:grid-cols-[2.5rem_minmax(0,1fr)_minmax(0,1.6fr)]">
      <span className="font-serif text-2xl font-semibold leading-8 max-md:hidden" aria-hidden="true">
        {place}
      </span>
      <div className="flex min-w-0 flex-col items-start gap-1">
        <h2 className="text-lg">
          <span className="md:sr-only">{place}. </span>
          <Link href={`/bikes/${viewingNo}/work`} className="tap">
            {bikeName(line)}
          </Link>
        </h2>
        <p className="text-soft">{numbersOf({ viewingNo, stockNo, registration })}</p>
        <StageMark stage={stage} />
      </div>
      <div className="flex min-w-0 flex-col gap-2">
        <RowStateMark state={line.state} />
        <dl className="grid grid-cols-2 gap-x-4 gap-y-2 sm:grid-cols-4">
          <Fact
            label={line.gainPerBenchHour === null ? 'Margin per bench hour' : 'A bench hour gains'}
            value={perHourWords(line.gainPerBenchHour ?? line.marginPerBenchHour, currency)}
          />
          <Fact
            label="Bench hours"
            value={line.hoursMean === null ? '\u2013' : formatHours(line.hoursMean)}
          />
          <Fact
            label="Margin"
            value={line.marginMean === null ? '\u2013' : formatEstimate(line.marginMean, currency)}
          />
          <Fact
            label={line.daysOwned === null ? 'Paid' : `Paid ${countOf(line.daysOwned, 'day')} ago`}
            value={line.paidMinor === null ? '\u2013' : formatMoney(line.paidMinor, currency)}
          />
        </dl>
        <p className="flex flex-wrap items-center gap-2">
          {stops > 0 && <CallMark call="stop" count={stops} />}
          {musts > 0 && <CallMark call="must" count={musts} />}
          {openChecks > 0 && (
            <Link href={`/bikes/${viewingNo}/checks`} className="tap">
              {countOf(openChecks, 'check')} still to do
            </Link>
          )}
        </p>
        <p>{line.holdUp}</p>
      </div>
    </article>
  )
}
