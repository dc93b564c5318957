import Link from 'next/link'

export type NavEntry = { href: string; label: string }

/** The pages of one thing, side by side; the open one is marked by a thick line as well as for readers. */
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
  return (
    <nav aria-label={label}>
      <ul className="flex flex-wrap gap-x-1 border-b border-rule">
        {entries.map(({ href, label }) => (
          <li key={href}>
            <Link
              href={href}
              aria-current={href === current ? 'page' : undefined}
              className="tap border-y-4 border-transparent px-3 font-semibold text-ink no-underline
                hover:border-b-rule aria-[current=page]:border-b-accent"
            >
              {label}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  )
}
