import type { Metadata } from 'next'
import { type Round, rounds } from '../../../../../lib/core/checks/catalogue'
import { readDistanceTold } from '../../../../../lib/shop/distances'
import { readSheet } from '../../../../../lib/shop/read-sheet'
import { found, openPage } from '../../../../../lib/web/pages'
import { BikeNav } from '../../_ui/bike-nav'
import { CheckSheet } from './check-sheet'

export const metadata: Metadata = { title: 'Checks' }

export default async function ChecksPage({
  params,
  searchParams,
}: {
  params: Promise<{ bike: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}) {
  const context = await openPage('/bikes/[bike]/checks')
  const { bike } = await params
  const { round, check } = await searchParams
  const sheet = await found(readSheet(context, bike))
  const distance = await readDistanceTold(context.store.db, sheet.bike.id)
  return (
    <main id="main" className="page bench">
      <CheckSheet
        sheet={sheet}
        distance={distance}
        nav={<BikeNav viewingNo={sheet.bike.viewingNo} current="checks" who={context.who} />}
        start={{
          round: rounds.find((one): one is Round => one === round) ?? null,
          check: typeof check === 'string' ? check : null,
        }}
      />
    </main>
  )
}
