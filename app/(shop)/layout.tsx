import Link from 'next/link'
import type { ReactNode } from 'react'
import { mayDo } from '../../lib/shop/who-may'
import { pageContext } from '../../lib/web/pages'
import { LookSwitch } from '../_ui/look-switch'
import { entriesFor } from './entries'
import { KeepPages } from './keep-pages'
import { MainNav } from './main-nav'
import { SameSide } from './seller-side/same-side'
import { SellerSideBar } from './seller-side/seller-side-bar'
import { SellerSideButton } from './seller-side/seller-side-button'
import { SignOut } from './sign-out'

/** So many entries stand beside the name of the shop; more of them have a line of their own. */
const oneLine = 5

/**
 * The frame around everything behind sign-in. It shows and decides nothing: each page asks for itself who may
 * see it. Where a technician stands, everything a finger must hit is made for gloves.
 */
export default async function ShopLayout({ children }: { children: ReactNode }) {
  const { who, store } = await pageContext()
  const shop = await store.db.shop.findFirst({ select: { name: true } })
  if (!who || !shop) return children
  const entries = entriesFor(who.roles)
  return (
    <div className={`flex min-h-dvh flex-col ${who.roles.includes('technician') ? 'bench' : ''}`}>
      {who.sellerSide && <SellerSideBar />}
      <SameSide sellerSide={who.sellerSide === true} />
      <KeepPages person={who.personId} />
      <header className="no-print border-b-2 border-ink bg-sheet">
        <div className="mx-auto flex max-w-6xl flex-wrap items-center gap-x-2 px-1 sm:px-3 lg:gap-x-4">
          <Link
            href="/"
            className="tap min-w-26 flex-1 px-3 font-serif leading-tight font-semibold text-ink no-underline sm:flex-none sm:text-lg"
          >
            {shop.name}
          </Link>
          <div
            className={`order-last basis-full ${entries.length <= oneLine ? 'sm:order-none sm:basis-auto' : ''}`}
          >
            <MainNav entries={entries} />
          </div>
          <div className="ml-auto flex flex-wrap items-center gap-x-2 px-1 sm:px-3">
            {mayDo(who.roles, 'seller-side:start') && <SellerSideButton />}
            <span className="text-soft max-lg:sr-only">{who.name}</span>
            <SignOut person={who.personId} />
          </div>
        </div>
      </header>
      <div className="grow">{children}</div>
      <footer className="no-print mx-auto flex w-full max-w-6xl flex-wrap gap-x-6 px-4 pb-4 sm:px-6">
        {mayDo(who.roles, 'viewing:take-in') && (
          // Loaded whole: it has no frame of the shop around it, and stands by itself without a network.
          <a href="/away" className="tap">
            Away from the shop
          </a>
        )}
        <Link href="/tyres" className="tap">
          Read a tyre
        </Link>
        <Link href="/words" className="tap">
          The words of this tool
        </Link>
        <Link href="/device" className="tap">
          This device
        </Link>
        <LookSwitch />
      </footer>
    </div>
  )
}
