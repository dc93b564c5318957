import type { Metadata } from 'next'
import Link from 'next/link'
import { uuidv7 } from 'uuidv7'
import { type AmountShown, readWork, type Work, type WorkJob } from '../../../../../lib/shop/read-work'
import { mayDo } from '../../../../../lib/shop/who-may'
import { found, openPage } from '../../../../../lib/web/pages'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { Disclosure } from '../../../../_ui/disclosure'
import { countOf, formatEstimate, formatHours } from '../../../../_ui/formats'
import { StageMark } from '../../../../_ui/marks'
import { Notice } from '../../../../_ui/notes'
import { PageHead } from '../../../../_ui/page-head'
import { Sheet } from '../../../../_ui/sheet'
import { SpreadStrip } from '../../../../_ui/spread-strip'
import { Word } from '../../../../_ui/word'
import { BikeNav } from '../../_ui/bike-nav'
import { AddForms } from './add-forms'
import type { Deciding } from './decide-form'
import { DecisionNotes } from './decision-notes'
import { FaultList, UnseenFaults } from './fault-list'
import { JobList } from './job-list'
import { LeftList } from './left-list'
import { SharedLabour } from './shared-labour'
import { SpentSheet } from './spent'
import { estimateWords } from './work-words'

export const metadata: Metadata = { title: 'Work' }

export default async function WorkPage({ params }: { params: Promise<{ bike: string }> }) {
  const context = await openPage('/bikes/[bike]/work')
  const { bike } = await params
  const work = await found(readWork(context, bike))
  const { currency, cost, zone, viewingNo } = work
  const { roles } = context.who
  // The id of the next decision: this page is drawn anew after each.
  const deciding: Deciding = { bike: work.id, nextId: uuidv7(), currency }
  const estimate = (minor: number) => formatEstimate(minor, currency)
  return (
    <main id="main" className="page">
      <PageHead
        title={bikeName(work)}
        sub={numbersOf(work)}
        figure={{
          label: <Word name="estimate">Estimate, middle</Word>,
          value: estimate(cost.middle),
          note: `${estimate(cost.low)} to ${estimate(cost.high)}, eight times in ten`,
        }}
        next={nextStep(work)}
      >
        <StageMark stage={work.stage} />
      </PageHead>
      <BikeNav viewingNo={viewingNo} current="work" who={context.who} />
      <Sheet
        title="What is wrong"
        sub={
          work.faults.length === 0
            ? 'Nothing found so far.'
            : `${countOf(work.faults.length, 'fault')} there, severest first.`
        }
      >
        <FaultList faults={work.faults} deciding={deciding} viewingNo={viewingNo} zone={zone} />
        {work.unseen.length > 0 && (
          <div className={work.faults.length > 0 ? belowList : undefined}>
            <UnseenFaults unseen={work.unseen} currency={currency} />
          </div>
        )}
      </Sheet>
      <Jobs work={work} deciding={deciding} mayChangeJobs={mayDo(roles, 'catalogue:change')} />
      {work.doneJobs.length > 0 && (
        <Sheet title="Done" sub="Counted no more.">
          <ul className="flex flex-col">
            {work.doneJobs.map(({ key, title, waitsForRecheck }) => (
              <li
                key={key}
                className="flex flex-wrap items-center justify-between gap-x-4 border-b border-rule last:border-0"
              >
                <span className="font-semibold">{title}</span>
                <Link href={`/bikes/${viewingNo}/bench`} className="tap">
                  {waitsForRecheck ? 'Done, waits for its recheck' : 'Done'}
                </Link>
              </li>
            ))}
          </ul>
        </Sheet>
      )}
      <SpentSheet spent={work.spent} bike={work.id} currency={currency} zone={zone} />
      {work.left.length > 0 && (
        <Sheet title="Left as it is" sub="Told to the buyer, and taken off the sale price.">
          <LeftList left={work.left} deciding={deciding} />
        </Sheet>
      )}
      <div className="grid items-start gap-6 lg:grid-cols-2">
        <Estimate work={work} />
        <Sheet title="Shared labour" sub="A step that several jobs need is done once and counted once.">
          {work.savings.length === 0 ? (
            <p>No two jobs share a step.</p>
          ) : (
            <SharedLabour savings={work.savings} currency={currency} />
          )}
        </Sheet>
      </div>
      <Dropped work={work} />
      <div className="no-print">
        <Sheet
          title="Add or drop"
          sub={
            <>
              Each <Word name="decision" /> is kept with its reason and your name, and can be taken back.
            </>
          }
        >
          <AddForms
            addable={work.addable}
            unseen={work.unseen.map(({ key: value, title: label }) => ({ value, label }))}
            perhaps={work.jobs.filter(isPerhaps).map(({ key: value, title: label }) => ({ value, label }))}
            deciding={deciding}
          />
        </Sheet>
      </div>
    </main>
  )
}

function nextStep({ viewingNo, coldRound }: Work): { href: string; label: string } {
  const at = `/bikes/${viewingNo}`
  if (!coldRound) return { href: `${at}/deal`, label: 'Look at the deal' }
  const label = coldRound.started ? 'Finish the cold round' : 'Start the cold round'
  return { href: `${at}/checks?round=cold`, label }
}

const belowList = 'mt-4 border-t-2 border-ink pt-2'

function isPerhaps(job: WorkJob): boolean {
  return !job.certain
}

function Jobs({ work, deciding, mayChangeJobs }: { work: Work; deciding: Deciding; mayChangeJobs: boolean }) {
  const { jobs, zone, currency } = work
  const certain = jobs.filter((job) => job.certain)
  const perhaps = jobs.filter(isPerhaps)
  const resting = jobs.filter((job) => job.resting).length
  const costOf = (of: readonly WorkJob[]) => of.reduce((sum, { adds }) => sum + (adds?.costMean ?? 0), 0)
  return (
    <Sheet
      title="Jobs"
      sub={
        certain.length === 0
          ? 'Nothing is certain to be done yet.'
          : `${countOf(certain.length, 'job')} to do: ${estimateWords(costOf(certain), currency)} on average.`
      }
    >
      {resting > 0 && (
        <div className="mb-4">
          <Notice>
            {resting} of {countOf(jobs.length, 'job')} rest on{' '}
            <Word name="starting value">starting values</Word> for hours and prices.{' '}
            {mayChangeJobs && (
              <Link href="/settings/jobs" className="tap no-print">
                Set the shop’s own
              </Link>
            )}
          </Notice>
        </div>
      )}
      <JobList jobs={certain} deciding={deciding} zone={zone} />
      {perhaps.length > 0 && (
        <div className={certain.length > 0 ? belowList : undefined}>
          <Disclosure
            summary={
              <>
                <span className="font-semibold">{countOf(perhaps.length, 'job')} that may be needed</span>
                <span className="block text-soft">
                  {estimateWords(costOf(perhaps), currency)} on average, each by its chance
                </span>
              </>
            }
          >
            <JobList jobs={perhaps} deciding={deciding} zone={zone} />
          </Disclosure>
        </div>
      )}
    </Sheet>
  )
}

function Estimate({ work }: { work: Work }) {
  const { cost, hours, currency } = work
  return (
    <Sheet
      title="Low, middle, high"
      sub={
        <>
          Eight times in ten it ends between low and high. How the <Word name="spread" /> falls is drawn.
        </>
      }
    >
      <div className="flex flex-col gap-6">
        <Amount title="Cost" amount={cost} format={(minor) => formatEstimate(minor, currency)} />
        <Amount title="Bench hours" amount={hours} format={formatHours} />
      </div>
    </Sheet>
  )
}

function Amount({
  title,
  amount,
  format,
}: {
  title: string
  amount: AmountShown
  format: (value: number) => string
}) {
  return (
    <div>
      <h3>{title}</h3>
      <p className="mb-1 text-soft">{format(amount.mean)} on average</p>
      <SpreadStrip spread={amount} title={title} format={format} />
    </div>
  )
}

function Dropped({ work }: { work: Work }) {
  const { dropped, droppedJobs, idle, zone } = work
  if (dropped.length + droppedJobs.length + idle.length === 0) return null
  return (
    <Sheet title="Dropped and set aside" sub="Not counted. Taking a decision back counts it again.">
      <DecisionNotes
        named
        zone={zone}
        decisions={[...dropped, ...droppedJobs].flatMap(({ decisions }) => decisions).concat(idle)}
      />
    </Sheet>
  )
}
