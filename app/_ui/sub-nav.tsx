import Link from 'next/link'
import { useId } from 'react'
import { NavIndex } from './nav-index'

/** From which width on an entry stands in the line; below it, it is in the index alone. */
type StandsFrom = 'phone' | 'wide-phone' | 'tablet' | 'desk'

export type NavEntry = {
  href: string
  label: string
  /** What it stands under in the index. */
  group?: string
  /** In the line at every width, where nothing else is said. */
  from?: StandsFrom
}

export const shownFrom: Record<StandsFrom, string> = {
  phone: '',
  'wide-phone': 'max-[23.5rem]:hidden',
  tablet: 'max-md:hidden',
  desk: 'max-lg:hidden',
}

/**
 * The pages of one thing in a single line; the open one is always in it, marked by a thick line as well as for
 * readers. Entries that a narrow screen has no room for are behind "Pages".
 */
export function SubNav({
  label,
  entries,
  current,
}: {
  label: string
  entries: readonly NavEntry[]
  /** The href of the page that is open. */
  current: string
}) {
  const index = useId()
  const line = entries.map((entry, no) => ({ ...entry, parted: no > 0 && startsGroup(entries, no) }))
  return (
    <nav
      aria-label={label}
      className="flex flex-wrap items-start justify-between border-b border-rule [div.bench_&]:gap-2"
    >
      {/* Gloves want room between two of them. */}
      <ul className="flex flex-wrap [div.bench_&]:gap-2">
        {line.map(({ href, label, from = 'phone', parted }) => (
          <li
            key={href}
            className={`${href === current ? '' : shownFrom[from]} ${
              parted ? 'lg:ml-2 lg:border-l lg:border-rule lg:pl-2' : ''
            }`}
          >
            <Link
              href={href}
              aria-current={href === current ? 'page' : undefined}
              className="tap min-w-(--target) justify-center border-y-4 border-transparent px-2 font-semibold text-ink
                no-underline hover:border-b-rule aria-[current=page]:border-b-accent lg:px-3 [div.bench_&]:px-1"
            >
              {label}
            </Link>
          </li>
        ))}
      </ul>
      <NavIndex id={index} entries={entries} current={current} />
    </nav>
  )
}

/** A group in the line is parted from the one before it. */
function startsGroup(entries: readonly NavEntry[], no: number): boolean {
  return entries[no]?.group !== entries[no - 1]?.group
}
