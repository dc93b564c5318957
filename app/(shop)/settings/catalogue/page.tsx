import type { Metadata } from 'next'
import Link from 'next/link'
import { readCatalogueOverview } from '../../../../lib/shop/read-catalogue'
import { openPage } from '../../../../lib/web/pages'
import { countOf } from '../../../_ui/formats'
import { PageHead } from '../../../_ui/page-head'
import { Sheet } from '../../../_ui/sheet'
import { SubNav } from '../../../_ui/sub-nav'
import { settingsEntries } from '../entries'
import { addWords, kindWords } from './words'

export const metadata: Metadata = { title: 'Catalogue' }

/** Everything the shop works by, kind by kind, and how much of it is the shop's own. */
export default async function CataloguePage() {
  const { store } = await openPage('/settings/catalogue')
  const { kinds, problems } = await readCatalogueOverview(store.db)
  const all = kinds.reduce((sum, kind) => sum + kind.all, 0)
  const set = kinds.reduce((sum, kind) => sum + kind.changed + kind.own, 0)
  return (
    <main id="main" className="page">
      <PageHead
        title="Catalogue"
        sub="What the shop checks, what can be wrong, and the work that puts it right. The shop’s own values cover the starting values; an offer that was made stays as it was."
        figure={{ label: 'Set by the shop', value: `${set} of ${all}` }}
        next={{ href: '/settings/catalogue/checks', label: 'Open the checks' }}
      />
      <SubNav label="Settings" entries={settingsEntries} current="/settings/catalogue" />
      {problems.length > 0 && (
        <Sheet
          title="Does not hold together"
          sub="Put these right: what they name cannot be found or counted."
        >
          <ul className="flex flex-col">
            {problems.map(({ kind, key, field, title, says }) => (
              <li key={`${kind} ${key} ${field} ${says}`} className="border-b border-rule py-2 last:border-0">
                <Link href={`/settings/catalogue/${kindWords[kind].many}/${key}`} className="tap">
                  {title}
                </Link>
                <p>{says}</p>
              </li>
            ))}
          </ul>
        </Sheet>
      )}
      <div className="grid items-start gap-6 md:grid-cols-2">
        {kinds.map(({ kind, all: count, changed, own, outOfUse }) => {
          const { one, many, title, says } = kindWords[kind]
          return (
            <Sheet key={kind} title={title} sub={says}>
              <p>
                {countOf(count, one)} in use: {changed} set by the shop, {own} of its own
                {outOfUse > 0 && `; ${outOfUse} no longer used`}.
              </p>
              <ul className="flex flex-wrap gap-x-5">
                <li>
                  <Link href={`/settings/catalogue/${many}`} className="tap">
                    All {many}
                  </Link>
                </li>
                <li>
                  <Link href={`/settings/catalogue/${many}/new`} className="tap">
                    {addWords[kind]}
                  </Link>
                </li>
                <li>
                  <Link href={`/settings/catalogue/${many}/table`} className="tap">
                    {title} as a table
                  </Link>
                </li>
              </ul>
            </Sheet>
          )
        })}
      </div>
    </main>
  )
}
