'use client'

import Link from 'next/link'
import { usePathname } from 'next/navigation'

/** Stands above every page while the seller looks on. */
export function SellerSideBar() {
  const path = usePathname()
  const bike = /^\/bikes\/\d+(?=\/|$)/.exec(path)?.[0]
  return (
    <aside aria-label="Seller's side" className="no-print bg-ink text-sheet">
      <p className="mx-auto flex min-h-(--target) max-w-6xl flex-wrap items-center gap-x-6 px-4 sm:px-6">
        <strong>Seller&rsquo;s side.</strong>
        {bike && path !== `${bike}/offer` && (
          <Link href={`${bike}/offer`} className="tap text-sheet">
            The offer
          </Link>
        )}
        {path !== '/seller-side' && (
          <Link href={`/seller-side?from=${bike ?? ''}`} className="tap text-sheet">
            PIN to go on
          </Link>
        )}
      </p>
    </aside>
  )
}
