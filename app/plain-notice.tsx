import { cookies, headers } from 'next/headers'
import Link from 'next/link'
import { pageContext } from '../lib/web/pages'
import { isSecure, isThisMachine } from '../lib/web/scheme'
import { hideNoticeAddress, plainNoticeCookie, servedHere } from '../lib/web/served'

/**
 * One line on top where a page came over plain http from another machine: what does not work there and how to change
 * it. Put away, it stays away until the browser is closed; while the seller looks on it is not shown.
 */
export async function PlainNotice() {
  const [asked, jar] = [await headers(), await cookies()]
  if (isSecure((name) => asked.get(name)) || isThisMachine(asked.get('host'))) return null
  if (servedHere()?.trust || jar.has(plainNoticeCookie)) return null
  const { who } = await pageContext()
  if (who?.sellerSide) return null
  return (
    <aside
      aria-label="Connection"
      className="no-print flex flex-wrap items-center gap-x-4 border-b-2 border-ochre bg-ochre-wash px-4"
    >
      <p className="py-2">
        <strong>Plain http.</strong> Without a network this device keeps nothing, and others in this network
        could read along.
      </p>
      <span className="flex flex-wrap gap-x-4">
        <Link href="/trust" className="tap">
          How to switch to https
        </Link>
        {/* A plain link: it is answered by the server itself, which leads back to this page. */}
        <a href={hideNoticeAddress} className="tap">
          Hide this for now
        </a>
      </span>
    </aside>
  )
}
