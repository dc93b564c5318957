import type { Metadata } from 'next'
import { headers } from 'next/headers'
import Link from 'next/link'
import { openStateKinds } from '../../../../../lib/core/checks/open-states'
import { type Bench, readBench } from '../../../../../lib/shop/read-bench'
import { found, openPage } from '../../../../../lib/web/pages'
import { addressForOthers } from '../../../../../lib/web/served'
import { bikeName } from '../../../../_ui/bike-name'
import { formatInstant } from '../../../../_ui/formats'
import { PrintButton } from '../../../../_ui/print-button'
import { QrCode } from '../../../../_ui/qr-code'

export const metadata: Metadata = { title: 'Tag' }

/**
 * What hangs on the key: which bike it is, a square code that opens it, and while something is open what is, big enough
 * to be read from a step away.
 */
export default async function TagPage({ params }: { params: Promise<{ bike: string }> }) {
  const context = await openPage('/bikes/[bike]/tag')
  const { bike } = await params
  const bench = await found(readBench(context, bike))
  const asked = await headers()
  const shop = addressForOthers((name) => asked.get(name))
  const open = bench.openStates.length > 0
  return (
    <main id="main" className="page-narrow bench">
      <div className="no-print flex flex-wrap items-center justify-between gap-3">
        <h1>{open ? 'Tag for the ignition' : 'Tag of the bike'}</h1>
        <Link href={`/bikes/${bench.viewingNo}${open ? '/bench' : ''}`} className="tap">
          {open ? 'Back to the bench' : 'Back to the bike'}
        </Link>
      </div>
      <Tag bench={bench} address={shop && `${shop}/bikes/${bench.viewingNo}`} />
      <div className="no-print flex flex-wrap gap-3">
        <PrintButton>Print the tag</PrintButton>
      </div>
      <p className="no-print text-soft">
        {open
          ? 'Hang it on the key or over the ignition. It comes off when everything on it is put back.'
          : 'Hang it on the key.'}
        {shop
          ? ' The camera of an enrolled device opens the bike from it.'
          : ' The shop listens to this machine alone, so there is no square code a camera could follow.'}
      </p>
    </main>
  )
}

function Tag({ bench, address }: { bench: Bench; address: string | null }) {
  const { stockNo, viewingNo, registration } = bench
  const smaller = [stockNo !== null && `Viewing ${viewingNo}`, registration].filter(Boolean)
  return (
    <article
      aria-label="The tag"
      className="flex flex-col gap-3 border-4 border-ink bg-sheet p-5 print:w-[138mm] print:break-inside-avoid"
    >
      {bench.openStates.length > 0 && <LeftOpen bench={bench} />}
      <div className="flex flex-wrap items-center justify-between gap-4">
        <div className="min-w-0 flex-1 basis-56">
          <p className="text-5xl font-semibold leading-tight tabular-nums">
            {stockNo !== null ? `Stock ${stockNo}` : `Viewing ${viewingNo}`}
          </p>
          <p className="font-serif text-2xl font-semibold text-balance">{bikeName(bench)}</p>
          {smaller.map((number) => (
            <p key={String(number)} className="text-xl">
              {number}
            </p>
          ))}
        </div>
        {address && (
          <div className="w-40 shrink-0 print:w-[40mm]">
            <QrCode text={address} label={`Square code: opens ${address}`} />
          </div>
        )}
      </div>
      {address && <p className="break-all text-soft">{address}</p>}
    </article>
  )
}

function LeftOpen({ bench: { openStates, zone } }: { bench: Bench }) {
  // The same sentence of two jobs stands once, with both who left it open.
  const sentences = [...new Set(openStates.map(({ tag }) => tag))]
  const mustNotTurn = openStates.some(({ kind }) =>
    openStateKinds[kind].locks.some((lock) => lock === 'engine' || lock === 'ignition'),
  )
  return (
    <div className="flex flex-col gap-3 border-b-4 border-ink pb-3">
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
    </div>
  )
}
