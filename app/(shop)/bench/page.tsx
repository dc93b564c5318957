import type { Metadata } from 'next'
import Link from 'next/link'
import { type PlanPage, readPlanPage } from '../../../lib/shop/read-plan'
import { mayDo } from '../../../lib/shop/who-may'
import { openPage } from '../../../lib/web/pages'
import { bikeName } from '../../_ui/bike-name'
import { Fact } from '../../_ui/fact'
import { countOf, formatMoney } from '../../_ui/formats'
import { EmptyState, Notice } from '../../_ui/notes'
import { PageHead } from '../../_ui/page-head'
import { PlanBars } from '../../_ui/plan-bars'
import { PrintButton } from '../../_ui/print-button'
import { Sheet } from '../../_ui/sheet'
import { Word } from '../../_ui/word'
import { BikeInPlan } from './bike-in-plan'
import { rowsOfPlan } from './plan-rows'
import { momentWords, shortDay, smallMoney } from './plan-words'
import { PrintedList } from './printed-list'
import { SettledTasks } from './settled-tasks'
import { WorkedOutAgain } from './worked-out-again'

export const metadata: Metadata = { title: 'Bench plan' }

/** Who does what on which bike, when each is ready, and what it costs that they stand. */
export default async function BenchPlanPage() {
  const { store, now, who } = await openPage('/bench')
  const plan = await readPlanPage(store, now)
  const maySettle = mayDo(who.roles, 'plan:set')
  const [first] = plan.bikes.flatMap(({ tasks }) => tasks).sort((a, b) => a.start - b.start)
  const firstBike = plan.bikes.find(({ id }) => id === first?.bike)
  return (
    <main id="main" className="page">
      <PageHead
        title="Bench plan"
        sub={
          <>
            In the order that leaves the least money standing, by each bike’s <Word name="day’s price" />.
          </>
        }
        figure={
          plan.bikes.length > 0
            ? {
                label: 'Standing costs a day',
                value: formatMoney(Math.round(plan.standsADayMinor), plan.currency),
                note: countOf(plan.bikes.length, 'bike'),
              }
            : undefined
        }
        next={
          firstBike && {
            href: `/bikes/${firstBike.viewingNo}/bench`,
            label: `Go on with ${firstBike.make} ${firstBike.model}`,
          }
        }
      />
      <div className="no-print flex flex-wrap items-center gap-x-6 gap-y-2">
        <Link href="/bench/today" className="tap">
          Today at the bench
        </Link>
        {maySettle && (
          <Link href="/settings/bench" className="tap">
            People, hours, lifts
          </Link>
        )}
        <PrintButton>Print the list</PrintButton>
      </div>
      {plan.state === 'again' && <WorkedOutAgain />}
      {plan.state === 'failed' && (
        <Notice title="The plan could not be worked out anew.">
          It is the last that could. Something changed since that it cannot be made with: look at what was
          changed last, such as hours, people or times off; the next change has it tried again.
        </Notice>
      )}
      {plan.people.length === 0 && (
        <Notice title="Nobody is at the bench.">
          A plan needs somebody who works. Say under Settings, Bench, who does what.
        </Notice>
      )}
      {plan.pinProblem && (
        <Notice title="What was settled by hand cannot stand.">
          {plan.pinProblem} The plan below is made without it: settle it otherwise, or let it move.
        </Notice>
      )}
      {plan.bikes.length === 0 ? (
        <EmptyState
          title="No bike waits for work."
          action={
            <Link href="/board" className="btn">
              Look at the board
            </Link>
          }
        >
          A bike is planned from the day it is bought until it is ready.
        </EmptyState>
      ) : (
        <>
          <Sheet
            title="Who does what"
            sub="Ten working days. A number is a bike’s viewing number; hatched is time that goes by the clock; a thick edge is settled by hand."
          >
            <Bars plan={plan} />
          </Sheet>
          <Comparison plan={plan} />
          <PrintedList plan={plan} />
          <section aria-labelledby="bikes" className="flex flex-col gap-2">
            <h2 id="bikes">When each bike is ready</h2>
            <ol className="flex flex-col border-t-2 border-ink">
              {plan.bikes.map((bike) => (
                <li key={bike.id} className="border-b border-rule py-4">
                  <BikeInPlan bike={bike} plan={plan} maySettle={maySettle} />
                </li>
              ))}
            </ol>
          </section>
          <SettledTasks plan={plan} maySettle={maySettle} />
        </>
      )}
      {plan.waiting.length > 0 && (
        <Sheet title="Not planned" sub="Somebody must answer first.">
          <ul>
            {plan.waiting.map((bike) => (
              <li key={bike.viewingNo}>
                <Link href={`/bikes/${bike.viewingNo}#question`} className="tap">
                  {bikeName(bike)}
                </Link>{' '}
                <span className="text-soft">waits for a decision.</span>
              </li>
            ))}
          </ul>
        </Sheet>
      )}
      <p className="text-soft">
        Worked out with the mean hours of each job; dates that eight of ten bikes keep come from the spread of
        the whole bike’s hours. One person works on a bike at a time. Made {momentWords(plan.now, plan.today)}
        .
      </p>
    </main>
  )
}

function Bars({ plan }: { plan: PlanPage }) {
  const { rows, days, now } = rowsOfPlan(plan)
  return (
    <PlanBars
      rows={rows}
      days={days.map(({ from, day }) => ({ from, label: shortDay(day) }))}
      now={now}
      says="The plan as bars: people and lifts against days. The same stands in the list of bikes below."
    />
  )
}

/** What the plan comes to in money, against the one before it, and against what was settled by hand. */
function Comparison({ plan }: { plan: PlanPage }) {
  const { standsMinor, stoodBeforeMinor, pinsCostMinor, isProven, couldSaveMinor, currency } = plan
  const change = stoodBeforeMinor === null ? null : standsMinor - stoodBeforeMinor
  return (
    <dl className="grid grid-cols-2 gap-x-6 gap-y-3 sm:grid-cols-4">
      <Fact label="Standing until all are ready" value={smallMoney(standsMinor, currency)} />
      {change !== null && (
        <Fact
          label="Against the plan before"
          value={
            Math.abs(change) < 50
              ? 'the same'
              : `${formatMoney(Math.abs(Math.round(change)), currency)} ${change > 0 ? 'more' : 'less'}`
          }
        />
      )}
      {pinsCostMinor !== null && (
        <Fact
          label="What is settled by hand costs"
          value={pinsCostMinor < 50 ? 'nothing' : formatMoney(Math.round(pinsCostMinor), currency)}
        />
      )}
      <Fact label="A better order" value={betterOrder({ isProven, couldSaveMinor, currency })} />
    </dl>
  )
}

function betterOrder({
  isProven,
  couldSaveMinor,
  currency,
}: Pick<PlanPage, 'isProven' | 'couldSaveMinor' | 'currency'>): string {
  if (isProven) return 'is not possible'
  if (couldSaveMinor === null) return 'not known: a promise is late'
  return couldSaveMinor < 50
    ? 'saves next to nothing'
    : `saves at most ${formatMoney(Math.round(couldSaveMinor), currency)}`
}
