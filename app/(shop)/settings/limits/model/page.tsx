import type { Metadata } from 'next'
import Link from 'next/link'
import { modelAddress } from '../../../../../lib/shop/model-address'
import {
  type ModelAsked,
  type ModelSheet,
  type ModelSheetCheck,
  readModelSheet,
  readModels,
} from '../../../../../lib/shop/model-sheet'
import { found, openPage } from '../../../../../lib/web/pages'
import { countOf, formatValue } from '../../../../_ui/formats'
import { Notice } from '../../../../_ui/notes'
import { PageHead } from '../../../../_ui/page-head'
import { Sheet } from '../../../../_ui/sheet'
import { sourceWords } from '../../../../_ui/source-words'
import { SubNav } from '../../../../_ui/sub-nav'
import { Word } from '../../../../_ui/word'
import { roundWords } from '../../../bikes/[bike]/checks/round-words'
import { settingsEntries } from '../../entries'
import { GoneLimits } from '../gone-limits'
import { ModelList } from '../model-list'

export const metadata: Metadata = { title: 'Limits of a model' }

const rounds = ['cold', 'stand', 'running', 'road'] as const

/** All limits of one model, to look at, print and take away as a table. Everybody at the bench may see it. */
export default async function ModelLimits({ searchParams }: { searchParams: Promise<ModelAsked> }) {
  const context = await openPage('/settings/limits/model')
  const asked = await searchParams
  if (!asked.make || !asked.model) {
    const models = await readModels(context.store.db)
    return (
      <main id="main" className="page">
        <PageHead
          title="Limits of a model"
          sub="Choose the model."
          figure={{ label: 'models', value: models.length }}
        />
        <Sheet title="Models">
          <ModelList models={models} />
        </Sheet>
      </main>
    )
  }
  const sheet = await found(readModelSheet(context, asked))
  return <SheetOfModel sheet={sheet} />
}

function SheetOfModel({ sheet }: { sheet: ModelSheet }) {
  const { make, model, year, checks, withLimit, onGeneral, mayChange } = sheet
  const missing = checks.filter((check) => check.missing.length > 0)
  const enter = modelAddress(sheet, '/settings/limits/model/enter')
  return (
    <main id="main" className="page">
      <PageHead
        title={`Limits of ${make} ${model}${year === null ? '' : `, ${year}`}`}
        sub={
          <>
            What holds for every bike of this model. A <Word name="limit" /> stamped on one bike’s part stands
            on that bike’s check sheet beside these, and of what is entered the narrowest counts.
          </>
        }
        figure={{
          label: 'Checks with a limit',
          value: `${withLimit} of ${checks.length}`,
          note: noteOf(missing.length, onGeneral),
        }}
        {...(mayChange &&
          missing[0] && {
            next: { href: `${enter}#${missing[0].key}`, label: `Enter: ${missing[0].title}` },
          })}
      />
      {mayChange && <SubNav label="Settings" entries={settingsEntries} current="/settings/limits" />}
      <div className="no-print flex flex-wrap items-center gap-x-6 gap-y-2">
        <a className="tap" href={modelAddress(sheet, '/api/v1/limits')} download>
          Take away as a table (CSV)
        </a>
        {mayChange && (
          <Link className="tap" href={enter}>
            Enter many, or read a table in
          </Link>
        )}
        <YearChoice sheet={sheet} />
      </div>
      {!sheet.known && (
        <Notice title="No bike of this model has been here">
          Its kind is not known, so every measured check is listed, also those its bikes may not have.
        </Notice>
      )}
      {rounds.map((round) => (
        <RoundTable
          key={round}
          title={roundWords[round].name}
          checks={checks.filter((one) => one.round === round)}
        />
      ))}
      {sheet.otherYears.length > 0 && (
        <Sheet title="Entered for other years" sub="They do not hold for the year of this sheet.">
          <ul className="flex flex-col gap-1">
            {sheet.otherYears.map(({ title, entry }) => (
              <li key={entry.id}>
                <strong>{title}</strong>, {entry.years}: {entry.figures}
              </li>
            ))}
          </ul>
        </Sheet>
      )}
      <GoneLimits gone={sheet.gone} zone={sheet.zone} />
    </main>
  )
}

function noteOf(missing: number, onGeneral: number): string {
  const parts = [
    missing > 0 && `${missing} set by model and not entered`,
    onGeneral > 0 && `${onGeneral} on a general figure`,
  ]
  return parts.filter(Boolean).join(', ')
}

function YearChoice({ sheet }: { sheet: ModelSheet }) {
  const others = sheet.years.filter((year) => year !== sheet.year)
  if (others.length === 0) return null
  return (
    <nav aria-label="Other years" className="flex flex-wrap items-center gap-x-4">
      <span className="text-soft">Other years:</span>
      {others.map((year) => (
        <Link key={year} className="tap px-1" href={modelAddress({ ...sheet, year })}>
          {year}
        </Link>
      ))}
    </nav>
  )
}

function RoundTable({ title, checks }: { title: string; checks: readonly ModelSheetCheck[] }) {
  if (checks.length === 0) return null
  return (
    <table className="ledger table-fixed">
      <caption>
        <h2 className="text-ink">{title} round</h2>
        {countOf(checks.length, 'measured check')}
      </caption>
      <thead>
        <tr>
          <th scope="col" className="w-2/5 sm:w-1/3">
            Check
          </th>
          <th scope="col">Holds now</th>
          <th scope="col" className="max-sm:hidden print:table-cell">
            From
          </th>
        </tr>
      </thead>
      <tbody>
        {checks.map((check) => (
          <CheckRow key={check.key} check={check} />
        ))}
      </tbody>
    </table>
  )
}

function CheckRow({ check }: { check: ModelSheetCheck }) {
  const { title, limits, overlap } = check
  return (
    <tr>
      <th scope="row">
        <span className="font-semibold">{title}</span>
      </th>
      <td>
        {limits.map(({ at, words, saleWords, limit }) => (
          <div key={at.join()} className="not-first:mt-2">
            {at.length > 0 && <p className="text-soft">{at.join(', ')}</p>}
            {words ? <p className="font-semibold">{words}</p> : <NotEntered />}
            {saleWords && <p>Sale line: {saleWords}</p>}
            {limit && limit.asNew !== null && <p>As new: {formatValue(limit.asNew, limit.unit)}</p>}
          </div>
        ))}
        {overlap.length > 0 && (
          <p className="mt-1 border-l-4 border-ochre pl-2">
            Entered for years that overlap:{' '}
            {overlap.map(({ years, figures }) => `${years || 'all years'}: ${figures}`).join('; ')}. The
            narrowest counts.
          </p>
        )}
        <div className="sm:hidden print:hidden">
          <Sources check={check} />
        </div>
      </td>
      <td className="max-sm:hidden print:table-cell">
        <Sources check={check} />
      </td>
    </tr>
  )
}

function NotEntered() {
  return (
    <p className="flex items-start gap-2">
      <svg aria-hidden="true" viewBox="0 0 16 16" width="16" height="16" className="mt-1 shrink-0">
        <rect
          x="1.5"
          y="1.5"
          width="13"
          height="13"
          fill="none"
          stroke="currentColor"
          strokeWidth="2"
          strokeDasharray="3 2"
        />
      </svg>
      Set by model, not entered
    </p>
  )
}

function Sources({ check: { limits } }: { check: ModelSheetCheck }) {
  const all = limits.flatMap(({ sources }) => sources.map(sourceWords))
  const said = [...new Set(all.map(({ lead, rest }) => (rest ? `${lead}: ${rest}` : lead)))]
  return said.map((words) => (
    <p key={words} className="text-sm text-soft">
      {words}
    </p>
  ))
}
