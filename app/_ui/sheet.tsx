import type { ReactNode } from 'react'

/** A part of a page with its heading, on a sheet of its own. */
export function Sheet({
  title,
  id,
  sub,
  aside,
  children,
}: {
  title: ReactNode
  id?: string
  sub?: ReactNode
  /** Stands opposite the heading: a mark, a link, a small figure. */
  aside?: ReactNode
  children: ReactNode
}) {
  return (
    <section id={id} className="sheet">
      <div className="sheet-head flex flex-wrap items-end justify-between gap-x-4 gap-y-1">
        <div>
          <h2>{title}</h2>
          {sub && <p className="text-soft">{sub}</p>}
        </div>
        {/* What stands there may be as high as a finger; the heading keeps its place all the same. */}
        {aside && <div className="-my-2">{aside}</div>}
      </div>
      {children}
    </section>
  )
}
