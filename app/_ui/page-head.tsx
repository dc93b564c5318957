import Link from 'next/link'
import type { ReactNode } from 'react'
import { Figure, type FigureProps } from './figure'

/** The top of every page: what it is, its one main figure, and the one next step. */
export function PageHead({
  title,
  sub,
  figure,
  next,
  children,
}: {
  title: ReactNode
  sub?: ReactNode
  figure?: Omit<FigureProps, 'size'>
  next?: { href: string; label: string }
  /** Marks and further actions under the title. */
  children?: ReactNode
}) {
  return (
    <header className="flex flex-wrap items-start justify-between gap-x-8 gap-y-4">
      <div className="min-w-0 max-w-prose">
        <h1>{title}</h1>
        {sub && <p className="mt-1 text-soft">{sub}</p>}
        {children && <div className="mt-2 flex flex-wrap items-center gap-3">{children}</div>}
      </div>
      {(figure || next) && (
        <div className="flex flex-wrap items-end gap-x-6 gap-y-3">
          {figure && <Figure {...figure} size="main" />}
          {next && (
            <Link href={next.href} className="btn">
              {next.label}
            </Link>
          )}
        </div>
      )}
    </header>
  )
}
