import type { Metadata } from 'next'
import Link from 'next/link'
import { type BikeListRow, readBikeList } from '../../../lib/shop/read-bike-list'
import { stages } from '../../../lib/shop/stage-names'
import { openPage } from '../../../lib/web/pages'
import { bikeName, numbersOf } from '../../_ui/bike-name'
import { FindChoice, FindForm, FindWords } from '../../_ui/find-form'
import { countOf } from '../../_ui/formats'
import { CallMark, StageMark, stageWord } from '../../_ui/marks'
import { EmptyState } from '../../_ui/notes'
import { PageHead } from '../../_ui/page-head'
import { roundWords } from './[bike]/checks/round-words'

export const metadata: Metadata = { title: 'Bikes' }

export default async function BikesPage({
  searchParams,
}: {
  searchParams: Promise<Record<string, string | string[] | undefined>>
}) {
  const context = await openPage('/bikes')
  const asked = await searchParams
  const search = textOf(asked.search)
  const stage = textOf(asked.stage)
  const { bikes, none } = await readBikeList(context, { search, stage })
  return (
    <main id="main" className="page bench">
      <PageHead title="Bikes" sub="What is to be checked, and how far each has come." />
      {none ? (
        <EmptyState title="No bike has been looked at yet.">
          A dealer takes a bike in when it is first seen. Then it stands here with its checks.
        </EmptyState>
      ) : (
        <>
          <FindBikes search={search} stage={stage} />
          <p role="status" className="text-soft">
            {bikes.length === 0 ? 'No bike fits this. Search for less.' : countOf(bikes.length, 'bike')}
          </p>
          <ul className="flex flex-col border-t-2 border-ink">
            {bikes.map((bike) => (
              <BikeRow key={bike.id} bike={bike} />
            ))}
          </ul>
        </>
      )}
    </main>
  )
}

const stageChoices = [
  { value: '', label: 'All' },
  ...stages.map((one) => ({ value: one, label: stageWord(one) })),
]

function FindBikes({ search, stage }: { search: string; stage: string }) {
  return (
    <FindForm
      action="/bikes"
      label="Find a bike"
      columns="sm:grid-cols-[1fr_auto_auto]"
      words={<FindWords typed={search} example="Number, plate or make" />}
    >
      <FindChoice name="stage" label="Stage" chosen={stage} choices={stageChoices} />
    </FindForm>
  )
}

function BikeRow({ bike }: { bike: BikeListRow }) {
  const { viewingNo, progress, stops, stage } = bike
  const { href, label } = nextOf(bike)
  return (
    <li className="grid gap-x-6 gap-y-2 border-b border-rule py-3 sm:grid-cols-[1fr_auto] sm:items-center">
      <div className="min-w-0">
        <h2 className="text-lg">
          <Link href={`/bikes/${viewingNo}`} className="tap">
            {bikeName(bike)}
          </Link>
        </h2>
        <p className="flex flex-wrap items-center gap-x-4 gap-y-1 text-soft">
          <span>{numbersOf(bike)}</span>
          <StageMark stage={stage} />
        </p>
        <RoundsDone bike={bike} />
        {stops.length > 0 && (
          <p className="mt-1 flex flex-wrap items-center gap-x-3 gap-y-1">
            <CallMark call="stop" />
            {stops.join('; ')}
          </p>
        )}
      </div>
      <div className="flex flex-col gap-1 sm:w-76">
        <Link href={href} className="btn-quiet">
          {label}
        </Link>
        <p className="text-center text-soft">
          {progress.done} of {progress.applicable} checks done
          {progress.skipped > 0 && `, ${progress.skipped} left out`}
        </p>
      </div>
    </li>
  )
}

function RoundsDone({ bike }: { bike: BikeListRow }) {
  return (
    <p className="mt-1 flex flex-wrap gap-x-4">
      {bike.rounds.map(({ round, open, progress }) => (
        <span key={round}>
          {roundWords[round].name} {progress.applicable - progress.open}/{progress.applicable}
          {!open && <strong> shut</strong>}
        </span>
      ))}
    </p>
  )
}

function nextOf({ viewingNo, next }: BikeListRow): { href: string; label: string } {
  switch (next.do) {
    case 'check':
      return {
        href: `/bikes/${viewingNo}/checks?round=${next.round}`,
        label: `${next.started ? 'Go on with' : 'Start'} the ${roundWords[next.round].name.toLowerCase()} round`,
      }
    case 'clear-stops':
      return {
        href: `/bikes/${viewingNo}/checks?round=${next.round}`,
        label: `See why the ${roundWords[next.round].name.toLowerCase()} round is shut`,
      }
    case 'look':
      return { href: `/bikes/${viewingNo}`, label: 'Open the bike' }
  }
}

function textOf(value: string | string[] | undefined): string {
  return typeof value === 'string' ? value : ''
}
