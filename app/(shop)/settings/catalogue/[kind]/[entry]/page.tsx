import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import type { Check } from '../../../../../../lib/core/checks/catalogue'
import { type EntryShown, readCatalogueEntry } from '../../../../../../lib/shop/read-catalogue'
import { found, openPage } from '../../../../../../lib/web/pages'
import { ActionForm } from '../../../../../_ui/action-form'
import { HiddenField, VersionField } from '../../../../../_ui/hidden-field'
import { Source } from '../../../../../_ui/notes'
import { PageHead } from '../../../../../_ui/page-head'
import { Sheet } from '../../../../../_ui/sheet'
import { SubNav } from '../../../../../_ui/sub-nav'
import { SubmitButton } from '../../../../../_ui/submit-button'
import { settingsEntries } from '../../../entries'
import {
  changeEntryAction,
  entryBackToStartAction,
  takeEntryOutAction,
  takeEntryUpAction,
} from '../../actions'
import { EntryFields } from '../../entry-fields'
import { saysOf } from '../../entry-says'
import { EntryHistory } from '../../history'
import { StateMark } from '../../state-mark'
import { kindOf, kindWords } from '../../words'

type Given = { params: Promise<{ kind: string; entry: string }> }

export async function generateMetadata({ params }: Given): Promise<Metadata> {
  const kind = kindOf((await params).kind)
  return { title: kind ? `Catalogue: one of the ${kindWords[kind].many}` : 'Catalogue' }
}

/** One entry: all that may be set of it, whose each value is, and everything that was done to it. */
export default async function CatalogueEntryPage({ params }: Given) {
  const { store } = await openPage('/settings/catalogue/[kind]/[entry]')
  const { kind: address, entry: key } = await params
  const kind = kindOf(address) ?? notFound()
  const shown = await found(readCatalogueEntry(store.db, { kind, key }))
  const { entry, state, version, currency } = shown
  const { many } = kindWords[kind]
  return (
    <main id="main" className="page">
      <PageHead
        title={entry.title}
        sub={saysOf(kind, entry, currency)}
        figure={{ label: 'Changes so far', value: shown.history.length }}
      >
        <StateMark state={state} />
        <Link href={`/settings/catalogue/${many}`} className="tap">
          All {many}
        </Link>
      </PageHead>
      <SubNav label="Settings" entries={settingsEntries} current="/settings/catalogue" />
      <div className="grid items-start gap-6 lg:grid-cols-[2fr_1fr]">
        <ActionForm
          action={changeEntryAction}
          label={entry.title}
          done="Saved. It holds for every bike from now on; offers that were made stay as they were."
          className="flex flex-col gap-6"
        >
          <HiddenField name="kind" value={kind} />
          <HiddenField name="key" value={key} />
          <VersionField version={version} />
          <EntryFields of={factsOf(shown)} />
          <div>
            <SubmitButton>Save</SubmitButton>
          </div>
        </ActionForm>
        <div className="flex flex-col gap-6">
          <Uses shown={shown} />
          <EntryHistory shown={shown} />
        </div>
      </div>
    </main>
  )
}

function factsOf(shown: EntryShown) {
  const { kind, entry, typed, starting, guarded, currency, titles, causes, cautions, instruments } = shown
  const check = kind === 'check' ? (entry as Check) : null
  return {
    ...{ kind, typed, starting, guarded, currency, titles, causes, cautions, instruments, shown },
    own: starting === null,
    sort: check?.sort ?? null,
    unit: check?.sort === 'measured' ? (check.limit?.unit ?? check.unit) : '',
  }
}

/** Where it is used, where it comes from, and what may be done with it as a whole. */
function Uses({ shown }: { shown: EntryShown }) {
  const { kind, key, entry, state, version, named, starting } = shown
  const { one } = kindWords[kind]
  const uses = [...new Map(named.map((by) => [`${by.kind} ${by.key}`, by])).values()]
  return (
    <Sheet title="Where it is used">
      <div className="flex flex-col gap-4">
        {uses.length === 0 ? (
          <p className="text-soft">Nothing else in the catalogue names it.</p>
        ) : (
          <ul className="flex flex-col">
            {uses.map((by) => (
              <li key={`${by.kind} ${by.key}`}>
                <Link href={`/settings/catalogue/${kindWords[by.kind].many}/${by.key}`} className="tap">
                  {kindWords[by.kind].one}: {by.title}
                </Link>
              </li>
            ))}
          </ul>
        )}
        {'source' in entry && <Source kind={entry.source.kind} says={entry.source.says} />}
        {state === 'out of use' ? (
          <ActionForm action={takeEntryUpAction} label={`Take up again: ${entry.title}`} done="In use again.">
            <OnEntry kind={kind} entry={key} version={version} />
            <p className="text-soft">It is no longer used. What was read and decided with it is kept.</p>
            <div>
              <SubmitButton look="quiet">Take this {one} up again</SubmitButton>
            </div>
          </ActionForm>
        ) : (
          <ActionForm
            action={takeEntryOutAction}
            label={`Take out of use: ${entry.title}`}
            done="No longer used."
          >
            <OnEntry kind={kind} entry={key} version={version} />
            <p className="text-soft">
              Out of use it stands on no bike any more. What was read with it is kept.
            </p>
            <div>
              <SubmitButton look="quiet">Take this {one} out of use</SubmitButton>
            </div>
          </ActionForm>
        )}
        {starting !== null && state !== 'starting' && (
          <ActionForm
            action={entryBackToStartAction}
            label={`Back to the starting values: ${entry.title}`}
            done="It has its starting values again."
          >
            <OnEntry kind={kind} entry={key} version={version} />
            <div>
              <SubmitButton look="quiet">Back to the starting values</SubmitButton>
            </div>
          </ActionForm>
        )}
      </div>
    </Sheet>
  )
}

function OnEntry({ kind, entry, version }: { kind: string; entry: string; version: number }) {
  return (
    <>
      <HiddenField name="kind" value={kind} />
      <HiddenField name="key" value={entry} />
      <VersionField version={version} />
    </>
  )
}
