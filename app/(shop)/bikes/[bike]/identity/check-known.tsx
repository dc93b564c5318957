import Link from 'next/link'
import type { CheckKnown } from '../../../../../lib/shop/read-identity'
import { VerdictMark } from '../../../../_ui/marks'

/** What the rounds already say of a point, so that nothing is asked twice unawares. */
export function ChecksKnown({ known, viewingNo }: { known: readonly CheckKnown[]; viewingNo: number }) {
  if (known.length === 0) return null
  return (
    <ul className="flex flex-col gap-1 border-l-4 border-rule pl-3">
      {known.map(({ check, title, verdict, says }) => (
        <li key={check} className="flex flex-wrap items-center gap-x-3">
          <span className="text-soft">From the rounds:</span>
          <Link href={`/bikes/${viewingNo}/checks?check=${encodeURIComponent(check)}`} className="tap">
            {title}
          </Link>
          {verdict !== 'not-judged' && <VerdictMark verdict={verdict} />}
          {verdict !== 'not-checked' && <span>{says}</span>}
        </li>
      ))}
    </ul>
  )
}
