import type { Metadata } from 'next'
import Link from 'next/link'
import { uuidv7 } from 'uuidv7'
import { type Bench, readBench } from '../../../../../lib/shop/read-bench'
import { mayDo, type Role } from '../../../../../lib/shop/who-may'
import { found, openPage } from '../../../../../lib/web/pages'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { Disclosure } from '../../../../_ui/disclosure'
import type { FigureProps } from '../../../../_ui/figure'
import { countOf, formatHours, formatInstant } from '../../../../_ui/formats'
import { StageMark } from '../../../../_ui/marks'
import { Caution, Notice } from '../../../../_ui/notes'
import { PageHead } from '../../../../_ui/page-head'
import { Sheet } from '../../../../_ui/sheet'
import { Word } from '../../../../_ui/word'
import { BikeNav } from '../../_ui/bike-nav'
import { AskForm } from './ask-form'
import { minutesWords } from './bench-words'
import { EndedList } from './ended-list'
import { JobCard } from './job-card'
import { DeclareOpen, OpenStates } from './open-states'
import { QuestionWords } from './questions'
import { ToDo } from './to-do'
import { UnderWay, undoneOf } from './under-way'

export const metadata: Metadata = { title: 'Bench' }

export default async function BenchPage({ params }: { params: Promise<{ bike: string }> }) {
  const context = await openPage('/bikes/[bike]/bench')
  const { bike } = await params
  const bench = await found(readBench(context, bike))
  const { viewingNo, zone, underWay, toDo, mayBeNeeded, ended } = bench
  const { roles } = context.who
  const mayStart = bench.stage === 'on the bench'
  return (
    <main id="main" className="page bench">
      <div className="flex flex-col gap-6 print:hidden">
        <PageHead
          title={bikeName(bench)}
          sub={numbersOf(bench)}
          figure={mainFigure(bench)}
          next={nextStep(bench)}
        >
          <StageMark stage={bench.stage} />
        </PageHead>
        <BikeNav viewingNo={viewingNo} current="bench" who={context.who} />
        {bench.back && (
          <Notice title={`Back from ready: ${bench.back.reason}`}>
            {bench.back.who}, {formatInstant(bench.back.at, zone)}. What is worked on is proven anew.
          </Notice>
        )}
        <OpenStates states={bench.openStates} viewingNo={viewingNo} zone={zone} />
        <Questions bench={bench} roles={roles} />
        {underWay.length > 0 && (
          <Sheet title="Under way">
            <UnderWay bench={bench} />
          </Sheet>
        )}
        <Sheet
          title="To do"
          sub="Hours of each job with its steps, as if it were done alone. Stuck fasteners make it more."
        >
          {!mayStart && (
            <div className="mb-4">
              <Notice>{whyNoStart(bench)}</Notice>
            </div>
          )}
          {toDo.length > 0 ? (
            <ToDo jobs={toDo} above={underWay} bike={bench.id} zone={zone} mayStart={mayStart} />
          ) : (
            <p>Nothing is certain to be done.</p>
          )}
          {mayBeNeeded.length > 0 && (
            <div className="mt-4 border-t-2 border-ink pt-2">
              <Disclosure
                summary={
                  <>
                    <span className="font-semibold">
                      {countOf(mayBeNeeded.length, 'job')} that may be needed
                    </span>
                    <span className="block text-soft">A check that is still to do tells whether.</span>
                  </>
                }
              >
                <ToDo
                  jobs={mayBeNeeded}
                  above={[...underWay, ...toDo]}
                  bike={bench.id}
                  zone={zone}
                  mayStart={mayStart}
                />
              </Disclosure>
            </div>
          )}
        </Sheet>
        {ended.length > 0 && (
          <Sheet
            title="Done"
            sub={
              <>
                A job done closes no <Word name="fault" />: its <Word name="recheck" /> does.
              </>
            }
          >
            <EndedList runs={ended} bike={bench} zone={zone} />
          </Sheet>
        )}
        <section aria-label="Also" className="flex flex-col border-y border-rule">
          <DeclareOpen bike={bench.id} nextId={uuidv7()} />
          {mayStart && (
            <Disclosure summary={<span className="font-semibold">Ask the manager about this bike</span>}>
              <AskForm bike={bench} run={null} nextId={uuidv7()} undone={undoneOf(bench)} />
            </Disclosure>
          )}
        </section>
        {bench.law && <Caution title={bench.law.title}>{bench.law.says}</Caution>}
        <p className="text-soft">Printed, this page is the job card.</p>
      </div>
      <JobCard bench={bench} />
    </main>
  )
}

function Questions({ bench, roles }: { bench: Bench; roles: readonly Role[] }) {
  const [latest, ...earlier] = bench.questions
  if (!latest) return null
  const waits = latest.answered === null
  return (
    <Sheet
      id="question"
      title={waits ? 'Waits for the manager’s answer' : 'What the manager answered'}
      aside={
        waits &&
        mayDo(roles, 'question:answer') && (
          <Link href={`/bikes/${bench.viewingNo}#question`} className="tap">
            Answer it
          </Link>
        )
      }
    >
      <QuestionWords question={latest} zone={bench.zone} />
      {bench.photos > 0 && (
        <Link href={`/bikes/${bench.viewingNo}#photos`} className="tap">
          {countOf(bench.photos, 'photo')} of this bike
        </Link>
      )}
      {earlier.length > 0 && (
        <Disclosure summary={<span className="font-semibold">Asked earlier</span>}>
          <div className="flex flex-col gap-6">
            {earlier.map((question) => (
              <QuestionWords key={question.id} question={question} zone={bench.zone} />
            ))}
          </div>
        </Disclosure>
      )}
    </Sheet>
  )
}

function mainFigure({ underWay, toDo }: Bench): Omit<FigureProps, 'size'> {
  const run = underWay.find(({ mine }) => mine) ?? underWay[0]
  if (!run) return { label: 'To do', value: countOf(toDo.length, 'job') }
  return {
    label: run.title,
    value: minutesWords(run.minutes),
    note: run.budgetHours === null ? undefined : `of ${formatHours(run.budgetHours)}`,
  }
}

/** What is begun comes first, then what is open, then what proves it, then the next job. */
function nextStep(bench: Bench): { href: string; label: string } {
  const { underWay, openStates, toDo, ended, questions, stage, viewingNo } = bench
  if (questions[0]?.answered === null) return { href: '#question', label: 'Read the question' }
  const run = underWay.find(({ mine }) => mine) ?? underWay[0]
  if (run) return { href: `#run-${run.id}`, label: run.mine ? `At ${run.title}` : `Go on with ${run.title}` }
  if (openStates.length > 0) return { href: '#open', label: 'Put back what is open' }
  const recheck = ended.flatMap(({ outcome }) => (outcome.is === 'waits' ? outcome.rechecks : []))[0]
  if (recheck)
    return { href: `/bikes/${viewingNo}/checks?check=${recheck.check}`, label: `Recheck: ${recheck.title}` }
  const [job] = toDo
  if (job && stage === 'on the bench') return { href: `#job-${job.key}`, label: `Start ${job.title}` }
  if (stage === 'on the bench')
    return { href: `/bikes/${viewingNo}#ready`, label: 'See what it lacks to be ready' }
  return { href: `/bikes/${viewingNo}`, label: 'Look at the bike' }
}

function whyNoStart({ stage }: Bench): string {
  if (stage === 'waiting for a decision') return 'Nobody works on this bike until the manager has answered.'
  if (stage === 'ready') return 'This bike is ready. A manager takes it back to the bench first.'
  return 'Only a bike on the bench is worked on. A manager puts it there.'
}
