import type { Metadata } from 'next'
import Link from 'next/link'
import { boardAsked, readBoard } from '../../../lib/shop/read-board'
import { openPage } from '../../../lib/web/pages'
import { countOf, formatEstimate } from '../../_ui/formats'
import { EmptyState } from '../../_ui/notes'
import { PageHead } from '../../_ui/page-head'
import { Word } from '../../_ui/word'
import { ComingFigures } from '../coming-figures'
import { BoardControls } from './board-controls'
import { BoardList } from './board-list'

export const metadata: Metadata = { title: 'Board' }

export default async function BoardPage({
  searchParams,
}: {
  searchParams: Promise<Record<string, string | string[] | undefined>>
}) {
  const { store, now } = await openPage('/board')
  const board = await readBoard(store, now, boardAsked.parse(await searchParams))
  const { asked, best, currency, fitting, lines, pages } = board
  return (
    <main id="main" className="page">
      <PageHead
        title="Board"
        sub="Every bike by what it leaves once it is put right and sold."
        figure={
          best?.marginMean == null
            ? undefined
            : {
                label: `First: ${best.make} ${best.model}`,
                value: formatEstimate(best.marginMean, currency),
                note: best.state === 'now' ? 'expected margin' : 'expected margin, being worked out again',
              }
        }
        next={board.total === 0 ? undefined : { href: '/bikes/new', label: 'New viewing' }}
      />
      {board.total === 0 ? (
        <EmptyState
          title="No bike has been looked at yet."
          action={
            <Link href="/bikes/new" className="btn">
              Take the first viewing in
            </Link>
          }
        >
          As soon as one is, it stands here with its margin and what holds it up.
        </EmptyState>
      ) : (
        <>
          <BoardControls asked={asked} />
          <p aria-live="polite" className="text-soft">
            {fitting === 0 ? 'No bike fits this. Search for less.' : countOf(fitting, 'bike')}
          </p>
          <ComingFigures count={board.comingCount} />
          <BoardList lines={lines} currency={currency} domain={board.domain} by={asked.by} />
          {pages > 1 && <Pages asked={asked} pages={pages} />}
          <p className="no-print text-soft">
            What is meant by <Word name="margin" />, <Word name="gain from going on" />,{' '}
            <Word name="left after its keep" /> and <Word name="chance of loss" />. Left of the dashed line a
            spread is hollow: that part is a loss.
          </p>
        </>
      )}
    </main>
  )
}

function Pages({
  asked,
  pages,
}: {
  asked: { by: string; stage: string; search: string; page: number }
  pages: number
}) {
  const href = (page: number) =>
    `/board?${new URLSearchParams({ by: asked.by, stage: asked.stage, search: asked.search, page: String(page) })}`
  return (
    <nav aria-label="Pages of the board" className="flex items-center gap-4">
      {asked.page > 1 && (
        <Link href={href(asked.page - 1)} className="btn-quiet">
          Before
        </Link>
      )}
      <span>
        Page {asked.page} of {pages}
      </span>
      {asked.page < pages && (
        <Link href={href(asked.page + 1)} className="btn-quiet">
          After
        </Link>
      )}
    </nav>
  )
}
