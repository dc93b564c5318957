import Link from 'next/link'
import type { NavEntry } from './sub-nav'

/**
 * Every page under what it is for. It is the browser's own popover, so it needs no script, takes no room until
 * it is asked for, and Escape or a tap beside it closes it. On a phone it comes up where the thumb is.
 */
export function NavIndex({
  id,
  entries,
  current,
  label: says = 'Pages',
}: {
  id: string
  entries: readonly NavEntry[]
  current: string
  label?: string
}) {
  const widest = entries.some(({ from }) => from === 'desk') ? 'lg:hidden' : 'md:hidden'
  if (entries.every(({ from = 'phone' }) => from === 'phone')) return null
  return (
    <div className={widest}>
      <button
        type="button"
        popoverTarget={id}
        className="tap cursor-pointer gap-1.5 border-y-4 border-transparent px-2 font-semibold whitespace-nowrap
          text-accent hover:border-b-rule"
      >
        {says}
        <svg aria-hidden="true" viewBox="0 0 12 12" width="12" height="12" className="shrink-0">
          <path d="M1 3.5l5 5 5-5" fill="none" stroke="currentColor" strokeWidth="2.2" />
        </svg>
      </button>
      <div popover="auto" id={id} className="nav-index">
        {groupsOf(entries).map(({ group, of }) => (
          <div key={group ?? ''}>
            {group && <p className="border-b border-ink text-sm text-soft">{group}</p>}
            <ul aria-label={group}>
              {of.map(({ href, label }) => (
                <li key={href} className="border-b border-rule last:border-0">
                  <Link
                    href={href}
                    aria-current={href === current ? 'page' : undefined}
                    className="tap w-full border-l-4 border-transparent px-2 font-semibold text-ink no-underline
                      hover:bg-wash aria-[current=page]:border-accent aria-[current=page]:bg-wash"
                  >
                    {label}
                  </Link>
                </li>
              ))}
            </ul>
          </div>
        ))}
      </div>
    </div>
  )
}

function groupsOf(entries: readonly NavEntry[]): { group: string | undefined; of: NavEntry[] }[] {
  const groups = [...new Set(entries.map(({ group }) => group))]
  return groups.map((group) => ({ group, of: entries.filter((entry) => entry.group === group) }))
}
