import type { Metadata } from 'next'
import { isOwnDevice, notOwnDevice } from '../../lib/shop/read-pack'
import { openPage } from '../../lib/web/pages'
import { AwayDesk } from './away-desk'
import { NothingKept } from './nothing-kept'

export const metadata: Metadata = { title: 'Away from the shop' }

/**
 * The page itself holds nothing of the shop and nobody's name, so that a phone may keep it: what it shows comes from
 * what the phone keeps, or is fetched. That is why it has no frame of the shop around it.
 */
export default async function AwayPage() {
  const context = await openPage('/away')
  const isOwn = await isOwnDevice(context)
  return (
    <main id="main" className="page">
      {isOwn ? <AwayDesk /> : <NothingKept says={notOwnDevice} />}
    </main>
  )
}
