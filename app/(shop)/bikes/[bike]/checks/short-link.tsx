import Link from 'next/link'
import { shortRound } from '../../../../../lib/shop/round-progress'
import { countOf } from '../../../../_ui/formats'
import type { SeenRound } from './as-seen-here'

/** The way to the short round, and how much of it is left. */
export function ShortLink({ rounds, viewingNo }: { rounds: readonly SeenRound[]; viewingNo: number }) {
  const { rows, asked, minutesLeft } = shortRound(rounds.flatMap(({ checks }) => checks))
  if (rows.length === 0) return null
  const words =
    asked.length === 0
      ? `all ${countOf(rows.length, 'check')} answered`
      : asked.length === rows.length
        ? `${countOf(rows.length, 'check')}, about ${countOf(minutesLeft, 'minute')}`
        : `${asked.length} of ${countOf(rows.length, 'check')} left, about ${countOf(minutesLeft, 'minute')}`
  return (
    <p>
      <Link href={`/bikes/${viewingNo}/checks/short`} className="tap">
        Short round: {words}
      </Link>
    </p>
  )
}
