import type { Metadata } from 'next'
import { uuidv7 } from 'uuidv7'
import { limitsGone } from '../../../../lib/shop/limit-history'
import { modelAddress } from '../../../../lib/shop/model-address'
import { readModels } from '../../../../lib/shop/model-sheet'
import { type LimitListed, readLimits } from '../../../../lib/shop/read-settings'
import { openPage } from '../../../../lib/web/pages'
import { ActionForm } from '../../../_ui/action-form'
import { formatValue } from '../../../_ui/formats'
import { HiddenField, VersionField } from '../../../_ui/hidden-field'
import { EmptyState } from '../../../_ui/notes'
import { PageHead } from '../../../_ui/page-head'
import { Sheet } from '../../../_ui/sheet'
import { SubNav } from '../../../_ui/sub-nav'
import { SubmitButton } from '../../../_ui/submit-button'
import { Word } from '../../../_ui/word'
import { settingsEntries } from '../entries'
import { withdrawLimitAction } from './actions'
import { GoneLimits } from './gone-limits'
import { LimitForm } from './limit-form'
import { ModelList } from './model-list'

export const metadata: Metadata = { title: 'Limits' }

/** Limits that somebody entered for a model or for every bike; those of one bike stand on its check sheet. */
export default async function Limits() {
  const { store } = await openPage('/settings/limits')
  const { limits, checks } = await readLimits(store.db)
  const [models, gone, { zone }] = await Promise.all([
    readModels(store.db),
    limitsGone(store.db, 'all'),
    store.db.shop.findFirstOrThrow({ select: { zone: true } }),
  ])
  // The model that most bikes here wait on: entered once, its limits serve every one of them.
  const bare = models.filter(({ entries }) => entries === 0).sort((a, b) => b.bikes - a.bikes)[0]
  return (
    <main id="main" className="page">
      <PageHead
        title="Limits"
        sub={
          <>
            A <Word name="limit" /> entered here is held against every new and old reading. What is stamped on
            a part is entered on the bike’s check sheet; of all that is entered the narrowest counts.
          </>
        }
        figure={{ label: 'Limits entered', value: limits.length }}
        {...(bare && {
          next: {
            href: modelAddress(bare, '/settings/limits/model/enter'),
            label: `Enter those of ${bare.make} ${bare.model}`,
          },
        })}
      />
      <SubNav label="Settings" entries={settingsEntries} current="/settings/limits" />
      <Sheet
        title="Model by model"
        sub="The whole sheet of each: to look at, print, fill in, or take away as a table."
      >
        <ModelList models={models} />
      </Sheet>
      <div className="grid items-start gap-6 lg:grid-cols-2">
        <Sheet title="Entered">
          {limits.length === 0 ? (
            <EmptyState title="None yet">
              Checks with a general limit are judged by that; the others are not judged until a limit is
              entered.
            </EmptyState>
          ) : (
            <ul className="flex flex-col">
              {limits.map((limit) => (
                <LimitEntry key={limit.id} limit={limit} />
              ))}
            </ul>
          )}
        </Sheet>
        <Sheet title="Enter a limit">
          <LimitForm id={uuidv7()} checks={checks} />
        </Sheet>
      </div>
      <GoneLimits gone={gone} zone={zone} />
    </main>
  )
}

function LimitEntry({ limit }: { limit: LimitListed }) {
  return (
    <li className="flex flex-wrap items-start justify-between gap-3 border-b border-rule py-3 last:border-0">
      <div>
        <p className="font-semibold">
          {limit.title}
          {limit.position && `, ${limit.position}`}
        </p>
        <p>{figuresOf(limit)}</p>
        <p className="text-soft">
          {holdsFor(limit)} · {limit.source}
          {limit.note && `: ${limit.note}`}
        </p>
      </div>
      <ActionForm action={withdrawLimitAction} label={`Withdraw the limit of ${limit.title}`}>
        <HiddenField name="limit" value={limit.id} />
        <VersionField version={limit.version} />
        <SubmitButton look="quiet">Withdraw</SubmitButton>
      </ActionForm>
    </li>
  )
}

function figuresOf({ min, max, asNew, saleMin, saleMax, unit }: LimitListed): string {
  const parts: [string, number | null][] = [
    ['at least', min],
    ['at most', max],
    ['sale line at least', saleMin],
    ['sale line at most', saleMax],
    ['as new', asNew],
  ]
  return parts
    .flatMap(([word, value]) => (value === null ? [] : `${word} ${formatValue(value, unit)}`))
    .join(', ')
}

function holdsFor({ model }: LimitListed): string {
  if (!model) return 'every bike'
  const { make, model: name, yearFrom, yearTo } = model
  const years = yearFrom === yearTo ? (yearFrom ?? '') : `${yearFrom ?? '…'} to ${yearTo ?? '…'}`
  return `${make} ${name} ${years}`.trim()
}
