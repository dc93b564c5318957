import type { Metadata } from 'next'
import { type JobPartsShown, type PartsOfBike, readPartsOfBike } from '../../../../../lib/shop/read-parts'
import { type PartsMoney, readPartsMoney } from '../../../../../lib/shop/read-parts-money'
import { mayDo } from '../../../../../lib/shop/who-may'
import { found, openPage } from '../../../../../lib/web/pages'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { Disclosure } from '../../../../_ui/disclosure'
import type { FigureProps } from '../../../../_ui/figure'
import { countOf, formatNumber, formatShare } from '../../../../_ui/formats'
import { PartMark } from '../../../../_ui/marks'
import { EmptyState } from '../../../../_ui/notes'
import { PageHead } from '../../../../_ui/page-head'
import { Sheet } from '../../../../_ui/sheet'
import { AskForm } from '../../../parts/ask-form'
import { AtHandForm, SayOfLine } from '../../../parts/coming'
import { Each, LineList, LineNotes } from '../../../parts/line-list'
import { pieces } from '../../../parts/parts-words'
import { SendForm, SentList } from '../../../parts/sent-list'
import { ShelfList } from '../../../parts/shelf-list'
import { BikeNav } from '../../_ui/bike-nav'

export const metadata: Metadata = { title: 'Parts of a bike' }

/** What the work on one bike needs, job by job, and what of it is missing. */
export default async function BikePartsPage({ params }: { params: Promise<{ bike: string }> }) {
  const context = await openPage('/bikes/[bike]/parts')
  const { bike } = await params
  const parts = await found(readPartsOfBike(context, bike))
  const mayOrder = mayDo(context.who.roles, 'part:order')
  const money = mayOrder ? await readPartsMoney(context) : null
  const { viewingNo, inWork, jobs, over, sentOut, shelf, jobChoices, today } = parts
  const certain = jobs.filter((job) => job.certain && job.parts.length > 0)
  const perhaps = jobs.filter((job) => !job.certain && job.parts.length > 0)
  return (
    <main id="main" className="page">
      <PageHead
        title={bikeName(parts)}
        sub={numbersOf(parts)}
        figure={inWork ? mainFigure(parts) : undefined}
        next={inWork ? nextStep(parts, mayOrder) : { href: `/bikes/${viewingNo}`, label: 'The bike' }}
      />
      <BikeNav viewingNo={viewingNo} current="parts" who={context.who} />
      {!inWork ? (
        <EmptyState title="No parts are got for this bike.">
          They are once it is bought, and until it is ready.
        </EmptyState>
      ) : (
        <>
          <Sheet id="jobs" title="What the jobs need">
            {certain.length === 0 ? (
              <p>No certain job needs a part.</p>
            ) : (
              certain.map((job) => <Job key={job.job} job={job} bike={parts} money={money} />)
            )}
          </Sheet>
          {shelf.length > 0 && (
            <Sheet id="shelf" title="On the shelf for it">
              <ShelfList shelf={shelf} />
            </Sheet>
          )}
          <Sheet id="out" title="With somebody outside">
            {sentOut.length > 0 ? (
              <SentList sent={sentOut} money={money} />
            ) : (
              <p>All of it is in the shop.</p>
            )}
            <div className="no-print">
              <Disclosure summary={<span className="font-semibold">Something goes out</span>}>
                <SendForm of={{ bike: parts, jobs: jobChoices }} today={today} />
              </Disclosure>
            </div>
          </Sheet>
          {perhaps.length > 0 && (
            <Sheet
              id="perhaps"
              title="Perhaps needed"
              sub="A chance asks for these jobs so far; a check settles it before anything is ordered."
            >
              <Disclosure summary={<span>{countOf(perhaps.length, 'job')} with their parts</span>}>
                <ul className="flex flex-col">
                  {perhaps.map(({ job, title, chance, parts: of }) => (
                    <li key={job} className="border-b border-rule py-2 first:pt-0 last:border-0 last:pb-0">
                      <span className="font-semibold">{title}</span>, {formatShare(chance)} likely:{' '}
                      {of.map(({ part, qty }) => pieces(part, qty)).join(', ')}
                    </li>
                  ))}
                </ul>
              </Disclosure>
            </Sheet>
          )}
        </>
      )}
      {over.length > 0 && (
        <Sheet
          id="over"
          title="No longer needed"
          sub="No job waits for these any more: call the order off, or let them come."
        >
          <LineList lines={over} money={money} mayOrder={mayOrder} />
        </Sheet>
      )}
    </main>
  )
}

type Around = { bike: PartsOfBike; money: PartsMoney | null }

function Job({ job, bike, money }: Around & { job: JobPartsShown }) {
  const missing = job.parts.filter(({ state }) => state !== 'arrived').length
  return (
    <section className="border-b border-rule py-4 first:pt-0 last:border-0 last:pb-0">
      <div className="flex flex-wrap items-baseline justify-between gap-x-6">
        <h3>{job.title}</h3>
        <p className={missing > 0 ? 'font-semibold' : 'text-soft'}>
          {missing > 0 ? `${missing} of ${countOf(job.parts.length, 'part')} missing` : 'All in the box'}
        </p>
      </div>
      <ul className="flex flex-col gap-3 pt-2">
        {job.parts.map((part) => (
          <li key={part.part} className="border-l-4 border-rule pl-3">
            <OnePart part={part} job={job} bike={bike} money={money} />
          </li>
        ))}
      </ul>
      {money && (
        <div className="no-print">
          <Disclosure summary={<span>Another part for it</span>}>
            <AskForm
              need={{
                ...{ bike: bike.id, job: job.job, part: '', qty: 1, notUsed: null },
                label: `another part, ${job.title}`,
              }}
              suppliers={money.suppliers}
              currency={money.currency}
            />
          </Disclosure>
        </div>
      )}
    </section>
  )
}

function OnePart({
  part,
  job,
  bike,
  money,
}: Around & { job: JobPartsShown; part: JobPartsShown['parts'][number] }) {
  const { state, qty, lines, toOrder, listed, notUsed, besides } = part
  const lacks = toOrder - listed
  const stand = ['to order', 'ordered', 'arrived', 'wrong', 'never']
  return (
    <div className="flex flex-col gap-1">
      <div className="flex flex-wrap items-center gap-x-3 gap-y-1">
        <PartMark state={state} />
        <span className="font-semibold">{pieces(part.part, qty)}</span>
        <span className="text-soft">{howFar(part)}</span>
        {besides && <span className="text-soft">asked for besides</span>}
      </div>
      {lines
        .filter((line) => stand.includes(line.state))
        .map((line) => (
          <div key={line.id} className="flex flex-col gap-1">
            <div className="flex flex-wrap items-baseline justify-between gap-x-6">
              <div>
                <LineNotes line={line} />
              </div>
              {money && line.source !== 'shelf' && (
                <Each minor={money.unitMinor.get(line.id) ?? null} currency={money.currency} />
              )}
            </div>
            <div className="no-print flex flex-col gap-2">
              <SayOfLine line={line} mayOrder={money !== null} />
            </div>
          </div>
        ))}
      {lacks > 0 && (
        <div className="no-print flex flex-col gap-2">
          <AtHandForm
            need={{
              ...{ bike: bike.id, job: job.job, part: part.part, qty: lacks },
              label: `${part.part}, ${job.title}`,
            }}
          />
          {money && (
            <Disclosure summary={<span>Ask for {pieces(part.part, lacks)}</span>}>
              <AskForm
                need={{
                  ...{ bike: bike.id, job: job.job, part: part.part, qty: lacks, notUsed },
                  label: `${part.part}, ${job.title}`,
                }}
                suppliers={money.suppliers}
                currency={money.currency}
              />
            </Disclosure>
          )}
        </div>
      )}
    </div>
  )
}

/** Where not all of it stands alike. */
function howFar({
  qty,
  ordered,
  arrived,
  fromShelf,
  toOrder,
  listed,
  over,
}: JobPartsShown['parts'][number]): string {
  const counts = [
    [arrived + fromShelf, 'in the box'],
    [ordered, 'on the way'],
    [listed, 'on a list'],
    [toOrder - listed, 'to ask for'],
  ] as const
  const said = counts.filter(([count]) => count > 0)
  const words = said.length > 1 || said.some(([count]) => count !== qty) ? said : []
  return [
    ...words.map(([count, what]) => `${formatNumber(count)} ${what}`),
    ...(over > 0 ? [`${formatNumber(over)} more than needed`] : []),
  ].join(', ')
}

function mainFigure({ jobs }: PartsOfBike): Omit<FigureProps, 'size'> {
  const parts = jobs.filter(({ certain }) => certain).flatMap((job) => job.parts)
  const missing = parts.filter(({ state }) => state !== 'arrived').length
  if (parts.length === 0) return { label: 'Parts missing', value: 'none', note: 'no certain job needs any' }
  return { label: 'Parts missing', value: `${missing} of ${parts.length}` }
}

function nextStep({ jobs, viewingNo }: PartsOfBike, mayOrder: boolean): { href: string; label: string } {
  const parts = jobs.filter(({ certain }) => certain).flatMap((job) => job.parts)
  if (mayOrder && parts.some(({ toOrder, listed }) => toOrder > listed))
    return { href: '#jobs', label: 'Ask for what is missing' }
  if (mayOrder && parts.some(({ listed }) => listed > 0))
    return { href: '/parts#lists', label: 'Order what is listed' }
  if (parts.some(({ state }) => state === 'ordered')) return { href: '#jobs', label: 'Say what came' }
  return { href: `/bikes/${viewingNo}/bench`, label: 'To the bench' }
}
