import type { Metadata } from 'next'
import { readTyre, type TyreRead, tyreAsked } from '../../../lib/shop/read-tyres'
import { openPage } from '../../../lib/web/pages'
import { formatNumber } from '../../_ui/formats'
import { Caution, EmptyState } from '../../_ui/notes'
import { PageHead } from '../../_ui/page-head'
import { DateSheet } from './date-sheet'
import { FitSheet } from './fit-sheet'
import { SizeSheet } from './size-sheet'
import { TyreForm } from './tyre-form'

export const metadata: Metadata = { title: 'Tyres' }

/** What stands on a side wall, in words. It reads and keeps nothing, so that it may be asked for any tyre. */
export default async function TyresPage({
  searchParams,
}: {
  searchParams: Promise<Record<string, string | string[] | undefined>>
}) {
  const context = await openPage('/tyres')
  const tyre = await readTyre(context, tyreAsked.parse(await searchParams))
  const { size, date, points, ages } = tyre
  const nothing = size.kind === 'empty' && date.kind === 'empty'
  return (
    <main id="main" className="page bench">
      <PageHead
        title="Read a tyre"
        sub="Size and date as they stand on the side wall, in words."
        figure={mainFigure(tyre)}
        next={
          size.kind === 'read' || date.kind === 'read'
            ? { href: '/bikes', label: 'Record it on a bike' }
            : undefined
        }
      />
      <TyreForm tyre={tyre} />
      {nothing && (
        <EmptyState title="Nothing is typed yet.">
          Read the size in large figures, and the date as the last group of the number behind DOT. It may
          stand on the other side of the tyre.
        </EmptyState>
      )}
      {(date.kind === 'read' || size.kind === 'read') && (
        <div className="grid items-start gap-6 lg:grid-cols-2">
          {(date.kind === 'read' || points.length > 0) && (
            <div className="flex flex-col gap-6">
              {date.kind === 'read' && <DateSheet read={date.found} ages={ages} />}
              {points.length > 0 && <FitSheet points={points} />}
            </div>
          )}
          {size.kind === 'read' && <SizeSheet size={size.found} />}
        </div>
      )}
      {!nothing && (
        <Caution title="a date and a size do not make a tyre good">
          Cracks, cuts, bulges and flat places end a tyre at any age. Which sizes may be fitted, and who may
          fit them, is for the model’s sheet, the bike’s papers and the law where you are.
        </Caution>
      )}
    </main>
  )
}

/** The age where there is one, else the size. */
function mainFigure({ date, size }: TyreRead) {
  if (date.kind === 'read') {
    const years = date.found.weeks.map(({ ageYears }) => ageYears)
    return {
      label: 'Age',
      value: `${years.length > 1 ? 'at least ' : ''}${formatNumber(Math.min(...years), 1)} years`,
    }
  }
  return size.kind === 'read' ? { label: 'Size', value: size.found.marking } : undefined
}
