import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import type { Check } from '../../../../../../lib/core/checks/catalogue'
import type { EntryKind } from '../../../../../../lib/core/checks/catalogue-problems'
import { typedWhole } from '../../../../../../lib/shop/catalogue-typed'
import { readCatalogueChoices } from '../../../../../../lib/shop/read-catalogue'
import { openPage } from '../../../../../../lib/web/pages'
import { ActionForm } from '../../../../../_ui/action-form'
import { HiddenField } from '../../../../../_ui/hidden-field'
import { Caution } from '../../../../../_ui/notes'
import { PageHead } from '../../../../../_ui/page-head'
import { Sheet } from '../../../../../_ui/sheet'
import { SubNav } from '../../../../../_ui/sub-nav'
import { SubmitButton } from '../../../../../_ui/submit-button'
import { settingsEntries } from '../../../entries'
import { addEntryAction } from '../../actions'
import { EntryFields } from '../../entry-fields'
import { addWords, kindOf, kindWords, sortWords } from '../../words'

type Given = {
  params: Promise<{ kind: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

export async function generateMetadata({ params }: Given): Promise<Metadata> {
  const kind = kindOf((await params).kind)
  return { title: kind ? addWords[kind] : 'Catalogue' }
}

/** An entry of the shop's own. */
export default async function NewEntryPage({ params, searchParams }: Given) {
  const { store } = await openPage('/settings/catalogue/[kind]/new')
  const kind = kindOf((await params).kind) ?? notFound()
  const asked = (await searchParams).sort
  const sort = (Object.keys(sortWords) as Check['sort'][]).find((one) => one === asked) ?? null
  return (
    <main id="main" className="page">
      <PageHead title={addWords[kind]} sub={kindWords[kind].says}>
        <Link href={`/settings/catalogue/${kindWords[kind].many}`} className="tap">
          All {kindWords[kind].many}
        </Link>
      </PageHead>
      <SubNav label="Settings" entries={settingsEntries} current="/settings/catalogue" />
      {kind === 'check' && sort === null ? (
        <Sheet title="What sort of check is it?">
          <ul className="grid gap-3 sm:grid-cols-2">
            {Object.entries(sortWords).map(([one, { title, says }]) => (
              <li key={one}>
                <Link href={`/settings/catalogue/checks/new?sort=${one}`} className="tap font-semibold">
                  {title}
                </Link>
                <p className="text-soft">{says}</p>
              </li>
            ))}
          </ul>
        </Sheet>
      ) : (
        <NewEntryForm kind={kind} sort={sort} choices={await readCatalogueChoices(store.db)} />
      )}
    </main>
  )
}

type Choices = Awaited<ReturnType<typeof readCatalogueChoices>>

function NewEntryForm({
  kind,
  sort,
  choices,
}: {
  kind: EntryKind
  sort: Check['sort'] | null
  choices: Choices
}) {
  const typed = { ...typedWhole(kind, {}), fasteners: 'yes' }
  const of = {
    ...choices,
    kind,
    sort,
    typed,
    starting: null,
    shown: null,
    own: true,
    guarded: false,
    unit: '',
  }
  return (
    <ActionForm action={addEntryAction} label={addWords[kind]} className="flex flex-col gap-6">
      <HiddenField name="kind" value={kind} />
      {sort !== null && <HiddenField name="sort" value={sort} />}
      {kind !== 'operation' && (
        <Caution title="it will be followed as it is written">
          Where fuel, brakes, lifts, running engines, acid or coatings are worked with, say so in its
          sentences and tick the cautions. Keep to the maker’s instructions and the law where you are.
        </Caution>
      )}
      <EntryFields of={of} />
      <div>
        <SubmitButton>{addWords[kind]}</SubmitButton>
      </div>
    </ActionForm>
  )
}
