import type { Metadata } from 'next'
import Link from 'next/link'

export const metadata: Metadata = { title: 'Not here' }

/** The same words for a page that is not there and for one that a role may not see. */
export default function NotFound() {
  return (
    <main id="main" className="notice">
      <h1>There is no such page here</h1>
      <p>The address may be mistyped, or it belongs to somebody with another role.</p>
      <p>
        <Link href="/">Back to the start</Link>
      </p>
    </main>
  )
}
