import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { columnsOf } from '../../../../../../lib/shop/catalogue-csv'
import { readCatalogueList } from '../../../../../../lib/shop/read-catalogue'
import { openPage } from '../../../../../../lib/web/pages'
import { PageHead } from '../../../../../_ui/page-head'
import { Sheet } from '../../../../../_ui/sheet'
import { SubNav } from '../../../../../_ui/sub-nav'
import { settingsEntries } from '../../../entries'
import { TableForm } from '../../table-form'
import { kindOf, kindWords } from '../../words'

type Given = { params: Promise<{ kind: string }> }

export async function generateMetadata({ params }: Given): Promise<Metadata> {
  const kind = kindOf((await params).kind)
  return { title: kind ? `${kindWords[kind].title} as a table` : 'Catalogue' }
}

/** A kind of entry as a table: taken out to be worked on elsewhere, and in again after a trial. */
export default async function CatalogueTablePage({ params }: Given) {
  const { store } = await openPage('/settings/catalogue/[kind]/table')
  const kind = kindOf((await params).kind) ?? notFound()
  const { all } = await readCatalogueList(store.db, { kind, search: '' })
  const { many, title } = kindWords[kind]
  return (
    <main id="main" className="page">
      <PageHead
        title={`${title} as a table`}
        sub="Comma-separated values, for a spreadsheet program or for keeping."
        figure={{ label: many, value: all }}
      >
        <Link href={`/settings/catalogue/${many}`} className="tap">
          All {many}
        </Link>
      </PageHead>
      <SubNav label="Settings" entries={settingsEntries} current="/settings/catalogue" />
      <div className="grid items-start gap-6 lg:grid-cols-[1fr_2fr]">
        <Sheet title="Take it out" sub="Every one that is in use, as it stands now.">
          <div className="flex flex-col items-start gap-4">
            {/* A download, which is no page to be fetched ahead. */}
            <a href={`/api/v1/catalogue/${kind}`} download className="btn-quiet">
              Download the table
            </a>
            <div>
              <p className="font-semibold">Its columns</p>
              <p className="text-soft">{columnsOf(kind).join(', ')}</p>
            </div>
            <p className="text-soft">
              The key says which one a line is about and stays as it is.{' '}
              {kind === 'job' || kind === 'operation'
                ? 'A line with an empty key adds a new one.'
                : 'A new one needs more than a table holds and is added on its own page.'}{' '}
              {kind === 'job' &&
                'A line with a part belongs to the job above it; where a job’s lines name no part, its parts stay.'}
            </p>
          </div>
        </Sheet>
        <TableForm kind={kind} />
      </div>
    </main>
  )
}
