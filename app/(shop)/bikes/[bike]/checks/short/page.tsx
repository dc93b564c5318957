import type { Metadata } from 'next'
import { readSheet } from '../../../../../../lib/shop/read-sheet'
import { mayDo } from '../../../../../../lib/shop/who-may'
import { found, openPage } from '../../../../../../lib/web/pages'
import { BikeNav } from '../../../_ui/bike-nav'
import { ShortRound } from './short-round'

export const metadata: Metadata = { title: 'Short round' }

export default async function ShortRoundPage({ params }: { params: Promise<{ bike: string }> }) {
  const context = await openPage('/bikes/[bike]/checks/short')
  const { bike } = await params
  const sheet = await found(readSheet(context, bike))
  const { viewingNo } = sheet.bike
  const { roles } = context.who
  return (
    <main id="main" className="page bench">
      <ShortRound
        sheet={sheet}
        nav={<BikeNav viewingNo={viewingNo} current="short" who={context.who} />}
        after={
          mayDo(roles, 'money:see')
            ? { href: `/bikes/${viewingNo}/deal`, label: 'Look at the deal' }
            : { href: `/bikes/${viewingNo}/checks`, label: 'On to the full sheet' }
        }
      />
    </main>
  )
}
