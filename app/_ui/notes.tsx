import type { ReactNode } from 'react'
import { sourceWords } from './source-words'

/** Where work can hurt: said before the work, never hidden behind a tap. */
export function Caution({ title, children }: { title: string; children: ReactNode }) {
  return (
    <aside className="flex gap-3 border-2 border-ochre bg-ochre-wash p-3">
      <CautionShape size={32} />
      <div className="min-w-0">
        <p className="font-semibold">Caution: {title}</p>
        <div>{children}</div>
      </div>
    </aside>
  )
}

/** Cautions whose words stand further up on the same page. */
export function CautionAgain({ titles }: { titles: readonly string[] }) {
  return (
    <p className="flex items-center gap-3 border-2 border-ochre bg-ochre-wash px-3 py-2">
      <CautionShape size={24} />
      <span className="min-w-0">
        <strong>Caution, as said above:</strong> {titles.join('; ')}.
      </span>
    </p>
  )
}

function CautionShape({ size }: { size: number }) {
  return (
    <svg aria-hidden="true" viewBox="0 0 24 24" width={size} height={size} className="shrink-0 text-ochre">
      <path d="M12 2.5 22.5 21h-21Z" fill="none" stroke="currentColor" strokeWidth="2.2" />
      <path d="M12 9v6m0 2.2v1.6" stroke="currentColor" strokeWidth="2.2" />
    </svg>
  )
}

/** Where a figure or a rule comes from. */
export function Source({ kind, says }: { kind: string; says: string }) {
  const { lead, rest } = sourceWords({ kind, says })
  return (
    <p className="text-sm text-soft">
      <span className="font-semibold">{rest ? `${lead}:` : `${lead}.`}</span> {rest}
    </p>
  )
}

/** A plain remark: something is being worked out, rests on starting values, or is only a demo. */
export function Notice({ title, children }: { title?: string; children: ReactNode }) {
  return (
    <div role="note" className="border-l-8 border-accent bg-wash p-3">
      {title && <p className="font-semibold">{title}</p>}
      <div>{children}</div>
    </div>
  )
}

/** Nothing here yet, and what to do about it. */
export function EmptyState({
  title,
  action,
  children,
}: {
  title: string
  action?: ReactNode
  children?: ReactNode
}) {
  return (
    <div className="flex flex-col items-start gap-3 border-2 border-dashed border-edge p-5">
      <p className="font-serif text-xl font-semibold">{title}</p>
      {children && <div className="text-soft">{children}</div>}
      {action}
    </div>
  )
}
