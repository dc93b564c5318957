import type { Metadata } from 'next'
import Link from 'next/link'
import { modelAddress } from '../../../../../../lib/shop/model-address'
import {
  type ModelAsked,
  type ModelSheetCheck,
  readModelSheet,
  readModels,
} from '../../../../../../lib/shop/model-sheet'
import { found, openPage } from '../../../../../../lib/web/pages'
import { countOf } from '../../../../../_ui/formats'
import { PageHead } from '../../../../../_ui/page-head'
import { Sheet } from '../../../../../_ui/sheet'
import { SubNav } from '../../../../../_ui/sub-nav'
import { settingsEntries } from '../../../entries'
import { ModelList } from '../../model-list'
import { ImportForm } from './import-form'
import { ManyForm, type RowToFill } from './many-form'

export const metadata: Metadata = { title: 'Enter limits of a model' }

/** Many limits of one model at once: in rows, or out of a table. */
export default async function EnterModelLimits({ searchParams }: { searchParams: Promise<ModelAsked> }) {
  const context = await openPage('/settings/limits/model/enter')
  const asked = await searchParams
  if (!asked.make || !asked.model) {
    const models = await readModels(context.store.db)
    return (
      <main id="main" className="page">
        <PageHead
          title="Enter limits of a model"
          sub="Choose the model."
          figure={{ label: 'models', value: models.length }}
        />
        <SubNav label="Settings" entries={settingsEntries} current="/settings/limits" />
        <Sheet title="Models">
          <ModelList models={models} />
        </Sheet>
      </main>
    )
  }
  const sheet = await found(readModelSheet(context, asked))
  const { make, model, checks, seen } = sheet
  const missing = checks.flatMap((check) => rowsOf(check, check.missing))
  const general = checks
    .filter((check) => check.missing.length === 0)
    .flatMap((check) => rowsOf(check, check.unentered))
  const first = missing[0] ?? general[0]
  return (
    <main id="main" className="page">
      <PageHead
        title={`Enter limits of ${make} ${model}`}
        sub="Out of the maker’s sheet, as many as you have. Rows that stay empty are passed over; all the others are entered together or not at all."
        figure={{
          label: 'Still missing',
          value: checks.filter((check) => check.missing.length > 0).length,
          note: `of ${countOf(checks.length, 'check')}`,
        }}
        {...(first && { next: { href: `#${first.anchor}`, label: `Begin: ${first.title}` } })}
      >
        <Link className="tap" href={modelAddress(sheet)}>
          Back to the whole sheet
        </Link>
      </PageHead>
      <SubNav label="Settings" entries={settingsEntries} current="/settings/limits" />
      <Sheet
        title="Row by row"
        sub="A row holds at every place of its check unless it names one. Years, source and sheet hold for all rows."
      >
        <ManyForm model={{ make, model, seen }} missing={missing} general={general} />
      </Sheet>
      <Sheet
        title="Out of a table"
        sub="The table that the sheet gives away can be filled in elsewhere and read again. First you see what would change."
      >
        <ImportForm model={{ make, model }} back={modelAddress(sheet, '/settings/limits/model/enter')} />
      </Sheet>
    </main>
  )
}

function rowsOf(check: ModelSheetCheck, places: readonly (string | null)[]): RowToFill[] {
  const { key, title, units, positions, limits } = check
  return places.map((position, index) => ({
    name: `${key}--${position ?? 'all'}`,
    anchor: index === 0 ? key : `${key}--${position ?? 'all'}`,
    check: key,
    title,
    position,
    place: positions.find((one) => one.key === position)?.label ?? null,
    units,
    now: limits.flatMap(({ words }) => words ?? []).join('; ') || null,
  }))
}
