import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { type EntryListed, readCatalogueList } from '../../../../../lib/shop/read-catalogue'
import { openPage } from '../../../../../lib/web/pages'
import { FindForm, FindWords } from '../../../../_ui/find-form'
import { countOf } from '../../../../_ui/formats'
import { EmptyState } from '../../../../_ui/notes'
import { PageHead } from '../../../../_ui/page-head'
import { SubNav } from '../../../../_ui/sub-nav'
import { settingsEntries } from '../../entries'
import { saysOf } from '../entry-says'
import { StateMark } from '../state-mark'
import { addWords, kindOf, kindWords } from '../words'

type Given = {
  params: Promise<{ kind: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

export async function generateMetadata({ params }: Given): Promise<Metadata> {
  const kind = kindOf((await params).kind)
  return { title: kind ? `Catalogue: ${kindWords[kind].many}` : 'Catalogue' }
}

/** All entries of one kind, to be found by their words; each opens to its page. */
export default async function CatalogueListPage({ params, searchParams }: Given) {
  const { store } = await openPage('/settings/catalogue/[kind]')
  const kind = kindOf((await params).kind) ?? notFound()
  const asked = (await searchParams).search
  const search = (typeof asked === 'string' ? asked : '').trim().slice(0, 80)
  const { all, entries, currency } = await readCatalogueList(store.db, { kind, search })
  const { many, title, one, says } = kindWords[kind]
  return (
    <main id="main" className="page">
      <PageHead
        title={title}
        sub={says}
        figure={{ label: search === '' ? `${many} in all` : `of ${all} found`, value: entries.length }}
        next={{ href: `/settings/catalogue/${many}/new`, label: addWords[kind] }}
      >
        <Link href={`/settings/catalogue/${many}/table`} className="tap">
          {title} as a table
        </Link>
      </PageHead>
      <SubNav label="Settings" entries={settingsEntries} current="/settings/catalogue" />
      <FindForm
        action={`/settings/catalogue/${many}`}
        label={`Find ${many}`}
        columns="sm:grid-cols-[1fr_auto]"
      >
        <FindWords typed={search} example="Words of its title" />
      </FindForm>
      <p role="status" className="text-soft">
        {entries.length === 0 ? 'Nothing fits this. Search for less.' : countOf(entries.length, one)}
      </p>
      {entries.length === 0 ? (
        <EmptyState
          title={`No ${one} has these words.`}
          action={
            <Link href={`/settings/catalogue/${many}`} className="btn-quiet">
              Show all
            </Link>
          }
        />
      ) : (
        <ul className="flex flex-col border-t-2 border-ink">
          {entries.map((entry) => (
            <Row key={entry.key} entry={entry} href={`/settings/catalogue/${many}/${entry.key}`}>
              {saysOf(kind, entry.entry, currency)}
            </Row>
          ))}
        </ul>
      )}
    </main>
  )
}

function Row({ entry, href, children }: { entry: EntryListed; href: string; children: string }) {
  return (
    <li className="grid items-center gap-x-6 gap-y-1 border-b border-rule py-2 sm:grid-cols-[1fr_auto]">
      <div className="min-w-0">
        <Link href={href} className="tap min-w-12 font-semibold">
          {entry.title}
        </Link>
        <p className="text-soft">{children}</p>
      </div>
      <StateMark state={entry.state} />
    </li>
  )
}
