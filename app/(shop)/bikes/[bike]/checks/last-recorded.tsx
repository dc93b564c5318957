import type { CheckShown } from '../../../../../lib/shop/read-sheet'
import { VerdictMark } from '../../../../_ui/marks'
import type { SeenCheck } from './as-seen-here'
import { saysBeside } from './reading-words'

/** What was recorded last and what it came to, told aloud to readers; it leads back where it is another check. */
export function LastRecorded({
  row,
  current,
  onOpen,
}: {
  row: SeenCheck | null
  current: string | null
  onOpen: (check: CheckShown) => void
}) {
  const elsewhere = row !== null && row.check.key !== current
  return (
    <div
      className={
        elsewhere
          ? 'flex items-center justify-between gap-x-3 border-l-8 border-accent bg-wash py-1 pl-3'
          : undefined
      }
    >
      <p role="status" className={elsewhere ? 'min-w-0' : 'sr-only'}>
        {row && (
          <>
            Recorded: <strong>{row.check.title}</strong> <VerdictMark verdict={row.judgement.verdict} />{' '}
            <span className="sr-only">{saysBeside(row.judgement)}</span>
          </>
        )}
      </p>
      {elsewhere && (
        <button type="button" className="btn-quiet shrink-0" onClick={() => onOpen(row.check)}>
          Look again
        </button>
      )}
    </div>
  )
}
