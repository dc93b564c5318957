import type { Metadata } from 'next'
import Link from 'next/link'
import { readTodayPage, type TodayPage } from '../../../../lib/shop/read-plan'
import { openPage } from '../../../../lib/web/pages'
import { bikeName } from '../../../_ui/bike-name'
import { countOf, formatDay } from '../../../_ui/formats'
import { EmptyState } from '../../../_ui/notes'
import { PageHead } from '../../../_ui/page-head'
import { Sheet } from '../../../_ui/sheet'
import { clock, dayWords, taskWords } from '../plan-words'

export const metadata: Metadata = { title: 'Today at the bench' }

type Line = TodayPage['mine'][number]

/** What is done today, one's own first. There is no money in it. */
export default async function Today() {
  const { store, now, who } = await openPage('/bench/today')
  const page = await readTodayPage(store, now, who.personId)
  const { mine, others, byTheClock, next, today, state } = page
  const [first] = mine
  return (
    <main id="main" className="page bench">
      <PageHead
        title="Today at the bench"
        sub={`${formatDay(today)}, by the bench plan.${stateSays[state]}`}
        figure={{ label: 'your tasks', value: mine.length }}
        next={first && { href: `/bikes/${first.viewingNo}/bench`, label: `Go to ${bikeName(first)}` }}
      />
      {mine.length > 0 ? (
        <Sheet title="Yours">
          <Lines lines={mine} today={today} />
        </Sheet>
      ) : (
        <EmptyState
          title="Nothing is planned for you today."
          action={
            <Link href="/bikes" className="btn">
              Look at the bikes
            </Link>
          }
        >
          {next[0]
            ? `Your next task is ${dayWords(next[0].from.day, today)}.`
            : 'A task comes here when a bike that the shop owns has work you do.'}
        </EmptyState>
      )}
      {byTheClock.length > 0 && (
        <Sheet title="By the clock" sub="Leave these alone until then.">
          <Lines lines={byTheClock} today={today} />
        </Sheet>
      )}
      {others.length > 0 && (
        <Sheet title="Others">
          <Lines lines={others} today={today} named />
        </Sheet>
      )}
      {next.length > 0 && (
        <Sheet title="Your next days" sub={countOf(next.length, 'task')}>
          <Lines lines={next} today={today} dated />
        </Sheet>
      )}
    </main>
  )
}

function Lines({
  lines,
  today,
  named = false,
  dated = false,
}: {
  lines: readonly Line[]
  today: string
  named?: boolean
  dated?: boolean
}) {
  return (
    <ol className="flex flex-col">
      {lines.map((line) => (
        <li key={line.id} className="border-b border-rule py-1 last:border-0">
          <Link
            href={`/bikes/${line.viewingNo}/bench`}
            className="tap flex w-full flex-wrap gap-x-4 py-2 text-ink no-underline"
          >
            <span className="w-36 shrink-0">
              {dated && <span className="block">{dayWords(line.from.day, today)}</span>}
              {fromTo(line, today)}
            </span>
            <span className="min-w-0 grow">
              <span className="block font-semibold underline underline-offset-4">{taskWords(line)}</span>
              <span className="block">
                {bikeName(line)}, number {line.viewingNo}
                {named && line.who && `, ${line.who}`}
              </span>
            </span>
          </Link>
        </li>
      ))}
    </ol>
  )
}

/** What began before today goes on, and what does not end today goes on after. */
function fromTo({ from, to }: Line, today: string): string {
  const ends = to.day > from.day && to.day > today ? dayWords(to.day, today) : clock(to.minute)
  return from.day < today ? `until ${ends}` : `${clock(from.minute)} to ${ends}`
}

const stateSays = {
  now: '',
  again: ' The plan is being worked out again.',
  failed: ' Something changed since that the plan could not be worked out with: ask a manager.',
}
