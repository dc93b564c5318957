import type { Metadata } from 'next'
import Link from 'next/link'
import { openStateKinds } from '../../../../../lib/core/checks/open-states'
import { type Bench, readBench } from '../../../../../lib/shop/read-bench'
import { found, openPage } from '../../../../../lib/web/pages'
import { bikeName } from '../../../../_ui/bike-name'
import { formatInstant } from '../../../../_ui/formats'
import { EmptyState } from '../../../../_ui/notes'
import { PrintButton } from '../../../../_ui/print-button'

export const metadata: Metadata = { title: 'Tag for the ignition' }

/** What hangs on the key while something is open: one tag for all of it, big enough to be read from a step away. */
export default async function TagPage({ params }: { params: Promise<{ bike: string }> }) {
  const context = await openPage('/bikes/[bike]/tag')
  const { bike } = await params
  const bench = await found(readBench(context, bike))
  const back = `/bikes/${bench.viewingNo}/bench`
  return (
    <main id="main" className="page-narrow bench">
      <div className="no-print flex flex-wrap items-center justify-between gap-3">
        <h1>Tag for the ignition</h1>
        <Link href={back} className="tap">
          Back to the bench
        </Link>
      </div>
      {bench.openStates.length === 0 ? (
        <EmptyState title="Nothing is open on this bike.">
          A tag is printed while something is, such as oil drained.
        </EmptyState>
      ) : (
        <>
          <Tag bench={bench} />
          <div className="no-print flex flex-wrap gap-3">
            <PrintButton>Print the tag</PrintButton>
          </div>
          <p className="no-print text-soft">
            Hang it on the key or over the ignition. It comes off when everything on it is put back.
          </p>
        </>
      )}
    </main>
  )
}

function Tag({ bench }: { bench: Bench }) {
  const { openStates, viewingNo, stockNo, registration, zone } = bench
  const numbers = [
    stockNo !== null && `Stock ${stockNo}`,
    `Viewing ${viewingNo}`,
    registration !== null && registration,
  ].filter((number) => number !== false)
  // The same sentence of two jobs stands once, with both who left it open.
  const sentences = [...new Set(openStates.map(({ tag }) => tag))]
  const mustNotTurn = openStates.some(({ kind }) =>
    openStateKinds[kind].locks.some((lock) => lock === 'engine' || lock === 'ignition'),
  )
  return (
    <article
      aria-label="The tag"
      className="flex flex-col gap-3 border-4 border-ink bg-sheet p-5 print:w-[138mm] print:break-inside-avoid"
    >
      <p className="border-b-4 border-ink pb-2 text-3xl font-semibold uppercase tracking-wide">
        {mustNotTurn ? 'Do not start' : 'Do not ride'}
      </p>
      {sentences.map((sentence) => (
        <div key={sentence}>
          <p className="mb-1 font-serif text-3xl font-semibold leading-tight text-balance">{sentence}</p>
          {openStates
            .filter(({ tag }) => tag === sentence)
            .map(({ id, who, at, job, note }) => (
              <p key={id}>
                {who}, {formatInstant(at, zone)}
                {job && `, ${job}`}
                {note && `. ${note}`}
              </p>
            ))}
        </div>
      ))}
      <p className="border-t-2 border-ink pt-2 text-xl font-semibold">
        {bikeName(bench)}
        <span className="flex flex-wrap gap-x-3">
          {numbers.map((number) => (
            <span key={number} className="whitespace-nowrap">
              {number}
            </span>
          ))}
        </span>
      </p>
    </article>
  )
}
