import type { ReactNode } from 'react'
import type { LineShown } from '../../../lib/shop/read-parts'
import { formatMoney } from '../../_ui/formats'
import { BikeLink } from './bike-link'
import { SayOfLine } from './coming'
import { lineWords, pieces } from './parts-words'

/** Lines across bikes, each with its bike, its job and what may be said of it. */
export function LineList({
  lines,
  money,
  mayOrder,
}: {
  lines: readonly LineShown[]
  money: { unitMinor: ReadonlyMap<string, number | null>; currency: string } | null
  mayOrder: boolean
}) {
  return (
    <ul className="flex flex-col">
      {lines.map((line) => (
        <li key={line.id} className="border-b border-rule py-3 first:pt-0 last:border-0 last:pb-0">
          <LineHead
            line={line}
            aside={money && <Each minor={money.unitMinor.get(line.id) ?? null} currency={money.currency} />}
          />
          <p className="text-soft">
            {line.jobTitle}, <BikeLink bike={line.bike} />
          </p>
          <LineNotes line={line} />
          <div className="no-print mt-2 flex flex-col gap-2">
            <SayOfLine line={line} mayOrder={mayOrder} />
          </div>
        </li>
      ))}
    </ul>
  )
}

function LineHead({ line, aside }: { line: LineShown; aside: ReactNode }) {
  return (
    <div className="flex flex-wrap items-baseline justify-between gap-x-6">
      <h3>{pieces(line.part, line.qty)}</h3>
      {aside}
    </div>
  )
}

/** What is known of it, and what somebody wrote. */
export function LineNotes({ line }: { line: LineShown }) {
  return (
    <>
      <p>
        {line.overdue && <strong className="text-plum">Overdue. </strong>}
        {lineWords(line)}
      </p>
      {line.note && <p className="font-semibold">{line.note}</p>}
    </>
  )
}

export function Each({ minor, currency }: { minor: number | null; currency: string }) {
  return (
    <span className="num">
      {minor === null ? 'nobody asked the price' : `${formatMoney(minor, currency)} each`}
    </span>
  )
}
