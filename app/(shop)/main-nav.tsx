'use client'

import Link from 'next/link'
import { usePathname } from 'next/navigation'
import { useId } from 'react'
import { NavIndex } from '../_ui/nav-index'
import { type NavEntry, shownFrom } from '../_ui/sub-nav'

/**
 * The way through the shop in one line; the page that is open, or the one above it, is in it and marked. What a narrow
 * screen has no room for is behind "More".
 */
export function MainNav({ entries }: { entries: readonly NavEntry[] }) {
  const index = useId()
  const current = entryOf(entries, usePathname())
  return (
    <nav aria-label="Shop" className="flex items-start justify-between">
      <ul className="flex flex-wrap lg:gap-x-1">
        {entries.map(({ href, label, from = 'phone' }) => (
          <li key={href} className={href === current ? '' : shownFrom[from]}>
            <Link
              href={href}
              aria-current={href === current ? 'page' : undefined}
              className="tap min-w-(--target) justify-center border-y-4 border-transparent px-1.5 font-semibold text-ink
                no-underline hover:border-b-edge aria-[current=page]:border-b-accent sm:px-2"
            >
              {label}
            </Link>
          </li>
        ))}
      </ul>
      <NavIndex id={index} entries={entries} current={current ?? ''} label="More" />
    </nav>
  )
}

/** The longest entry that the path lies under, so that /bikes/new is not /bikes. */
function entryOf(entries: readonly NavEntry[], path: string): string | undefined {
  return entries
    .map(({ href }) => href)
    .filter((href) => path === href || path.startsWith(`${href}/`))
    .sort((a, b) => b.length - a.length)[0]
}
